package quarter

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/stance"
	"forkfront/objectives/ride"
)

// Setting is what all forks of a case have in common: the tyre, the damping that is wanted, the road, and the dampers on sale.
type Setting struct {
	TyreNPerMM            float64
	DampingRatio          float64 // wanted at sag
	ReboundPerCompression float64 // ratio of the damping coefficients
	Road                  Road
	Dampers               []Damper // none: nothing is known of what is on sale
}

// Quarter is the quarter model of one fork, damped as wanted at sag. With T = complex128 everything carries one
// directional derivative.
type Quarter[T kinematics.Scalar] struct {
	Model[T]
	Setting *Setting
	Uneven  string // why the damping ratio has no value somewhere beyond sag; empty: it has one

	needed    T       // damping coefficient of each shock for the ratio wanted, N·s/m at its shaft
	critical  T       // damping that would be critical, N·s/m
	perTravel T       // vertical travel of the wheel per mm of travel at sag
	shocks    float64 // number of shocks
	sag       T       // damping at sag
	low, high int     // samples beyond sag with the smallest and the largest damping ratio; −1: sag itself
	fork      *ride.Ride[T]
}

// Study finds the quarter model of a fork whose static load balances at sag, on a bike with an unsprung mass at the
// front. Beyond sag it reads at least two samples.
func Study(q *Quarter[float64], s *Setting, r *ride.Ride[float64]) {
	q.at(s, r)
	q.low, q.high, q.Uneven = -1, -1, ""
	least, most := q.sag, q.sag
	for i := r.PastSag(); i < len(r.States); i++ {
		d := dampingAt(r, i)
		if !(d > 0) || math.IsInf(d, 1) {
			q.Uneven = falling
			return
		}
		if d < least {
			q.low, least = i, d
		}
		if d > most {
			q.high, most = i, d
		}
	}
}

// falling is a constant since a search meets it often.
const falling = "the wheel rate is not above 0 from sag to full travel, and damping has no ratio there"

// Differentiate is the model of the same fork with its derivative.
func Differentiate(q *Quarter[complex128], plain *Quarter[float64], r *ride.Ride[complex128]) {
	q.at(plain.Setting, r)
	q.low, q.high, q.Uneven = plain.low, plain.high, plain.Uneven
}

// at finds the model at sag.
func (q *Quarter[T]) at(s *Setting, r *ride.Ride[T]) {
	q.Setting, q.fork, q.shocks = s, r, float64(r.Shock.Count)
	q.SprungKG, q.UnsprungKG = r.Setting.StaticLoadN()/ride.Gravity, r.Setting.Chassis.UnsprungFrontKG
	q.WheelNPerM, q.TyreNPerM = ride.WheelRate(r)*perMetre, s.TyreNPerMM*perMetre
	q.critical = CriticalNSPerM(&q.Model)
	q.DampingNSPerM = q.critical * kinematics.Lift[T](s.DampingRatio)
	q.perTravel = r.Sag.VZ
	perStroke := r.Sag.VZ / r.Sag.ShockRate
	q.needed = q.DampingNSPerM * perStroke * perStroke * kinematics.Lift[T](1/q.shocks)
	q.sag = damping(&r.Sag, ride.WheelRate(r))
}

// perMetre converts N/mm to N/m.
const perMetre = 1000

// Needed is the damping coefficient that each shock needs for the ratio wanted, in N·s/m at its shaft, by sample over the travel after
// top-out: NaN where there is none, since the wheel rate is not above 0.
func Needed(dst []float64, q *Quarter[float64]) []float64 {
	for i := range q.fork.States[1:] {
		need := math.NaN()
		if d := dampingAt(q.fork, 1+i); d > 0 && !math.IsInf(d, 1) {
			need = q.needed * math.Sqrt(q.sag/d)
		}
		dst = append(dst, need)
	}
	return dst
}

// damping is the square of the damping ratio at a state, apart from a factor that is the same at all of them: the damper's
// coefficient over the fourth power of how far the wheel moves per compression of the shock, and over the wheel rate.
func damping[T kinematics.Scalar](st *stance.State[T], wheelRate T) T {
	square := st.ShockRate * st.ShockRate / (st.VZ * st.VZ)
	return square * square / wheelRate
}

func dampingAt[T kinematics.Scalar](r *ride.Ride[T], i int) T {
	return damping(r.At(i), ride.WheelRateAt(r, i))
}
