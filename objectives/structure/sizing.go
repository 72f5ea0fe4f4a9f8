package structure

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
	"forkfront/objectives/scalar"
)

// Tube is the size that a member came to: an outside diameter and a wall in mm, each of the Count
// tubes that the member has, and what asked for the diameter.
type Tube[T kinematics.Scalar] struct {
	DiameterMM, WallMM T
	MassG              T       // of all of them
	Count              float64 // 2 left and right, 1 in the middle or on one side
	Governs            Ground
	Case               int // load case of Strength and Buckling
}

// Ground is what a size follows from.
type Ground int

// Grounds of a diameter.
const (
	Gauge     Ground = iota // the smallest that is allowed
	Strength                // yield in a load case
	Buckling                // Euler buckling in a load case
	Stiffness               // the fore-aft stiffness wanted
)

func (g Ground) String() string { return [...]string{"gauge", "strength", "buckling", "stiffness"}[g] }

// Sized is a fork with sizes. Members is indexed like the mechanism's Members, Pivots like its
// joints. With derivatives, what governs stays what it is for the plain numbers.
type Sized[T kinematics.Scalar] struct {
	Members []Tube[T]
	Pivots  []Pivot[T]

	rules    *Rules
	ride     *ride.Ride[T]
	across   *fork.Across
	material *fork.Material
	layout   []plane.Vec[T] // by point, mm

	path            *loadPath
	couples         [][2]int // by joint: the body that the pivot's shaft is fixed to, and the one that turns on it
	lengths         []T      // of members, mm
	inverse         []T
	stands          [stances]stand[T]
	statics         statics[T]
	demands         []demand[T]   // by load case and member
	idle            []bool        // load cases that govern nothing; set for derivatives alone
	pins            []T           // by joint: largest force on it, N
	pinned          []int         // and its load case
	least           []Tube[T]     // by member: what strength and gauge ask for
	flex            []flex[T]     // by member
	scale           T             // of the diameters that stiffness asks for
	give            T             // at the axle, mm per N
	rigid           []rigidity[T] // by member, of least
	mesh            *mesh         // of symmetric loads
	offsets         offsets[T]
	shaftCompliance T     // part of the compliance at the axle that shafts have, mm/N
	sides           *mesh // of opposed loads; nil where through shafts share the brake's torque
	opposed         opposed[T]
	passes          [sharings + 1][]Tube[T] // what strength and gauge ask for, before and after each sharing of the torque
	shockG          T                       // mass of all shocks
	calm            [2][]T                  // force on each pin at sag, by joint: at rest, and in a hard stop, N
	rested          bool                    // calm is worked out; a gradient without friction never asks for it
}

func (z *Sized[T]) set(p *loadPath, cases int) {
	n := len(p.members)
	z.path = p
	z.couples = plane.Resize(z.couples, len(p.joints))
	p.couple(z.couples, z.across)
	z.Members, z.Pivots = plane.Resize(z.Members, n), plane.Resize(z.Pivots, len(p.joints))
	z.lengths, z.inverse = plane.Resize(z.lengths, n), plane.Resize(z.inverse, n)
	z.flex, z.least = plane.Resize(z.flex, n), plane.Resize(z.least, n)
	z.demands = plane.Resize(z.demands, n*cases)
	z.pins, z.pinned = plane.Resize(z.pins, len(p.joints)), plane.Resize(z.pinned, len(p.joints))
	z.rested = false
	for i := range z.calm {
		z.calm[i] = plane.Resize(z.calm[i], len(p.joints))
	}
	z.statics.set(p)
}

// measure takes the lengths of the members off the layout. A member without length is none.
func (z *Sized[T]) measure(layout []plane.Vec[T]) bool {
	for i, mb := range z.path.members {
		line := layout[mb.To].Minus(layout[mb.From])
		square := line.Dot(line)
		if !(kinematics.Real(square) > 1e-6) {
			return false
		}
		z.lengths[i] = kinematics.Sqrt(square)
		z.inverse[i] = 1 / z.lengths[i]
	}
	return true
}

// load works all load cases through.
func (z *Sized[T]) load() {
	clear(z.pins)
	cases := z.rules.Cases
	for k := range cases {
		if len(z.idle) > 0 && z.idle[k] {
			continue
		}
		sd := &z.stands[cases[k].At]
		a := on(&cases[k], z.ride.Setting, sd.state)
		demands := z.demands[k*len(z.Members) : (k+1)*len(z.Members)]
		z.inPlane(sd, &a, demands, k)
		if a.side != 0 {
			z.aside(sd, &a, demands)
		}
	}
	for j := range z.pins {
		if kinematics.Real(z.pins[j]) > 0 {
			z.pins[j] = kinematics.Sqrt(z.pins[j])
		}
	}
}

// idling finds the load cases that govern neither a tube nor a pivot of the plain numbers: what they ask
// for has no derivative.
func (z *Sized[T]) idling(plain *Sized[float64], cases int) {
	z.idle = plane.Resize(z.idle, cases)
	for k := range z.idle {
		z.idle[k] = true
	}
	for pass := range plain.passes {
		z.notIdle(plain.passes[pass])
	}
	for j, k := range plain.pinned {
		if plain.pins[j] > 0 {
			z.idle[k] = false
		}
	}
}

