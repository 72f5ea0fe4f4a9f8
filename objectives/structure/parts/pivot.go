package parts

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

// Choose gives a pivot the lighter of rolling bearings and plain bushes for its load and the length of its shafts; derivatives do
// not affect the choice. arm is the lever in mm at which the force of one side bends the shaft there.
func (p *Pivot[T]) Choose(r *PivotRules, m *fork.Material, arm float64) {
	half := p.LoadN * 0.5
	hollow := 1 - r.ShaftBore*r.ShaftBore*r.ShaftBore*r.ShaftBore
	stout := scalar.Cbrt(half * kinematics.Lift[T](arm*r.Safety/r.ShaftYieldMPa*32/(math.Pi*hollow)))
	bore := scalar.Higher(stout, scalar.Root(half*kinematics.Lift[T](1/r.BushNPerMM2)))
	bore = scalar.Higher(bore, kinematics.Lift[T](6))
	p.ShaftMM, p.OutsideMM = bore, bore+kinematics.Lift[T](2*(bushWallMM+r.SleeveMM))
	p.MassG = p.shaftMass(r, bore) + bushMass(r, m, bore)
	for i := range bearings {
		b := &bearings[i]
		if b.BoreMM < kinematics.Real(stout) || b.StaticN < kinematics.Real(half)*r.StaticSafety {
			continue
		}
		mass := p.shaftMass(r, kinematics.Lift[T](b.BoreMM)) + kinematics.Lift[T](2*(b.massG()+sleeve(r, m, b.OutsideMM, b.WidthMM)))
		if kinematics.Real(mass) < kinematics.Real(p.MassG) {
			p.MassG, p.Rolling, p.BearingMM = mass, true, *b
			p.ShaftMM, p.OutsideMM = kinematics.Lift[T](b.BoreMM), kinematics.Lift[T](b.OutsideMM+2*r.SleeveMM)
		}
	}
}

func (p *Pivot[T]) shaftMass(r *PivotRules, diameter T) T {
	return diameter * diameter * kinematics.Lift[T](SteelGramsPerMM3*math.Pi/4*(1-r.ShaftBore*r.ShaftBore)*p.ShaftLengthMM)
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
	return m.GramsPerMM3() * Ring(outside, outside+2*r.SleeveMM) * width
}

// Margin is what each bearing or bush of a joint may carry by the rules over what it does, a radial force in N: the static rating of a
// rolling bearing, and the pressure that bushes are allowed on their projected area.
func (p *Pivot[T]) Margin(r *PivotRules, slides bool, force float64) float64 {
	if p.Rolling {
		return p.BearingMM.StaticN / (force * r.StaticSafety)
	}
	bore := kinematics.Real(p.ShaftMM)
	if slides {
		return bore * bore * SlideBushLength * r.BushNPerMM2 / force
	}
	return bore * bore * r.BushNPerMM2 / force // a bush is as long as its bore
}
