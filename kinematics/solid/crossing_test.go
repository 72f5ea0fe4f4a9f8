package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics/plane"
)

type vec = plane.Vec[float64]

// shifted is a segment moved so far in a direction.
func shifted(g [2]vec, angle, by float64) [2]vec {
	sin, cos := math.Sincos(angle)
	move := vec{Along: by * cos, Ahead: by * sin}
	return [2]vec{g[0].Plus(move), g[1].Plus(move)}
}

func depth(a, b [2]vec) float64 {
	d, _ := CrossingDepth(a[0], a[1], b[0], b[1])
	return d
}

// The depth compared with a search that only asks whether two segments meet: it moves one away in 720 directions, in each as far
// as they meet.
func TestCrossingDepthIsTheShortestWayApart(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 4))
	crossed := 0
	for i := range 2000 {
		a, b := flat(r, i)
		got, end := CrossingDepth(a[0], a[1], b[0], b[1])
		meet := PlanarDistanceSquared(a[0], a[1], b[0], b[1]) == 0
		if !meet {
			if got != 0 {
				t.Fatalf("%v and %v do not meet; depth %g", a, b, got)
			}
			continue
		}
		if got == 0 {
			continue // they only touch
		}
		if off := math.Abs(DepthOfEnd(a[0], a[1], b[0], b[1], end) - got); off > 1e-9 {
			t.Fatalf("%v and %v: %g, of end %d %g more", a, b, got, end, off)
		}
		if crossed++; crossed > 60 {
			break
		}
		least := math.Inf(1)
		for k := range 720 {
			angle, low, high := float64(k)*math.Pi/360, 0.0, 1200.0
			for range 40 {
				mid := (low + high) / 2
				if c := shifted(b, angle, mid); PlanarDistanceSquared(a[0], a[1], c[0], c[1]) == 0 {
					low = mid
				} else {
					high = mid
				}
			}
			least = min(least, high)
		}
		if least < got-1e-6 || least > got/math.Cos(math.Pi/720)+1e-6 {
			t.Fatalf("%v and %v: %g, by trying all directions %g", a, b, got, least)
		}
	}
	if crossed < 60 {
		t.Errorf("only %d crossed", crossed)
	}
}

// By hand, mm: a cross whose upright stands 3 from the end of the bar, and one whose bar is 2 short of leaving it.
func TestCrossingDepthByHand(t *testing.T) {
	bar := [2]vec{{Along: 0, Ahead: 0}, {Along: 0, Ahead: 10}}
	for _, x := range []struct {
		other [2]vec
		want  float64
	}{
		{[2]vec{{Along: -20, Ahead: 3}, {Along: 20, Ahead: 3}}, 3},
		{[2]vec{{Along: -2, Ahead: 5}, {Along: 20, Ahead: 5}}, 2},
		{[2]vec{{Along: -20, Ahead: 13}, {Along: 20, Ahead: 13}}, 0},
		{[2]vec{{Along: 0, Ahead: 3}, {Along: 0, Ahead: 30}}, 0}, // in line: they touch all along
		{[2]vec{{Along: -1, Ahead: 4}, {Along: 1, Ahead: 6}}, 1},
	} {
		if got := depth(bar, x.other); math.Abs(got-x.want) > 1e-12 {
			t.Errorf("%v: %g, by hand %g", x.other, got, x.want)
		}
	}
}

// The order of segments and ends makes no difference, nor does a mirror; pulled apart, a crossing gets no deeper than it was by more
// than the way, and pulled the shortest way out its depth falls by just that way, down to 0.
func TestCrossingDepthFallsOnTheWayApart(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 5))
	crossed := 0
	for i := range 4000 {
		a, b := flat(r, i)
		d, end := CrossingDepth(a[0], a[1], b[0], b[1])
		mirror := func(g [2]vec) [2]vec {
			return [2]vec{{Along: g[0].Along, Ahead: -g[0].Ahead}, {Along: g[1].Along, Ahead: -g[1].Ahead}}
		}
		for _, other := range []float64{depth(b, a), depth([2]vec{a[1], a[0]}, b), depth(mirror(a), mirror(b))} {
			if math.Abs(other-d) > 1e-9 {
				t.Fatalf("%v and %v: %g, otherwise named %g", a, b, d, other)
			}
		}
		angle, by := 2*math.Pi*r.Float64(), 5*r.Float64()
		if moved := depth(a, shifted(b, angle, by)); math.Abs(moved-d) > by+1e-9 {
			t.Fatalf("%v and %v: from %g to %g by %g mm", a, b, d, moved, by)
		}
		if d == 0 {
			continue
		}
		crossed++
		at, line := a, b
		if end > 1 {
			at, line = b, a
		}
		off, way := at[end%2].Minus(line[0]), line[1].Minus(line[0])
		out := way.Quarter().Times(-way.Cross(off) / way.Dot(way)) // brings the end onto the line
		if end > 1 {
			out = out.Times(-1) // it is the first segment that moves
		}
		for _, part := range []float64{0.25, 0.5, 0.75, 1.0000001} {
			c := [2]vec{a[0].Plus(out.Times(part)), a[1].Plus(out.Times(part))}
			if got, want := depth(c, b), d*math.Max(0, 1-part); math.Abs(got-want) > 1e-6 {
				t.Fatalf("%v and %v: %g, moved %g of the way apart %g", a, b, d, part, got)
			}
		}
	}
	if crossed < 200 {
		t.Errorf("only %d crossed", crossed)
	}
}

// How deep a segment reaches into a disc, compared with sampling along it.
func TestDepthInDisc(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 6))
	inside := 0
	for i := range 1000 {
		g, _ := flat(r, i)
		axle := vec{Along: 60 * r.NormFloat64(), Ahead: 60 * r.NormFloat64()}
		got, on := wheel.DepthInDisc(axle, g[0], g[1])
		near := math.Sqrt(lowest(func(s float64) float64 {
			p := g[0].Plus(g[1].Minus(g[0]).Times(s)).Minus(axle)
			return p.Dot(p)
		}, 20))
		if want := math.Max(0, wheel.RadiusMM-near); math.Abs(got-want) > 1e-3 || on < 0 || on > 1 {
			t.Fatalf("%v about %v: %g at %g, by sampling %g", g, axle, got, on, want)
		}
		if got > 0 {
			inside++
		}
	}
	if inside < 100 || inside > 990 {
		t.Errorf("%d of 1000 were inside", inside)
	}
}
