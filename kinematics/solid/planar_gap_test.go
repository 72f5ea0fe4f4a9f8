package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics/plane"
)

// flat draws two segments in the plane; every fifth is a spot, every seventh parallel to the other,
// every eleventh shares an end with it.
func flat(r *rand.Rand, i int) (a, b [2]plane.Vec[float64]) {
	at := func() plane.Vec[float64] {
		return plane.Vec[float64]{Along: 400 * (r.Float64() - 0.5), Ahead: 400 * (r.Float64() - 0.5)}
	}
	a, b = [2]plane.Vec[float64]{at(), at()}, [2]plane.Vec[float64]{at(), at()}
	switch {
	case i%5 == 0:
		b[1] = b[0]
	case i%7 == 0:
		b[1] = b[0].Plus(a[1].Minus(a[0]).Times(2 * r.NormFloat64()))
	case i%11 == 0:
		b[0] = a[i%2]
	}
	return a, b
}

// raised is a segment of the plane so far beside the mid-plane.
func raised(g [2]plane.Vec[float64], left float64) *Segment[float64] {
	return &Segment[float64]{{g[0].Along, g[0].Ahead, left}, {g[1].Along, g[1].Ahead, left}}
}

// What is found in the plane is what is found in space, and what sampling finds.
func TestPlanarSquares(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	crossed := 0
	for i := range 1500 {
		a, b := flat(r, i)
		got := PlanarDistanceSquared(a[0], a[1], b[0], b[1])
		if _, _, want := Closest(raised(a, 0), raised(b, 0)); math.Abs(math.Sqrt(got)-math.Sqrt(want)) > 1e-6 {
			t.Fatalf("%v and %v: %g, in space %g", a, b, math.Sqrt(got), math.Sqrt(want))
		}
		if got == 0 {
			crossed++
		}
		if i < 300 {
			want := math.Sqrt(lowest(func(s float64) float64 {
				p := raised(a, 0).At(s)
				return lowest(func(u float64) float64 { d := p.minus(raised(b, 0).At(u)); return d.dot(d) }, 8)
			}, 20))
			if math.Abs(math.Sqrt(got)-want) > 1e-4 {
				t.Fatalf("%v and %v: %g, by sampling %g", a, b, math.Sqrt(got), want)
			}
		}
	}
	if crossed < 100 {
		t.Errorf("only %d crossed", crossed)
	}
}

// The ring's distance in the plane makes, with that aside, its distance in space.
func TestPlanarSquaresOfARing(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 2))
	axle := plane.Vec[float64]{}
	for i := range 1500 {
		g, _ := flat(r, i)
		left := 60 * r.Float64()
		_, want := wheel.Closest(raised(g, left))
		if got := math.Sqrt(wheel.PlanarDistanceSquared(axle, g[0], g[1]) + left*left); math.Abs(got-math.Sqrt(want)) > 1e-6 {
			t.Fatalf("%v, %g aside: %g, in space %g", g, left, got, math.Sqrt(want))
		}
	}
}

// Exact cases, mm, by hand.
func TestPlanarSquaresInExactCases(t *testing.T) {
	for _, x := range []struct {
		what           string
		a0, a1, b0, b1 plane.Vec[float64]
		want           float64
	}{
		{"crossing", plane.Vec[float64]{Along: 0, Ahead: 0}, plane.Vec[float64]{Along: 10, Ahead: 10}, plane.Vec[float64]{Along: 0, Ahead: 10}, plane.Vec[float64]{Along: 10, Ahead: 0}, 0},
		{"touching at ends", plane.Vec[float64]{Along: 0, Ahead: 0}, plane.Vec[float64]{Along: 10, Ahead: 0}, plane.Vec[float64]{Along: 10, Ahead: 0}, plane.Vec[float64]{Along: 10, Ahead: 9}, 0},
		{"parallel", plane.Vec[float64]{Along: 0, Ahead: 0}, plane.Vec[float64]{Along: 10, Ahead: 0}, plane.Vec[float64]{Along: 2, Ahead: 4}, plane.Vec[float64]{Along: 30, Ahead: 4}, 16},
		{"past the other by 3 and 4", plane.Vec[float64]{Along: 0, Ahead: 0}, plane.Vec[float64]{Along: 10, Ahead: 0}, plane.Vec[float64]{Along: 13, Ahead: 4}, plane.Vec[float64]{Along: 30, Ahead: 4}, 25},
		{"in line, 7 apart", plane.Vec[float64]{Along: 0, Ahead: 0}, plane.Vec[float64]{Along: 10, Ahead: 0}, plane.Vec[float64]{Along: 17, Ahead: 0}, plane.Vec[float64]{Along: 20, Ahead: 0}, 49},
		{"one within the other", plane.Vec[float64]{Along: 0, Ahead: 0}, plane.Vec[float64]{Along: 10, Ahead: 0}, plane.Vec[float64]{Along: 3, Ahead: 0}, plane.Vec[float64]{Along: 5, Ahead: 0}, 0},
		{"T, 2 short of it", plane.Vec[float64]{Along: 0, Ahead: 0}, plane.Vec[float64]{Along: 10, Ahead: 0}, plane.Vec[float64]{Along: 5, Ahead: 2}, plane.Vec[float64]{Along: 5, Ahead: 9}, 4},
		{"two spots", plane.Vec[float64]{Along: 1, Ahead: 1}, plane.Vec[float64]{Along: 1, Ahead: 1}, plane.Vec[float64]{Along: 4, Ahead: 5}, plane.Vec[float64]{Along: 4, Ahead: 5}, 25},
		{"a spot on a segment", plane.Vec[float64]{Along: 4, Ahead: 0}, plane.Vec[float64]{Along: 4, Ahead: 0}, plane.Vec[float64]{Along: 0, Ahead: 0}, plane.Vec[float64]{Along: 10, Ahead: 0}, 0},
	} {
		for _, got := range []float64{PlanarDistanceSquared(x.a0, x.a1, x.b0, x.b1), PlanarDistanceSquared(x.b1, x.b0, x.a0, x.a1)} {
			if math.Abs(got-x.want) > 1e-12 {
				t.Errorf("%s: %g, want %g", x.what, got, x.want)
			}
		}
	}
}
