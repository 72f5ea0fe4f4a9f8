package frame

import (
	"math"
	"testing"
)

// Closed forms of cantilevers, whichever way they point: F L³/(3 E I) across, F L/(E A) along, T L/(G J),
// and of an L of two tubes: the tip across its plane gives F a³/3EI + F b³/3EI + F b² a/GJ.
func TestFrameOfACantilever(t *testing.T) {
	tube := RigidityOf(70000, math.Pi/4*(30*30-26*26), math.Pi/64*(30*30*30*30-26*26*26*26)) // 30 × 2
	for _, u := range [][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0.6, 0.8, 0}, {1. / 3, 2. / 3, 2. / 3}} {
		var f Frame
		f.Node([3]float64{}, [6]int{Held, Held, Held, Held, Held, Held})
		tip := f.Node([3]float64{400 * u[0], 400 * u[1], 400 * u[2]}, Free)
		f.Beam(0, tip, tube)
		axes, _ := axesOf(f.at[0], f.at[tip])
		loads := make([]float64, 6)
		for i := range 3 {
			loads[i], loads[3+i] = 1000*axes[1][i]+500*axes[0][i], 2e4*axes[0][i]
		}
		x, ok := f.Solve(loads)
		if !ok {
			t.Fatal("loose")
		}
		along := func(axis, from int) (sum float64) {
			for i := range 3 {
				sum += x[from+i] * axes[axis][i]
			}
			return sum
		}
		// 17.586789 mm: 1000 N on 400 mm of 30 × 2, E 70,000 (exact)
		for _, c := range [][2]float64{{along(1, 0), 17.586789}, {along(0, 0), 500 * 400 / (70000 * 175.929189)}, {along(0, 3), 2e4 * 400 / (70000 / 2.6 * 2 * 17329.025077)}} {
			if math.Abs(c[0]-c[1]) > 1e-6*math.Max(1, c[1]) {
				t.Errorf("%v: %.8f, want %.8f", u, c[0], c[1])
			}
		}
	}
	var f Frame
	f.Node([3]float64{}, [6]int{Held, Held, Held, Held, Held, Held})
	f.Node([3]float64{300, 0, 0}, Free)
	f.Node([3]float64{300, 200, 0}, Free)
	f.Beam(0, 1, tube)
	f.Beam(1, 2, tube)
	loads := make([]float64, 12)
	loads[8] = 1000
	x, _ := f.Solve(loads)
	want := 1000 * (27e6/(3*tube.Bending) + 8e6/(3*tube.Bending) + 4e4*300/tube.Torsion)
	if math.Abs(x[8]-want) > 1e-9*want {
		t.Errorf("an L gives %.9g, want %.9g", x[8], want)
	}
}

func TestFrameThatIsLoose(t *testing.T) {
	var f Frame
	f.Node([3]float64{}, [6]int{Held, Held, Held, Own, Held, Held}) // free to twist
	f.Node([3]float64{100, 0, 0}, Free)
	f.Beam(0, 1, Rigidity{1e6, 1e8, 1e8})
	if _, ok := f.Solve(make([]float64, f.Size)); ok {
		t.Error("a shaft that turns freely is stiff")
	}
}
