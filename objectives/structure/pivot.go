package structure

import (
	"math"

	"forkfront/kinematics"
	"forkfront/objectives/fork"
	"forkfront/objectives/scalar"
)

// Pivot is the size of a joint. There is one bearing or bush on each side, or two in the middle; a slide has two bushes on each side,
// of which LoadN is the force of the one that bears more, and ShaftMM the diameter of the inner tube.
type Pivot[T kinematics.Scalar] struct {
	LoadN         T // largest pin force over the load cases, both sides together
	ShaftMM       T // outside diameter
	ShaftLengthMM float64
	Shafts        int // 1 through, 2 stubs
	OutsideMM     T   // diameter over bearings or bushes and their sleeves
	Rolling       bool
	BearingMM     Bearing // of a rolling one
	MassG         T       // of all parts at the joint
}

// bushWallMM is the wall of a plain bush, and bushGramsPerMM3 its density (bronze; common practice,
// no source). A bush is as long as its bore.
const (
	bushWallMM      = 1.0
	bushGramsPerMM3 = 8.0e-3
)

// pivot chooses the lighter of a rolling bearing and a plain bush; derivatives do not affect the choice.
func (z *Sized[T]) pivot(joint int) {
	if z.path.slideOf(joint) != nil {
		z.Pivots[joint] = Pivot[T]{LoadN: z.pinForces[joint]} // bushes, whose mass follows from the tubes
		return
	}
	r := &z.rules.Pivots
	p := &z.Pivots[joint]
	*p = Pivot[T]{LoadN: z.pinForces[joint], Shafts: z.shafts(joint)}
	arm := z.shaftLength(joint, p, r)
	half := p.LoadN * 0.5
	hollow := 1 - r.ShaftBore*r.ShaftBore*r.ShaftBore*r.ShaftBore
	stout := scalar.Cbrt(half * kinematics.Lift[T](arm*r.Safety/r.ShaftYieldMPa*32/(math.Pi*hollow)))
	bore := scalar.Higher(stout, scalar.Root(half*kinematics.Lift[T](1/r.BushNPerMM2)))
	bore = scalar.Higher(bore, kinematics.Lift[T](6))
	p.ShaftMM, p.OutsideMM = bore, bore+kinematics.Lift[T](2*(bushWallMM+r.SleeveMM))
	p.MassG = p.shaftMass(r, bore) + bushMass(r, z.material, bore)
	for i := range bearings {
		b := &bearings[i]
		if b.BoreMM < kinematics.Real(stout) || b.StaticN < kinematics.Real(half)*r.StaticSafety {
			continue
		}
		mass := p.shaftMass(r, kinematics.Lift[T](b.BoreMM)) + kinematics.Lift[T](2*(b.massG()+sleeve(r, z.material, b.OutsideMM, b.WidthMM)))
		if kinematics.Real(mass) < kinematics.Real(p.MassG) {
			p.MassG, p.Rolling, p.BearingMM = mass, true, *b
			p.ShaftMM, p.OutsideMM = kinematics.Lift[T](b.BoreMM), kinematics.Lift[T](b.OutsideMM+2*r.SleeveMM)
		}
	}
}

// shaftLength finds the total length of a joint's shafts, and returns the lever at which the pin force bends them, in mm.
func (z *Sized[T]) shaftLength(joint int, p *Pivot[T], r *PivotRules) (arm float64) {
	_, _, point := z.path.m.Joint(joint)
	a, b := z.shaftBodies[joint][0], z.shaftBodies[joint][1]
	across := z.across
	wide, narrow := across.HalfWidthMM[a], across.HalfWidthMM[b]
	if wide < narrow {
		wide, narrow = narrow, wide
	}
	arm = math.Max(wide-narrow, r.LeastArmMM)
	one := across.Tubes(a) == 1 || across.Tubes(b) == 1
	switch {
	case point == z.path.hub: // the wheel's axle is a fixed part
		p.ShaftLengthMM = 0
	case one && wide == 0, one && across.Tubes(a)+across.Tubes(b) == 2:
		p.Shafts, p.ShaftLengthMM = 1, arm+2*r.BossMM
	case p.Shafts == 1:
		p.ShaftLengthMM = 2 * (wide + r.BossMM)
	default:
		p.ShaftLengthMM = 2 * (arm + 2*r.BossMM)
	}
	return arm
}

// shafts is 1 where one shaft runs from side to side: as the design says, or else where the pivot stays outside the wheel
// at top-out, sag and full travel.
func (z *Sized[T]) shafts(joint int) int {
	_, _, point := z.path.m.Joint(joint)
	switch z.across.Shafts[point] {
	case fork.ShaftThrough:
		return 1
	case fork.ShaftStub:
		return 2
	}
	axle := z.path.hub
	if point == axle {
		return 1
	}
	for i := range z.atStance {
		gap := z.atStance[i].places[point].Minus(z.atStance[i].places[axle])
		if radius := z.ride.Setting.Chassis.FrontRadiusMM; kinematics.Real(gap.Dot(gap)) < radius*radius {
			return 2
		}
	}
	return 1
}

// bearings is the number of bearings or bushes at a joint.
func (z *Sized[T]) bearings(joint int) float64 {
	if s := z.path.slideOf(joint); s != nil {
		return 2 * z.Members[s.inner[0]].Count
	}
	return 2
}

func (p *Pivot[T]) shaftMass(r *PivotRules, diameter T) T {
	return diameter * diameter * kinematics.Lift[T](steelGramsPerMM3*math.Pi/4*(1-r.ShaftBore*r.ShaftBore)*p.ShaftLengthMM)
}

// bushMass is that of two bushes and their sleeves.
func bushMass[T kinematics.Scalar](r *PivotRules, m *fork.Material, bore T) T {
	lift := kinematics.Lift[T]
	bush := (bore + lift(bushWallMM)) * bore * lift(math.Pi*bushWallMM*bushGramsPerMM3)
	around := (bore + lift(2*bushWallMM+r.SleeveMM)) * bore * lift(math.Pi*r.SleeveMM*m.GramsPerMM3())
	return 2 * (bush + around)
}

// sleeve is the mass of the tube's own material around one bearing.
func sleeve(r *PivotRules, m *fork.Material, outside, width float64) float64 {
	return m.GramsPerMM3() * ring(outside, outside+2*r.SleeveMM) * width
}

func BearingLoadMax[T kinematics.Scalar](z *Sized[T]) T {
	var most T
	for i := range z.Pivots {
		most = scalar.Higher(most, z.Pivots[i].LoadN)
	}
	return most
}
