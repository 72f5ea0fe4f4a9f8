package structure

import (
	"math"

	"forkfront/kinematics"
	"forkfront/objectives/fork"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/parts"
)

// pivot sizes a joint.
func (z *Sized[T]) pivot(joint int) {
	if z.Path.SlideOf(joint) != nil {
		z.Pivots[joint] = parts.Pivot[T]{LoadN: z.pinForces[joint]} // bushes, whose mass follows from the tubes
		return
	}
	r := &z.Rules.Pivots
	p := &z.Pivots[joint]
	*p = parts.Pivot[T]{LoadN: z.pinForces[joint], Shafts: z.shafts(joint)}
	p.Choose(r, z.Material, z.shaftLength(joint, p, r))
}

// shaftLength finds the total length of a joint's shafts, and returns the lever at which the pin force bends them, in mm.
func (z *Sized[T]) shaftLength(joint int, p *parts.Pivot[T], r *parts.PivotRules) (arm float64) {
	_, _, point := z.Path.Mechanism.Joint(joint)
	a, b := z.ShaftBodies[joint][0], z.ShaftBodies[joint][1]
	across := z.Across
	wide, narrow := across.HalfWidthMM[a], across.HalfWidthMM[b]
	if wide < narrow {
		wide, narrow = narrow, wide
	}
	arm = math.Max(wide-narrow, r.LeastArmMM)
	one := across.Tubes(a) == 1 || across.Tubes(b) == 1
	switch {
	case point == z.Path.Hub: // the wheel's axle is a fixed part
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
	_, _, point := z.Path.Mechanism.Joint(joint)
	switch z.Across.Shafts[point] {
	case fork.ShaftThrough:
		return 1
	case fork.ShaftStub:
		return 2
	}
	axle := z.Path.Hub
	if point == axle {
		return 1
	}
	for i := range z.AtStance {
		gap := z.AtStance[i].Places[point].Minus(z.AtStance[i].Places[axle])
		if radius := z.Ride.Setting.Chassis.FrontRadiusMM; kinematics.Real(gap.Dot(gap)) < radius*radius {
			return 2
		}
	}
	return 1
}

// bearings is the number of bearings or bushes at a joint.
func (z *Sized[T]) bearings(joint int) float64 {
	if s := z.Path.SlideOf(joint); s != nil {
		return 2 * z.Members[s.Inner[0]].Count
	}
	return 2
}

func BearingLoadMax[T kinematics.Scalar](z *Sized[T]) T {
	var most T
	for i := range z.Pivots {
		most = scalar.Higher(most, z.Pivots[i].LoadN)
	}
	return most
}
