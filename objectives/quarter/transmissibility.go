package quarter

import (
	"math"

	"forkfront/kinematics"
)

// Transmissibility is the amplitude of the sprung mass over that of the road at a frequency in Hz.
func Transmissibility(m *Model[float64], hz float64) float64 {
	omega := 2 * math.Pi * hz
	return math.Sqrt(transmitted(m, omega*omega))
}

// transmitted is the square of the transmissibility at a square u of the angular frequency.
func transmitted[T kinematics.Scalar](m *Model[T], u T) T {
	numerator, denominator := fraction(m, u)
	return numerator / denominator
}

// fraction is that square as a fraction:
//
//	k_t² (k² + c² u) / ([(k − m_s u)(k + k_t − m_u u) − k²]² + c² u [k_t − (m_s + m_u) u]²)
func fraction[T kinematics.Scalar](m *Model[T], u T) (numerator, denominator T) {
	k, tyre := m.WheelNPerM, kinematics.Lift[T](m.TyreNPerM)
	damped := m.DampingNSPerM * m.DampingNSPerM * u
	stiff := (k-kinematics.Lift[T](m.SprungKG)*u)*(k+tyre-kinematics.Lift[T](m.UnsprungKG)*u) - k*k
	free := tyre - kinematics.Lift[T](m.SprungKG+m.UnsprungKG)*u
	return tyre * tyre * (k*k + damped), stiff*stiff + damped*free*free
}

// The range in which the peak is looked for, in body frequencies, and how finely before it is refined.
const (
	peakFrom, peakTo = 0.3, 2.0
	peakSteps        = 8
	peakRounds       = 40   // enough halvings of a step for that
	peakExact        = 1e-7 // of the body's squared frequency: the peak itself is flat
)

// TransmissibilityPeak is the largest transmissibility between 0.3 and 2 times the body frequency. There its derivative with
// frequency vanishes, or it lies at an end of the range, which moves with the body frequency.
func TransmissibilityPeak[T kinematics.Scalar](m *Model[T]) T {
	body, _ := m.squares()
	share, inside := peakShare(plainOf(m), kinematics.Real(body))
	u := kinematics.Lift[T](share) * body
	if inside {
		u = kinematics.Lift[T](share * kinematics.Real(body))
	}
	return kinematics.Sqrt(transmitted(m, u))
}

func plainOf[T kinematics.Scalar](m *Model[T]) *Model[float64] {
	return &Model[float64]{m.SprungKG, m.UnsprungKG, kinematics.Real(m.WheelNPerM), m.TyreNPerM, kinematics.Real(m.DampingNSPerM)}
}

// peakShare is where the transmissibility is largest, as a share of the body's squared angular frequency, and whether that is
// inside the range.
func peakShare(m *Model[float64], body float64) (share float64, inside bool) {
	at := func(i int) float64 {
		f := peakFrom + (peakTo-peakFrom)*float64(i)/peakSteps
		return f * f
	}
	best, numerator, denominator := 0, 0.0, 1.0
	for i := range peakSteps + 1 {
		if n, d := fraction(m, at(i)*body); n*denominator > numerator*d { // no division in a search
			best, numerator, denominator = i, n, d
		}
	}
	low, high := at(max(best-1, 0)), at(min(best+1, peakSteps))
	if best == 0 && rising(m, low*body) <= 0 || best == peakSteps && rising(m, high*body) >= 0 {
		return at(best), false
	}
	share = at(best)
	for range peakRounds {
		f := rising(m, share*body)
		if f > 0 {
			low = share
		} else {
			high = share
		}
		const h = 1e-4 // of the share: the slope only steers Newton's steps
		next := share - f*h/(rising(m, (share+h)*body)-f)
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		moved := next - share
		if share = next; math.Abs(moved) < peakExact {
			break
		}
	}
	return share, true
}

// rising has the sign of the derivative of transmitted with u. With numerator n and denominator d it is n' d − n d'.
func rising(m *Model[float64], u float64) float64 {
	k, tyre, c2 := m.WheelNPerM, m.TyreNPerM, m.DampingNSPerM*m.DampingNSPerM
	a, b := k-m.SprungKG*u, k+tyre-m.UnsprungKG*u
	stiff, free := a*b-k*k, tyre-(m.SprungKG+m.UnsprungKG)*u
	stiffRate, freeRate := -m.SprungKG*b-m.UnsprungKG*a, -(m.SprungKG + m.UnsprungKG)
	d := stiff*stiff + c2*u*free*free
	dRate := 2*stiff*stiffRate + c2*free*(free+2*u*freeRate)
	return c2*d - (k*k+c2*u)*dRate
}
