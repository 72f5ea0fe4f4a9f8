package structure

import (
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/loadpath"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// placed is a fork at one stance: the positions of its points and the directions of its members.
type placed[T kinematics.Scalar] struct {
	state  *stance.State[T]
	places []plane.Vec[T] // by point
	along  []plane.Vec[T] // unit vector of each member, from its start to its end
}

// statics is one worker's memory for the forces in one fork. Slices are by body, joint, node and
// member of the load path.
type statics[T kinematics.Scalar] struct {
	path   *loadpath.Path
	loads  []mechanism.Load[T] // by body
	pins   []mechanism.Load[T] // by joint, on its second body; of a slide at last the force of the bush that bears more
	nodes  []mechanism.Load[T]
	onBody []mechanism.Load[T] // by body: of a pin through three or more
	bushes []bushes[T]         // by slide
	sides  []sideLoad[T]
}

// internal are the internal forces of a member in the plane, on one side of the fork: the axial force in N, tension positive, and the bending moments at its start and end in N·mm.
type internal[T kinematics.Scalar] struct{ axial, start, end T }

func (st *statics[T]) set(p *loadpath.Path) {
	st.path = p
	st.loads = plane.Resize(st.loads, len(p.Mechanism.Bodies))
	st.onBody = plane.Resize(st.onBody, len(p.Mechanism.Bodies))
	st.pins = plane.Resize(st.pins, len(p.Joints))
	st.bushes = plane.Resize(st.bushes, len(p.Slides))
	st.nodes = plane.Resize(st.nodes, len(p.Members)+len(p.Mechanism.Bodies))
	st.sides = plane.Resize(st.sides, len(p.Members)+len(p.Mechanism.Bodies))
}

// at places a fork. lengths are the inverse lengths of the members in 1/mm.
func (sd *placed[T]) at(p *loadpath.Path, state *stance.State[T], layout []plane.Vec[T], lengths []T) {
	sd.state = state
	sd.places = mechanism.Positions(p.Mechanism, sd.places[:0], state, layout)
	sd.along = plane.Resize(sd.along, len(p.Members))
	for i, mb := range p.Members {
		sd.along[i] = sd.places[mb.To].Minus(sd.places[mb.From]).Times(lengths[i])
	}
	sd.straighten(p)
}

// solve finds the loads in the joints under what is applied in the plane. It returns the force of the shocks in N,
// compression positive.
func (st *statics[T]) solve(sd *placed[T], a *loads.Applied[T]) T {
	p := st.path
	clear(st.loads)
	clear(st.nodes)
	axle := sd.places[p.Hub]
	st.apply(p.Mechanism.Wheel(), p.Axle, mechanism.Load[T]{Force: a.Force, Moment: axle.Cross(a.Force)})
	st.apply(p.Mechanism.Brake(), p.Caliper, mechanism.Load[T]{Moment: a.Couple})
	push := loads.ShockPush(a, sd.state)
	st.balance(sd, push)
	return push
}

// balance finds the loads in the joints under what was applied and a force of the shocks.
func (st *statics[T]) balance(sd *placed[T], push T) {
	p := st.path
	st.shock(sd, push)
	mechanism.JointLoads(p.Mechanism, st.pins, st.loads, sd.places)
	for i, n := range p.Joints {
		by := st.pins[i]
		st.addAtNode(n[1], by)
		st.addAtNode(n[0], turned(by))
	}
	st.bearSlides(sd)
}

func turned[T kinematics.Scalar](l mechanism.Load[T]) mechanism.Load[T] {
	return mechanism.Load[T]{Force: plane.Vec[T]{Along: -l.Force.Along, Ahead: -l.Force.Ahead}, Moment: -l.Moment}
}

func (st *statics[T]) apply(body, node int, l mechanism.Load[T]) {
	st.loads[body].Add(l)
	st.addAtNode(node, l)
}

func (st *statics[T]) addAtNode(n int, l mechanism.Load[T]) {
	if n >= 0 {
		st.nodes[n].Add(l)
	}
}

// shock applies the force of the shocks at their eyes.
func (st *statics[T]) shock(sd *placed[T], push T) {
	m := st.path.Mechanism
	upper, a := m.ShockEnd(0)
	lower, b := m.ShockEnd(1)
	force := sd.places[b].Minus(sd.places[a]).Times(push / sd.state.ShockMM)
	l := mechanism.Load[T]{Force: force, Moment: sd.places[a].Cross(force)}
	st.apply(lower, st.path.Eyes[1], l)
	st.apply(upper, st.path.Eyes[0], turned(l))
}

// planar are the forces in one side of a fork under a load in its plane.
type planar[T kinematics.Scalar] struct {
	internal []internal[T]  // by member
	pins     []plane.Vec[T] // by joint, on the body that turns on the pivot's shaft, N
	passes   []plane.Vec[T] // by shaft that crosses the mid-plane: on this side, there, N
	push     T              // of the shock, N
	couple   plane.Vec[T]   // by a shock beside the mid-plane on its lower eye, about the origin, out of the plane, N·mm
}

// take takes over the share of one side in the forces that the statics found last.
func (f *planar[T]) take(st *statics[T], sd *placed[T], shaftBodies [][2]int, push, share T) {
	f.internal, f.pins, f.push = plane.Resize(f.internal, len(st.path.Members)), plane.Resize(f.pins, len(st.pins)), push*share
	st.accumulate()
	for i := range f.internal {
		l, mb := st.nodes[i], &st.path.Members[i]
		f.internal[i] = internal[T]{
			axial: l.Force.Dot(sd.along[i]) * share,
			start: l.About(sd.places[mb.From]) * share, end: l.About(sd.places[mb.To]) * share,
		}
	}
	st.onTurningBodies(shaftBodies)
	for j := range f.pins {
		f.pins[j] = st.pins[j].Force.Times(share)
	}
}

// accumulate sums the loads along each body's tree of members, from its ends to its root.
func (st *statics[T]) accumulate() {
	for i := len(st.path.Members) - 1; i >= 0; i-- {
		st.nodes[st.path.From[i]].Add(st.nodes[i])
	}
}

// worst is the demand on the more heavily loaded tube of a member when that many tubes share the load in the plane; the
// torque of a brake on one side adds half of itself to that side.
func (in *internal[T]) worst(tubes float64, wound T) parts.Demand[T] {
	share := kinematics.Lift[T](2 / tubes)
	d := parts.Demand[T]{Axial: kinematics.Abs(in.axial) * share}
	d.Bending = scalar.Higher(kinematics.Abs(in.start), kinematics.Abs(in.end)) * share
	if kinematics.Real(in.axial) < 0 {
		d.Compression = d.Axial
	}
	if tubes == 2 {
		d.Bending += wound * 0.5
	}
	return d
}

// onTurningBodies converts the loads in the joints to those on the bodies that turn on the pivots' shafts.
func (st *statics[T]) onTurningBodies(couples [][2]int) {
	for i := range st.path.Pivots {
		pin := &st.path.Pivots[i]
		if len(pin.Joints) == 0 {
			continue
		}
		if j := pin.Joints[0]; len(pin.Joints) == 1 {
			if _, b, _ := st.path.Mechanism.Joint(j); couples[j][1] != b {
				st.pins[j] = turned(st.pins[j])
			}
			continue
		}
		for _, b := range pin.Bodies {
			st.onBody[b] = mechanism.Load[T]{}
		}
		for _, j := range pin.Joints {
			a, b, _ := st.path.Mechanism.Joint(j)
			st.onBody[b].Add(st.pins[j])
			st.onBody[a].Add(turned(st.pins[j]))
		}
		for _, j := range pin.Joints {
			st.pins[j] = st.onBody[couples[j][1]]
		}
	}
}
