package quarter

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/ride"
)

// DamperCoefficient is the damping coefficient that each shock needs for the damping ratio wanted at sag, in N·s/m at its
// shaft: the mean of compression and rebound.
func DamperCoefficient[T kinematics.Scalar](q *Quarter[T]) T {
	return q.needed
}

// DamperMisfit is the misfit in % of the damper on sale that fits best; infinite where none is.
func DamperMisfit[T kinematics.Scalar](q *Quarter[T]) T {
	compression, rebound := Directions(q.needed, q.Setting.ReboundPerCompression)
	least := kinematics.Lift[T](math.Inf(1))
	for i := range q.Setting.Dampers {
		if by := Misfit(&q.Setting.Dampers[i], compression, rebound); kinematics.Real(by) < kinematics.Real(least) {
			least = by
		}
	}
	return least
}

// DampingVariation is the largest minus the smallest damping ratio from sag to full travel, in % of that at sag, with one
// setting of the damper.
func DampingVariation[T kinematics.Scalar](q *Quarter[T]) T {
	return 100 * (q.ratio(q.high) - q.ratio(q.low))
}

// ratio is the damping ratio at a sample, or at sag for −1, over that at sag.
func (q *Quarter[T]) ratio(sample int) T {
	if sample < 0 {
		return 1
	}
	return kinematics.Sqrt(dampingAt(q.fork, sample) * plane.Inverse(q.sag))
}

// Breakaway is the height in mm by which the road may rise before the fork moves at sag, on the tyre's spring only, with
// the given friction along the travel at the axle in N.
func Breakaway[T kinematics.Scalar](s *Setting, r *ride.Ride[T], friction T) T {
	return friction * plane.Inverse(r.Sag.VZ*kinematics.Lift[T](s.TyreNPerMM))
}

// RoadGrip is the root mean square of the variation of the wheel load on the setting's road, in % of the static load.
func RoadGrip[T kinematics.Scalar](q *Quarter[T]) T {
	return LoadRMS(&q.Model, &q.Setting.Road) * kinematics.Lift[T](100/((q.SprungKG+q.UnsprungKG)*ride.Gravity))
}

// RoadTravel is the root mean square of the travel on the setting's road, in mm.
func RoadTravel[T kinematics.Scalar](q *Quarter[T]) T {
	return StrokeRMS(&q.Model, &q.Setting.Road) * perMetre * plane.Inverse(q.perTravel)
}

// RoadAcceleration is the root mean square of the acceleration of the sprung mass on the setting's road, in m/s².
func RoadAcceleration[T kinematics.Scalar](q *Quarter[T]) T {
	return AccelerationRMS(&q.Model, &q.Setting.Road)
}

// ComfortRatio is the damping ratio at which the sprung mass is accelerated least.
func ComfortRatio[T kinematics.Scalar](q *Quarter[T]) T {
	return BestForComfort(&q.Model) * plane.Inverse(q.critical)
}

// GripRatio is the damping ratio at which the wheel load varies least.
func GripRatio[T kinematics.Scalar](q *Quarter[T]) T {
	return BestForGrip(&q.Model) * plane.Inverse(q.critical)
}
