package quarter

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Published quarter models and what they give.
//
// The first is worked in a textbook of chassis engineering (fliphtml5.com/osspz/szqt, page 220), which rounds its quadratic:
// 7.87 rad/s or 1.25 Hz, 68.73 rad/s or 10.9 Hz, and a ratio of the amplitudes in the body's mode of 0.104; without that
// rounding 7.87863 and 68.70862 rad/s. The parameters of the second are those of a bus in a university tutorial on
// suspension, its frequencies those of an independent eigenvalue problem. The third is a motorcycle's, from a public model
// file: fork 9 N/mm and 550 N·s/m, tyre 115 N/mm, front load 1250 N, wheel 25.6 kg, fork lower 17.5 kg; its figures are
// computed from these.
var published = []struct {
	what                    string
	m                       Model[float64]
	bodyHz, hopHz, slop     float64
	ratio, amplitude, exact float64 // damping ratio; unsprung over sprung amplitude in the body's mode; 0: not published
}{
	{"textbook, as printed", Model[float64]{317.5, 45.4, 22e3, 192e3, 1}, 7.87 / (2 * math.Pi), 68.73 / (2 * math.Pi), 0.005, 0, 0.104, 5e-4},
	{"textbook, unrounded", Model[float64]{317.5, 45.4, 22e3, 192e3, 1}, 7.87863 / (2 * math.Pi), 68.70862 / (2 * math.Pi), 1e-6, 0, 0, 0},
	{"bus", Model[float64]{2500, 320, 80e3, 500e3, 350}, 0.834891, 6.784150, 5e-7, 0, 0, 0},
	{"motorcycle", Model[float64]{1250/9.80665 - 43.1, 43.1, 9e3, 115e3, 550}, 1.581, 8.549, 5e-4, 0.316, 0, 5e-4},
}

func TestPublishedQuarterModels(t *testing.T) {
	for _, x := range published {
		if body, hop := BodyFrequency(&x.m), HopFrequency(&x.m); math.Abs(body-x.bodyHz) > x.slop || math.Abs(hop-x.hopHz) > x.slop {
			t.Errorf("%s: %.6f and %.6f Hz, want %.6f and %.6f", x.what, body, hop, x.bodyHz, x.hopHz)
		}
		if got := DampingRatio(&x.m); x.ratio > 0 && math.Abs(got-x.ratio) > x.exact {
			t.Errorf("%s: damping ratio %.4f, want %.4f", x.what, got, x.ratio)
		}
		if x.amplitude > 0 {
			omega := 2 * math.Pi * BodyFrequency(&x.m)
			if got := x.m.WheelNPerM / (x.m.WheelNPerM + x.m.TyreNPerM - x.m.UnsprungKG*omega*omega); math.Abs(got-x.amplitude) > x.exact {
				t.Errorf("%s: amplitudes %.4f, want %.4f", x.what, got, x.amplitude)
			}
		}
	}
}

// Wheel hop with both springs in parallel, the body at rest: the same textbook, page 224, 20.63 and 300 N/mm on 40 kg,
// 14.25 Hz, met on cobbles of 0.2 m at 2.85 m/s.
func TestHopOnBothSprings(t *testing.T) {
	m := Model[float64]{1e12, 40, 20.63e3, 300e3, 1}
	if got := HopFrequency(&m); math.Abs(got-14.25) > 0.005 || math.Abs(2.85/0.2-got) > 0.005 {
		t.Errorf("%.4f Hz", got)
	}
}

// state is the model's system matrix in suspension stroke, body velocity, tyre deflection, wheel velocity.
func state(m *Model[float64]) *mat.Dense {
	k, c, tyre, s, u := m.WheelNPerM, m.DampingNSPerM, m.TyreNPerM, m.SprungKG, m.UnsprungKG
	return mat.NewDense(4, 4, []float64{
		0, 1, 0, -1,
		-k / s, -c / s, 0, c / s,
		0, 0, 0, 1,
		k / u, c / u, -tyre / u, -c / u,
	})
}

// The frequencies are those of the eigenvalues without damping. With a light wheel on a stiff tyre the body is a system of the
// second order: ζ = c / (2 √(k m)), and its damped frequency is √(1 − ζ²) of the undamped one (magzter.com, article on
// damping, January 2021).
func TestEigenvalues(t *testing.T) {
	eigen := func(m Model[float64]) (body, hop complex128) {
		var e mat.Eigen
		if !e.Factorize(state(&m), mat.EigenNone) {
			t.Fatal("no eigenvalues")
		}
		body = complex(math.Inf(1), 0)
		for _, v := range e.Values(nil) {
			if imag(v) <= 0 {
				continue
			}
			if cmplx.Abs(v) < cmplx.Abs(body) {
				body = v
			}
			if cmplx.Abs(v) > cmplx.Abs(hop) {
				hop = v
			}
		}
		return body, hop
	}
	for _, x := range published {
		free := x.m
		free.DampingNSPerM = 0
		body, hop := eigen(free)
		if a, b := 2*math.Pi*BodyFrequency(&free), 2*math.Pi*HopFrequency(&free); math.Abs(a-imag(body)) > 1e-9*a || math.Abs(b-imag(hop)) > 1e-9*b {
			t.Errorf("%s: %.12g and %.12g rad/s, eigenvalues %v and %v", x.what, a, b, body, hop)
		}
	}
	for _, ratio := range []float64{0.1, 0.4, 0.7} {
		m := Model[float64]{45, 1e-4, 6e3, 1e9, 0}
		m.DampingNSPerM = ratio * CriticalNSPerM(&m)
		body, _ := eigen(m)
		undamped := math.Sqrt(6e3 / 45.0)
		want := complex(-ratio*undamped, undamped*math.Sqrt(1-ratio*ratio))
		if cmplx.Abs(body-want) > 1e-4*undamped { // of the order of k / k_t and m_u / m_s
			t.Errorf("ratio %g: %v, want %v", ratio, body, want)
		}
		if got := DampingRatio(&m); math.Abs(got-ratio) > 1e-12 {
			t.Errorf("ratio %g: %g", ratio, got)
		}
	}
}
