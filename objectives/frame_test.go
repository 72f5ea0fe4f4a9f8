package objectives

import (
	"math"
	"testing"
)

// Closed forms of cantilevers, whichever way they point: F L³/(3 E I) across, F L/(E A) along, T L/(G J),
// and of an L of two tubes: the tip across its plane gives F a³/3EI + F b³/3EI + F b² a/GJ.
func TestFrameOfACantilever(t *testing.T) {
	size := tubeSection(&TubeRules{MinWallMM: 2}, 30.0)
	tube := roundOf(70000, size.area, size.inertia)
	for _, u := range [][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0.6, 0.8, 0}, {1. / 3, 2. / 3, 2. / 3}} {
		var f frame
		f.node([3]float64{}, [6]int{held, held, held, held, held, held})
		tip := f.node([3]float64{400 * u[0], 400 * u[1], 400 * u[2]}, free)
		f.beam(0, tip, tube)
		axes, _ := axesOf(f.at[0], f.at[tip])
		loads := make([]float64, 6)
		for i := range 3 {
			loads[i], loads[3+i] = 1000*axes[1][i]+500*axes[0][i], 2e4*axes[0][i]
		}
		x, ok := f.solve(loads)
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
	var f frame
	f.node([3]float64{}, [6]int{held, held, held, held, held, held})
	f.node([3]float64{300, 0, 0}, free)
	f.node([3]float64{300, 200, 0}, free)
	f.beam(0, 1, tube)
	f.beam(1, 2, tube)
	loads := make([]float64, 12)
	loads[8] = 1000
	x, _ := f.solve(loads)
	want := 1000 * (27e6/(3*tube.bend) + 8e6/(3*tube.bend) + 4e4*300/tube.twist)
	if math.Abs(x[8]-want) > 1e-9*want {
		t.Errorf("an L gives %.9g, want %.9g", x[8], want)
	}
}

func TestFrameThatIsLoose(t *testing.T) {
	var f frame
	f.node([3]float64{}, [6]int{held, held, held, unsaid, held, held}) // free to twist
	f.node([3]float64{100, 0, 0}, free)
	f.beam(0, 1, round{1e6, 1e8, 1e8})
	if _, ok := f.solve(make([]float64, f.size)); ok {
		t.Error("a shaft that turns freely is stiff")
	}
}
