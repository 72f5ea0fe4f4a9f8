package testbed

import (
	"math"
	"testing"

	"forkfront/optimize/problem"
)

// OSY inside all of its constraints: the definitions in Deb (2001), recalled, by hand. Its
// front has x4 = x6 = 0 and would not show a wrong sign of these.
func TestOSYAtAPoint(t *testing.T) {
	out := evaluated(OSY(), []float64{3, 1, 2, 1, 2, 5})
	for i, want := range []float64{-(25 + 1 + 1 + 9 + 1), 9 + 1 + 4 + 1 + 4 + 25} {
		if out.F[i] != want {
			t.Errorf("objective %d is %g, want %g", i+1, out.F[i], want)
		}
	}
	for i, want := range []float64{(2.0 - 4) / 2, (4.0 - 6) / 6, (1.0 - 3 - 2) / 2, (3.0 - 3 - 2) / 2, (1.0 + 1 - 4) / 4, (4.0 - 1 - 5) / 4} {
		if math.Abs(out.G[i]-want) > 1e-15 {
			t.Errorf("constraint %d is %g, want %g", i+1, out.G[i], want)
		}
	}
}

// Where all positions come to v, a front of WFG4 to 9 in two objectives is at
// (2 sin(πv/2), 4 cos(πv/2)), by the paper's concave shapes: the ellipse by itself would not show
// objectives that are the wrong way round or positions that are biased by the wrong mean.
// WFG4's known positions are known by value at the ends only.
func TestWFGPositions(t *testing.T) {
	for number := 4; number <= 9; number++ {
		for _, v := range []float64{0, 0.3, 1} {
			if number == 4 && v == 0.3 {
				continue
			}
			p, y := WFG(number, 2), fill(24, 0.35)
			wfgPlace(number, 4, 2, y, func() float64 { return v })
			for i := range y {
				y[i] *= 2 * float64(i+1)
			}
			sin, cos := math.Sincos(v * math.Pi / 2)
			if f := evaluated(p, y).F; math.Abs(f[0]-2*sin) > rounding || math.Abs(f[1]-4*cos) > rounding {
				t.Errorf("%s at %g: %v, want %g and %g", p.Name, v, f, 2*sin, 4*cos)
			}
		}
	}
}

// The patches of C2-DTLZ2 reach 0.4 from the four centres (Jain and Deb 2014, recalled), and
// the volume is that of their points on a grid of angles, whose steps take some of it.
func TestC2DTLZ2Patches(t *testing.T) {
	third := 1 / math.Sqrt(3)
	for _, centre := range [][]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {third, third, third}} {
		for off, want := range map[float64]float64{0: -0.16, 0.39: 0.39*0.39 - 0.16, 0.41: 0.41*0.41 - 0.16} {
			f := []float64{centre[0] + off*0.6, centre[1], centre[2] + off*0.8}
			if got := offPatches(f); math.Abs(got-want) > 1e-12 {
				t.Errorf("%g from %v: %g, want %g", off, centre, got, want)
			}
		}
	}
	const steps = 1000
	p, x := C2DTLZ2(), fill(12, 0.5)
	var front []problem.Candidate
	for i := range steps + 1 {
		for k := range steps + 1 {
			x[0], x[1] = float64(i)/steps, float64(k)/steps
			if out := evaluated(p, x); out.Feasible() {
				front = append(front, problem.Candidate{Outcome: out})
			}
		}
	}
	if share := p.Share(front); !(share > 0.999 && share < 1.0001) {
		t.Errorf("%d points of the front have a share of %.6f, want nearly 1", len(front), share)
	} else {
		t.Logf("%d points, share %.6f", len(front), share)
	}
}
