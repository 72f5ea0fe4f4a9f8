package structure

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/loadpath"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/sides"
	"forkfront/objectives/structure/statics"
)

// Tube is the size of a member: the outside diameter and wall in mm of each of its Count tubes, and what governs the
// diameter.
type Tube[T kinematics.Scalar] struct {
	DiameterMM, WallMM T
	MassG              T       // of all of them
	Count              float64 // 2 left and right, 1 in the middle or on one side
	Governs            Governing
	Case               int // that of Strength and Buckling, in cases
}

// Governing is what determines a diameter.
type Governing int

// What may govern a diameter.
const (
	Gauge     Governing = iota // the smallest that is allowed
	Strength                   // yield in a load case
	Buckling                   // Euler buckling in a load case
	Stiffness                  // the fore-aft stiffness wanted
	Fit                        // the tube that it slides in or on
)

func (g Governing) String() string {
	return [...]string{"gauge", "strength", "buckling", "stiffness", "fit"}[g]
}

// Sized is a fork with sizes. Members is indexed like the mechanism's Members, Pivots like its
// joints; tubes of slides are two members each, see loadpath.Slide. With derivatives, what governs stays what it is for the plain numbers.
// Others only read its fields.
type Sized[T kinematics.Scalar] struct {
	Members []Tube[T]
	Pivots  []parts.Pivot[T]

	Rules       *Rules
	Ride        *ride.Ride[T]
	Across      *fork.Across
	Material    *fork.Material
	Path        *loadpath.Path
	ShaftBodies [][2]int // by joint: the body that the pivot's shaft is fixed to, and the one that turns on it
	AtStance    [loads.Stances]statics.Placed[T]
	Severities  []float64 // by load case of the rules: factor on its stresses

	layout          []plane.Vec[T] // by point, mm
	extended        []plane.Vec[T] // memory for that of a fork with slides
	lengths         []T            // of members, mm
	inverse         []T
	statics         statics.Solver[T]
	cases           []sizingCase
	applied         []loads.Applied[T]  // by case
	planar          []statics.Planar[T] // likewise, of one side, and last under a force at the axle of 1 N backwards at sag
	demands         []parts.Demand[T]   // by case and member
	notGoverning    []bool              // cases that govern nothing; set for derivatives alone
	spared          [2][]bool           // cases that govern nothing of what follows from each round; likewise
	pinForces       []T                 // by joint: largest force on it, N
	pinCases        []int               // and its case
	least           []Tube[T]           // by member: what strength and gauge ask for
	flexibilities   []flexibility[T]    // by member
	scale           T                   // of the diameters that stiffness asks for
	tubeCompliance  T                   // at the axle, mm per N
	rigid           []rigidity[T]       // by member, of least
	sections        []parts.Section[T]  // likewise
	symmetric       *sides.Mesh         // of symmetric loads
	outOfPlane      shaftFrame[T]
	redundancy      *sides.Redundancy
	redundants      [loads.Stances]redundants[T]
	loads           []statics.TubeLoads[T] // by member, of one side: out of the plane in the load case found last
	opposed         []statics.TubeLoads[T] // likewise, on the caliper's side for each N·mm of torque; see opposedLoads
	shaftCompliance T                      // part of the compliance at the axle that shafts have, mm/N
	antisymmetric   *sides.Mesh            // of opposed loads; nil where through shafts share the brake's torque
	opposite        [rounds][loads.Stances]antisymmetric[T]
	round           int             // that matrices are worked out in
	plain           *Sized[float64] // of a fork with derivatives: the same without
	torqueCrosses   bool            // by a shaft that holds the caliper's body
	passes          [3][]Tube[T]    // what strength and gauge ask for, before the torque is shared, by the estimate, and at last
	shockG          T               // mass of all shocks
	pinForcesAtSag  [2][]T          // force on each pin at sag, of slides the sum of their bushes', by joint: at rest, and in a hard stop, N
	loose           bool            // pivots that allow tilt leave it movable out of the plane
	sagKnown        bool            // pinForcesAtSag is; a gradient without friction never asks for it
}

func (z *Sized[T]) set(p *loadpath.Path) {
	n, cases := len(p.Members), len(z.cases)
	z.Path = p
	z.ShaftBodies = plane.Resize(z.ShaftBodies, len(p.Joints))
	p.PairBodies(z.ShaftBodies, z.Across)
	z.Members, z.Pivots = plane.Resize(z.Members, n), plane.Resize(z.Pivots, len(p.Joints))
	z.lengths, z.inverse = plane.Resize(z.lengths, n), plane.Resize(z.inverse, n)
	z.flexibilities, z.least = plane.Resize(z.flexibilities, n), plane.Resize(z.least, n)
	z.demands = plane.Resize(z.demands, n*cases)
	z.loads, z.opposed = plane.Resize(z.loads, n), plane.Resize(z.opposed, n)
	z.applied, z.planar = plane.Resize(z.applied, cases), plane.Resize(z.planar, cases+1)
	z.pinForces, z.pinCases = plane.Resize(z.pinForces, len(p.Joints)), plane.Resize(z.pinCases, len(p.Joints))
	z.loose, z.sagKnown = false, false
	for i := range z.redundants {
		z.redundants[i].placed = false
	}
	for i := range z.pinForcesAtSag {
		z.pinForcesAtSag[i] = plane.Resize(z.pinForcesAtSag[i], len(p.Joints))
	}
	z.statics.Set(p)
}