// notIdle notes the load cases that govern tubes.
func (z *Sized[T]) notIdle(tubes []Tube[float64]) {
	for i := range tubes {
		t := &tubes[i]
		if t.Governs == Strength || t.Governs == Buckling { // even where stiffness asks for more: shafts twist tubes of this size
			z.idle[t.Case] = false
		}
	}
}

func (z *Sized[T]) inPlane(sd *stand[T], a *applied[T], demands []demand[T], k int) {
	if a.force == (plane.Vec[T]{}) && a.couple == 0 {
		clear(demands)
		return
	}
	z.statics.solve(sd, a)
	z.statics.onShafts(z.couples)
	for j := range z.pins {
		force := z.statics.pins[j].Force
		if square := force.Dot(force); kinematics.Real(square) > kinematics.Real(z.pins[j]) {
			z.pins[j], z.pinned[j] = square, k
		}
	}
	torque := kinematics.Abs(a.couple)
	for i, mb := range z.path.members {
		var wound T
		if z.path.wound[i] {
			wound = torque
		}
		demands[i] = z.statics.inside[i].worst(z.across.Tubes(mb.Body), wound)
	}
}

func (z *Sized[T]) aside(sd *stand[T], a *applied[T], demands []demand[T]) {
	across := z.across
	z.statics.sideways(sd, z.ride.Setting.Chassis.FrontRadiusMM, kinematics.Lift[T](a.side))
	for i, mb := range z.path.members {
		by := z.statics.aside(sd, i, across.Tubes(mb.Body), across.HalfWidthMM[mb.Body], z.lengths[i])
		d := &demands[i]
		d.axial, d.pressing, d.bending = d.axial+by.axial, d.pressing+by.pressing, scalar.Hypot(d.bending, by.bending)
	}
}

// strength gives every member the smallest diameter that carries all load cases.
func strength(z *Sized[float64]) {
	r, m := &z.rules.Tubes, z.material
	allowed := m.YieldMPa / r.Safety
	for i, mb := range z.path.members {
		t := Tube[float64]{DiameterMM: r.MinDiameterMM, Count: z.across.Tubes(mb.Body)}
		size := TubeSection(r, t.DiameterMM)
		// One round most often: for the load case that asks for most. What it then bears to the last
		// digit is not looked at again.
		for range len(z.demands) / len(z.Members) {
			worst, stress := hardest(z, i, &size)
			if !(stress > allowed) || t.Governs == Strength && worst == t.Case {
				break
			}
			t.DiameterMM, t.Governs, t.Case = strong(r, &z.demands[worst*len(z.Members)+i], allowed, t.DiameterMM), Strength, worst
			size = TubeSection(r, t.DiameterMM)
		}
		worst, pressing := mostPressed(z, i)
		if need := buckling(r, m, pressing, z.lengths[i]); need > size.Inertia {
			t.DiameterMM, t.Governs, t.Case = stout(r, need, t.DiameterMM), Buckling, worst
		}
		z.least[i] = t
	}
}

// hardest is the load case under which a member of a size is stressed most, and the stress.
func hardest(z *Sized[float64], member int, size *section[float64]) (worst int, most float64) {
	byArea, byModulus := 1/size.Area, 1/size.modulus
	for k, at := 0, member; at < len(z.demands); k, at = k+1, at+len(z.Members) {
		d := &z.demands[at]
		if stress := d.axial*byArea + d.bending*byModulus; stress > most {
			worst, most = k, stress
		}
	}
	return worst, most
}

// mostPressed is the load case under which a member is pressed most, and the force.
func mostPressed(z *Sized[float64], member int) (worst int, most float64) {
	for k, at := 0, member; at < len(z.demands); k, at = k+1, at+len(z.Members) {
		if force := z.demands[at].pressing; force > most {
			worst, most = k, force
		}
	}
	return worst, most
}

// buckling is the second moment in mm⁴ at which a tube between two pivots just stands a force in N
// with the safety factor (Euler): I = safety F L² / (π² E).
func buckling[T kinematics.Scalar](r *TubeRules, m *fork.Material, force, length T) T {
	return force * length * length * kinematics.Lift[T](r.Safety/(math.Pi*math.Pi*m.YoungMPa))
}

// strengthSlopes gives the diameters of plain numbers their derivatives: one implicit step from the
// equation that governs each.
func strengthSlopes(z *Sized[complex128], from []Tube[float64]) {
	r, m := &z.rules.Tubes, z.material
	allowed := complex(m.YieldMPa/r.Safety, 0)
	n := len(z.Members)
	for i := range z.least {
		t := Tube[complex128]{DiameterMM: complex(from[i].DiameterMM, 0), Count: from[i].Count, Governs: from[i].Governs, Case: from[i].Case}
		d := &z.demands[t.Case*n+i]
		size := TubeSection(r, t.DiameterMM)
		switch t.Governs {
		case Strength:
			stress, rate := d.stress(&size)
			t.DiameterMM -= complex(0, imag((stress-allowed)/rate))
		case Buckling:
			need := buckling(r, m, d.pressing, z.lengths[i])
			t.DiameterMM -= complex(0, imag((size.Inertia-need)/size.inertiaRate))
		}
		z.least[i] = t
	}
}
