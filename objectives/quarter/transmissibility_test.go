package quarter

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"
)

// randomModel draws masses, rates and damping of bicycles and motorcycles, and somewhat beyond.
func randomModel(r *rand.Rand) Model[float64] {
	in := func(low, high float64) float64 { return low * math.Pow(high/low, r.Float64()) }
	m := Model[float64]{SprungKG: in(20, 200), UnsprungKG: in(2, 40), WheelNPerM: in(2e3, 40e3), TyreNPerM: in(50e3, 400e3)}
	m.DampingNSPerM = in(0.1, 1) * CriticalNSPerM(&m)
	return m
}

// The response of both masses to a road of one frequency, from their equations of motion in complex amplitudes.
func TestTransmissibilityByEquationsOfMotion(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 1000 {
		m := randomModel(r)
		hz := 0.1 * math.Pow(500, r.Float64())
		omega := complex(0, 2*math.Pi*hz)
		link := complex(m.WheelNPerM, 0) + omega*complex(m.DampingNSPerM, 0)
		body := complex(m.SprungKG, 0)*omega*omega + link
		wheel := complex(m.UnsprungKG, 0)*omega*omega + link + complex(m.TyreNPerM, 0)
		want := cmplx.Abs(link * complex(m.TyreNPerM, 0) / (body*wheel - link*link)) // Cramer's rule
		if got := Transmissibility(&m, hz); math.Abs(got-want) > 1e-9*want {
			t.Fatalf("%+v at %g Hz: %.12g, want %.12g", m, hz, got, want)
		}
	}
}

// One mass on its base, r the frequency over the natural one: √((1 + (2 ζ r)²) / ((1 − r²)² + (2 ζ r)²)), which is 1 at √2
// whatever the damping (curioustab.com on vibration isolation; strutt.arup.com, VibIsolationAtten). Its peak lies at
// r² = (√(1 + 8 ζ²) − 1) / (4 ζ²), where the derivative of this vanishes.
func TestTransmissibilityOfOneMass(t *testing.T) {
	for _, ratio := range []float64{0.05, 0.2, 0.4, 0.7, 1} {
		m := Model[float64]{45, 1e-6, 6e3, 1e11, 0}
		m.DampingNSPerM = ratio * CriticalNSPerM(&m)
		one := func(r float64) float64 {
			d := 2 * ratio * r
			return math.Sqrt((1 + d*d) / ((1-r*r)*(1-r*r) + d*d))
		}
		natural := math.Sqrt(6e3/45.0) / (2 * math.Pi)
		for _, r := range []float64{0.3, 1, math.Sqrt2, 3} {
			if got := Transmissibility(&m, r*natural); math.Abs(got-one(r)) > 1e-6 {
				t.Errorf("ratio %g at %g: %.9g, want %.9g", ratio, r, got, one(r))
			}
		}
		if got := Transmissibility(&m, math.Sqrt2*natural); math.Abs(got-1) > 1e-6 {
			t.Errorf("ratio %g: %.9g at √2", ratio, got)
		}
		at := math.Sqrt((math.Sqrt(1+8*ratio*ratio) - 1) / (4 * ratio * ratio))
		if got := TransmissibilityPeak(&m); math.Abs(got-one(at)) > 1e-6 {
			t.Errorf("ratio %g: peak %.9g, want %.9g", ratio, got, one(at))
		}
	}
}

// The peak is no less than any other value in its range, found among 20000, and within what they can miss of the largest.
func TestPeakIsTheLargestInItsRange(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		m := randomModel(r)
		body, most := BodyFrequency(&m), 0.0
		for i := range 20001 {
			most = math.Max(most, Transmissibility(&m, body*(0.3+1.7*float64(i)/20000)))
		}
		if got := TransmissibilityPeak(&m); got < most-1e-12 || got > most*(1+1e-5) {
			t.Fatalf("%+v: %.12g, the largest of many %.12g", m, got, most)
		}
	}
}

// More damping lowers the peak of the body; a stiffer tyre raises both frequencies.
func TestMoreDampingAndStifferTyres(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		m := randomModel(r)
		m.DampingNSPerM = 0.5 * CriticalNSPerM(&m) * r.Float64()
		firm, hard := m, m
		firm.DampingNSPerM *= 1.1
		hard.TyreNPerM *= 1.1
		if !(TransmissibilityPeak(&firm) < TransmissibilityPeak(&m)) {
			t.Fatalf("%+v: more damping raises the peak", m)
		}
		if !(BodyFrequency(&hard) > BodyFrequency(&m) && HopFrequency(&hard) > HopFrequency(&m)) {
			t.Fatalf("%+v: a stiffer tyre lowers a frequency", m)
		}
	}
}