// measure finds the lengths of the members in the layout. It is false where a member has no length.
func (z *Sized[T]) measure(layout []plane.Vec[T]) bool {
	for i, mb := range z.Path.Members {
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

// load finds what all load cases demand of the members and pivots.
func (z *Sized[T]) load() {
	clear(z.pinForces)
	for k := range z.cases {
		c := z.cases[k].Case
		sd, a := &z.AtStance[c.At], &z.applied[k]
		*a = loads.Apply(c, z.Ride.Setting, sd.State)
		if z.idle(k) {
			continue
		}
		demands := z.demands[k*len(z.Members) : (k+1)*len(z.Members)]
		z.demandInPlane(sd, a, demands, k)
		if a.Side != 0 {
			z.addSideLoad(sd, a, demands)
		}
		z.harden(k)
	}
	for j := range z.pinForces {
		if kinematics.Real(z.pinForces[j]) > 0 {
			z.pinForces[j] = kinematics.Sqrt(z.pinForces[j])
		}
	}
}

// harden applies the severity of a load case to what it demands; buckling takes no part in it.
func (z *Sized[T]) harden(k int) {
	by := z.cases[k].severity
	if by == 1 {
		return
	}
	demands := z.demands[k*len(z.Members) : (k+1)*len(z.Members)]
	for i := range demands {
		demands[i].Axial *= kinematics.Lift[T](by)
		demands[i].Bending *= kinematics.Lift[T](by)
	}
}

// findNotGoverning finds the load cases that govern neither a tube nor a pivot of the plain numbers, and those that govern no tube of
// the sizes that a round leads to: what they ask for has no derivative.
func (z *Sized[T]) findNotGoverning(plain *Sized[float64]) {
	mark := func(of *[]bool) {
		*of = plane.Resize(*of, len(z.cases))
		for k := range *of {
			(*of)[k] = true
		}
	}
	mark(&z.notGoverning)
	governs(z.notGoverning, plain.passes[0])
	for round := range z.spared {
		mark(&z.spared[round])
		governs(z.spared[round], plain.passes[round+1])
		for k, spared := range z.spared[round] {
			z.notGoverning[k] = z.notGoverning[k] && spared
		}
	}
	for j, k := range plain.pinCases {
		if plain.pinForces[j] > 0 {
			z.notGoverning[k] = false
		}
	}
}

// idle tells whether load case k is left out as it governs nothing.
func (z *Sized[T]) idle(k int) bool { return len(z.notGoverning) > 0 && z.notGoverning[k] }

// idleOnSides tells whether what either side carries in load case k is left out, as no size that follows is governed by it.
func (z *Sized[T]) idleOnSides(k int) bool { return z.plain != nil && z.spared[z.round][k] }

// idleIn tells whether what member i carries in load case k is left out, as another one governs the size that follows.
func (z *Sized[T]) idleIn(k, i int) bool {
	return z.plain != nil && !z.plain.passes[z.round+1][i].governedBy(k)
}

// governs unmarks the load cases that govern tubes.
func governs(not []bool, tubes []Tube[float64]) {
	for i := range tubes {
		if t := &tubes[i]; t.governedBy(t.Case) {
			not[t.Case] = false
		}
	}
}

// governedBy tells whether a tube's size follows from load case k, even where stiffness asks for more: shafts twist tubes of this size.
func (t *Tube[T]) governedBy(k int) bool {
	return t.Case == k && (t.Governs == Strength || t.Governs == Buckling)
}

// demandInPlane finds what load case k demands in the plane, with all torque of a brake on the caliper's side.
func (z *Sized[T]) demandInPlane(sd *statics.Placed[T], a *loads.Applied[T], demands []parts.Demand[T], k int) {
	if !a.InPlane() {
		clear(demands)
		return
	}
	forces := &z.planar[k]
	forces.Take(&z.statics, sd, z.ShaftBodies, z.statics.Solve(sd, a), 0.5)
	for j, force := range forces.Pins {
		if square := 4 * force.Dot(force); kinematics.Real(square) > kinematics.Real(z.pinForces[j]) {
			z.pinForces[j], z.pinCases[j] = square, k
		}
	}
	torque := kinematics.Abs(a.Couple)
	for i, mb := range z.Path.Members {
		var wound T
		if z.Path.CaliperSide[i] {
			wound = torque
		}
		demands[i] = forces.Internal[i].Worst(z.Across.Tubes(mb.Body), wound)
	}
}

func (z *Sized[T]) addSideLoad(sd *statics.Placed[T], a *loads.Applied[T], demands []parts.Demand[T]) {
	across := z.Across
	z.statics.Sideways(sd, z.Ride.Setting.Chassis.FrontRadiusMM, kinematics.Lift[T](a.Side))
	for i, mb := range z.Path.Members {
		by := z.statics.FromSide(sd, i, across.Tubes(mb.Body), across.HalfWidthMM[mb.Body], z.portal(sd, i))
		d := &demands[i]
		d.Axial, d.Compression, d.Bending = d.Axial+by.Axial, d.Compression+by.Compression, scalar.Hypot(d.Bending, by.Bending)
	}
}

// portal is the height of the portal frame that the two tubes of a member form under a side load: of a leg that slides all of it.
func (z *Sized[T]) portal(sd *statics.Placed[T], member int) T {
	if length, slides := sd.Leg(z.Path, member); slides {
		return length
	}
	return z.lengths[member]
}

// strength gives every member the smallest diameter that carries all load cases.
func strength(z *Sized[float64]) {
	r, m := &z.Rules.Tubes, z.Material
	allowed := r.StrengthMPa(m) / r.Safety
	for i, mb := range z.Path.Members {
		t := Tube[float64]{DiameterMM: r.MinDiameterMM, Count: z.Across.Tubes(mb.Body)}
		size := parts.TubeSection(r, t.DiameterMM)
		// Mostly one round: for the load case that demands most.
		for range len(z.demands) / len(z.Members) {
			worst, stress := mostStressed(z, i, &size)
			if !(stress > allowed) || t.Governs == Strength && worst == t.Case {
				break
			}
			t.DiameterMM, t.Governs, t.Case = parts.StrengthDiameter(r, &z.demands[worst*len(z.Members)+i], allowed, t.DiameterMM), Strength, worst
			size = parts.TubeSection(r, t.DiameterMM)
		}
		worst, pressing := mostCompressed(z, i)
		if need := parts.BucklingInertia(r, m, pressing, z.lengths[i]); need > size.Inertia {
			t.DiameterMM, t.Governs, t.Case = parts.BucklingDiameter(r, need, t.DiameterMM), Buckling, worst
		}
		z.least[i] = t
	}
}

// mostStressed is the load case with the highest stress in a member of a size, and the stress in MPa.
func mostStressed(z *Sized[float64], member int, size *parts.Section[float64]) (worst int, most float64) {
	byArea, byModulus := 1/size.Area, 1/size.Modulus
	for k, at := 0, member; at < len(z.demands); k, at = k+1, at+len(z.Members) {
		d := &z.demands[at]
		if stress := d.Axial*byArea + d.Bending*byModulus; stress > most {
			worst, most = k, stress
		}
	}
	return worst, most
}

// mostCompressed is the load case with the largest compression of a member, and the force in N.
func mostCompressed(z *Sized[float64], member int) (worst int, most float64) {
	for k, at := 0, member; at < len(z.demands); k, at = k+1, at+len(z.Members) {
		if force := z.demands[at].Compression; force > most {
			worst, most = k, force
		}
	}
	return worst, most
}

// strengthSlopes gives the diameters of plain numbers their derivatives: one implicit step from the
// equation that governs each.
func strengthSlopes(z *Sized[complex128], from []Tube[float64]) {
	r, m := &z.Rules.Tubes, z.Material
	allowed := complex(r.StrengthMPa(m)/r.Safety, 0)
	n := len(z.Members)
	for i := range z.least {
		t := Tube[complex128]{DiameterMM: complex(from[i].DiameterMM, 0), Count: from[i].Count, Governs: from[i].Governs, Case: from[i].Case}
		d := &z.demands[t.Case*n+i]
		size := parts.TubeSection(r, t.DiameterMM)
		switch t.Governs {
		case Strength:
			stress, rate := d.Stress(&size)
			t.DiameterMM -= complex(0, imag((stress-allowed)/rate))
		case Buckling:
			need := parts.BucklingInertia(r, m, d.Compression, z.lengths[i])
			t.DiameterMM -= complex(0, imag((size.Inertia-need)/size.InertiaRate))
		}
		z.least[i] = t
	}
}

// governing is the load case that governs a tube by strength or buckling.
func (z *Sized[T]) governing(t *Tube[T]) *loads.Case {
	if t.Governs == Strength {
		return z.cases[t.Case].hardest
	}
	return z.cases[t.Case].Case
}

// AllowedMPa is the stress that tubes are sized for.
func AllowedMPa(z *Sized[float64]) float64 {
	r := &z.Rules.Tubes
	return r.StrengthMPa(z.Material) / r.Safety
}
