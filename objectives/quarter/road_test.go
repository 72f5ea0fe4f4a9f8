package quarter

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// covariance of the state on a road whose vertical velocity is white with a two-sided density s: the solution of the
// Lyapunov equation A P + P Aᵀ + s b bᵀ = 0, as one system of linear equations.
func covariance(t *testing.T, m *Model[float64], s float64) *mat.Dense {
	t.Helper()
	a := state(m)
	system := mat.NewDense(16, 16, nil)
	right := mat.NewVecDense(16, nil)
	for i := range 4 {
		for j := range 4 {
			for k := range 4 {
				system.Set(4*i+j, 4*k+j, system.At(4*i+j, 4*k+j)+a.At(i, k))
				system.Set(4*i+j, 4*i+k, system.At(4*i+j, 4*i+k)+a.At(j, k))
			}
		}
	}
	right.SetVec(4*2+2, -s) // the road moves one end of the tyre
	var p mat.VecDense
	if err := p.SolveVec(system, right); err != nil {
		t.Fatal(err)
	}
	return mat.NewDense(4, 4, p.RawVector().Data)
}

// form is a quadratic form of the covariance: the variance of a sum of states.
func form(p *mat.Dense, of []float64) float64 {
	v := mat.NewVecDense(4, of)
	return mat.Inner(v, p, v)
}

// The closed forms against the Lyapunov equation, to 1e-9. The variances are compared over what balance leaves of rounding:
// masses, rates and damping of bicycles and motorcycles.
func TestRoadVariancesAgainstLyapunov(t *testing.T) {
	r, most := rand.New(rand.NewPCG(7, 8)), 0.0
	for range 300 {
		m := randomModel(r)
		on := Road{Class: Classes[r.IntN(8)], SpeedMPerS: 1 + 20*r.Float64()}
		p := covariance(t, &m, on.intensity())
		k, c := m.WheelNPerM/m.SprungKG, m.DampingNSPerM/m.SprungKG
		for _, x := range []struct {
			what      string
			got, want float64
		}{
			{"acceleration", AccelerationRMS(&m, &on), math.Sqrt(form(p, []float64{-k, -c, 0, c}))},
			{"wheel load", LoadRMS(&m, &on), m.TyreNPerM * math.Sqrt(p.At(2, 2))},
			{"stroke", StrokeRMS(&m, &on), math.Sqrt(p.At(0, 0))},
		} {
			most = max(most, math.Abs(x.got/x.want-1))
			if math.Abs(x.got-x.want) > 1e-9*x.want {
				t.Fatalf("%+v: %s %.15g, by the Lyapunov equation %.15g", m, x.what, x.got, x.want)
			}
		}
	}
	t.Logf("largest difference %.2g of the value", most)
}

// The best damping in closed form against a search by golden sections for the smallest variance.
func TestBestDampingAgainstASearch(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	on := Road{Class: 'C', SpeedMPerS: 7}
	golden := func(m Model[float64], of func(*Model[float64], *Road) float64) float64 {
		value := func(logarithm float64) float64 {
			m.DampingNSPerM = math.Exp(logarithm)
			return of(&m, &on)
		}
		const phi = 0.6180339887498949
		a, b := math.Log(1), math.Log(1e6)
		for range 80 {
			x, y := b-phi*(b-a), a+phi*(b-a)
			if value(x) < value(y) {
				b = y
			} else {
				a = x
			}
		}
		return math.Exp((a + b) / 2)
	}
	for range 100 {
		m := randomModel(r)
		// 1e-6: around a minimum values agree to rounding within about its square root.
		if got, want := BestForComfort(&m), golden(m, AccelerationRMS[float64]); math.Abs(got-want) > 1e-6*want {
			t.Fatalf("%+v: comfort %.9g, found %.9g", m, got, want)
		}
		if got, want := BestForGrip(&m), golden(m, LoadRMS[float64]); math.Abs(got-want) > 1e-6*want {
			t.Fatalf("%+v: grip %.9g, found %.9g", m, got, want)
		}
	}
}

// ISO 8608 with waviness 2: 16e-6 m³ at 0.1/m in class A (mathworks.com/matlabcentral 433320), four times as much for each
// class that follows: B 64, C 256, D 1024, E 4096 (from memory of the standard).
func TestRoughnessOfISO8608(t *testing.T) {
	for class, want := range map[byte]float64{'A': 16e-6, 'B': 64e-6, 'C': 256e-6, 'D': 1024e-6, 'E': 4096e-6} {
		if r := (Road{Class: class}); math.Abs(r.Roughness()-want) > 1e-15 {
			t.Errorf("class %c: %g m³, want %g", class, r.Roughness(), want)
		}
	}
}

// A rougher road or a higher speed multiplies every root mean square by the root of the ratio.
func TestRoadScalesEveryResponse(t *testing.T) {
	m := Model[float64]{50, 3.5, 6e3, 100e3, 400}
	slow, fast := Road{'B', 4}, Road{'C', 8}
	for what, of := range map[string]func(*Model[float64], *Road) float64{
		"acceleration": AccelerationRMS[float64], "load": LoadRMS[float64], "stroke": StrokeRMS[float64],
	} {
		if got := of(&m, &fast) / of(&m, &slow); math.Abs(got-math.Sqrt(8)) > 1e-12 {
			t.Errorf("%s: %g times", what, got)
		}
	}
}
