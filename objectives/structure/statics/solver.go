package statics

import (
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/objectives/structure/loadpath"
	"forkfront/objectives/structure/loads"
)

// Solver is one worker's memory for the forces in one fork. Slices are by body, joint, node and
// member of the load path.
type Solver[T kinematics.Scalar] struct {
	path   *loadpath.Path
	loads  []mechanism.Load[T] // by body
	Pins   []mechanism.Load[T] // by joint, on its second body; of a slide at last the force of the bush that bears more
	nodes  []mechanism.Load[T]
	onBody []mechanism.Load[T] // by body: of a pin through three or more
	Bushes []BushForces[T]     // by slide
	sides  []sideLoad[T]
}

// Set makes a load path the current one.
func (st *Solver[T]) Set(p *loadpath.Path) {
	st.path = p
	st.loads = plane.Resize(st.loads, len(p.Mechanism.Bodies))
	st.onBody = plane.Resize(st.onBody, len(p.Mechanism.Bodies))
	st.Pins = plane.Resize(st.Pins, len(p.Joints))
	st.Bushes = plane.Resize(st.Bushes, len(p.Slides))
	st.nodes = plane.Resize(st.nodes, len(p.Members)+len(p.Mechanism.Bodies))
	st.sides = plane.Resize(st.sides, len(p.Members)+len(p.Mechanism.Bodies))
}

// Solve finds the loads in the joints under what is applied in the plane. It returns the force of the shocks in N,
// compression positive.
func (st *Solver[T]) Solve(sd *Placed[T], a *loads.Applied[T]) T {
	p := st.path
	clear(st.loads)
	clear(st.nodes)
	axle := sd.Places[p.Hub]
	st.apply(p.Mechanism.Wheel(), p.Axle, mechanism.Load[T]{Force: a.Force, Moment: axle.Cross(a.Force)})
	st.apply(p.Mechanism.Brake(), p.Caliper, mechanism.Load[T]{Moment: a.Couple})
	push := loads.ShockPush(a, sd.State)
	st.balance(sd, push)
	return push
}

// balance finds the loads in the joints under what was applied and a force of the shocks.
func (st *Solver[T]) balance(sd *Placed[T], push T) {
	p := st.path
	st.shock(sd, push)
	mechanism.JointLoads(p.Mechanism, st.Pins, st.loads, sd.Places)
	for i, n := range p.Joints {
		by := st.Pins[i]
		st.addAtNode(n[1], by)
		st.addAtNode(n[0], turned(by))
	}
	st.bearSlides(sd)
}

func turned[T kinematics.Scalar](l mechanism.Load[T]) mechanism.Load[T] {
	return mechanism.Load[T]{Force: plane.Vec[T]{Along: -l.Force.Along, Ahead: -l.Force.Ahead}, Moment: -l.Moment}
}

func (st *Solver[T]) apply(body, node int, l mechanism.Load[T]) {
	st.loads[body].Add(l)
	st.addAtNode(node, l)
}

func (st *Solver[T]) addAtNode(n int, l mechanism.Load[T]) {
	if n >= 0 {
		st.nodes[n].Add(l)
	}
}

// shock applies the force of the shocks at their eyes.
func (st *Solver[T]) shock(sd *Placed[T], push T) {
	m := st.path.Mechanism
	upper, a := m.ShockEnd(0)
	lower, b := m.ShockEnd(1)
	force := sd.Places[b].Minus(sd.Places[a]).Times(push / sd.State.ShockMM)
	l := mechanism.Load[T]{Force: force, Moment: sd.Places[a].Cross(force)}
	st.apply(lower, st.path.Eyes[1], l)
	st.apply(upper, st.path.Eyes[0], turned(l))
}

// accumulate sums the loads along each body's tree of members, from its ends to its root.
func (st *Solver[T]) accumulate() {
	for i := len(st.path.Members) - 1; i >= 0; i-- {
		st.nodes[st.path.From[i]].Add(st.nodes[i])
	}
}

// OnTurningBodies converts the loads in the joints to those on the bodies that turn on the pivots' shafts. couples are the bodies of each
// joint: that of the shaft, and the one that turns on it.
func (st *Solver[T]) OnTurningBodies(couples [][2]int) {
	for i := range st.path.Pivots {
		pin := &st.path.Pivots[i]
		if len(pin.Joints) == 0 {
			continue
		}
		if j := pin.Joints[0]; len(pin.Joints) == 1 {
			if _, b, _ := st.path.Mechanism.Joint(j); couples[j][1] != b {
				st.Pins[j] = turned(st.Pins[j])
			}
			continue
		}
		for _, b := range pin.Bodies {
			st.onBody[b] = mechanism.Load[T]{}
		}
		for _, j := range pin.Joints {
			a, b, _ := st.path.Mechanism.Joint(j)
			st.onBody[b].Add(st.Pins[j])
			st.onBody[a].Add(turned(st.Pins[j]))
		}
		for _, j := range pin.Joints {
			st.Pins[j] = st.onBody[couples[j][1]]
		}
	}
}

// SolveOne finds the loads in the joints under one load on a body that enters at a node of the load path, and returns the force of the
// shocks as Solve does.
func (st *Solver[T]) SolveOne(sd *Placed[T], body, node int, l mechanism.Load[T]) T {
	clear(st.loads)
	clear(st.nodes)
	st.apply(body, node, l)
	anchor := sd.State.Pose[body].At
	power := l.Force.Dot(sd.State.Rate[body].At) + l.About(anchor)*sd.State.Rate[body].Turn
	push := power / sd.State.ShockRate
	st.balance(sd, push)
	return push
}
