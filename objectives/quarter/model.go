package quarter

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
)

// Model is a quarter model: a sprung mass on spring and damper, over an unsprung mass on the tyre's spring. All rates are
// per metre of vertical motion of the wheel, and all of them must be above 0. The tyre does not damp.
type Model[T kinematics.Scalar] struct {
	SprungKG, UnsprungKG float64
	WheelNPerM           T // rate of the suspension
	TyreNPerM            float64
	DampingNSPerM        T
}

// CriticalNSPerM is the damping with which the sprung mass on the suspension's spring would just not oscillate, in N·s/m:
// 2 √(k m).
func CriticalNSPerM[T kinematics.Scalar](m *Model[T]) T {
	return 2 * kinematics.Sqrt(m.WheelNPerM*kinematics.Lift[T](m.SprungKG))
}

// DampingRatio is the damping over the critical one.
func DampingRatio[T kinematics.Scalar](m *Model[T]) T {
	return m.DampingNSPerM * plane.Inverse(CriticalNSPerM(m))
}

// squares are the squares of the undamped angular frequencies of body and wheel, in 1/s²: the roots of the characteristic
// polynomial ω⁴ − 2 B ω² + D. The smaller one is found as D over the larger, which loses no digits.
func (m *Model[T]) squares() (body, hop T) {
	sprung, unsprung, tyre := kinematics.Lift[T](1/m.SprungKG), kinematics.Lift[T](1/m.UnsprungKG), kinematics.Lift[T](m.TyreNPerM)
	half := ((m.WheelNPerM+tyre)*unsprung + m.WheelNPerM*sprung) * kinematics.Lift[T](0.5)
	product := m.WheelNPerM * tyre * sprung * unsprung
	hop = half + kinematics.Sqrt(half*half-product)
	return product * plane.Inverse(hop), hop
}

// BodyFrequency is the undamped frequency in Hz of the mode in which the sprung mass moves most.
func BodyFrequency[T kinematics.Scalar](m *Model[T]) T {
	body, _ := m.squares()
	return hertz(kinematics.Sqrt(body))
}

// HopFrequency is the undamped frequency in Hz of the mode in which the unsprung mass moves most.
func HopFrequency[T kinematics.Scalar](m *Model[T]) T {
	_, hop := m.squares()
	return hertz(kinematics.Sqrt(hop))
}

func hertz[T kinematics.Scalar](angular T) T { return angular * kinematics.Lift[T](1/(2*math.Pi)) }
