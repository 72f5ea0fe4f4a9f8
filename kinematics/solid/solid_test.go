package solid

import (
	"math"
	"math/rand/v2"
	"testing"
)

// somewhere draws a segment of a few hundred mm; every fifth lies in the mid-plane, every seventh
// across it, every eleventh has no length.
func somewhere(r *rand.Rand, i int) *Segment[float64] {
	spot := func() Spot[float64] {
		return Spot[float64]{400 * (r.Float64() - 0.5), 400 * (r.Float64() - 0.5), 200 * (r.Float64() - 0.5)}
	}
	g := &Segment[float64]{spot(), spot()}
	switch {
	case i%5 == 0:
		g[1].Left = g[0].Left
	case i%7 == 0:
		g[1].Along, g[1].Ahead = g[0].Along, g[0].Ahead
	case i%11 == 0:
		g[1] = g[0]
	}
	return g
}

// lowest looks for the smallest value on 0..1 by sampling, ever closer around the best samples.
func lowest(of func(float64) float64, samples int) float64 {
	from, to := 0.0, 1.0
	best, at := math.Inf(1), 0.0
	for range 10 {
		for i := range samples + 1 {
			s := from + (to-from)*float64(i)/float64(samples)
			if v := of(s); v < best {
				best, at = v, s
			}
		}
		step := (to - from) / float64(samples)
		from, to = max(0, at-step), min(1, at+step)
	}
	return best
}

func TestSegmentsAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for i := range 600 {
		a, b := somewhere(r, i), somewhere(r, i/3)
		if i%13 == 0 { // parallel, of another length
			for k := range b {
				b[k] = a.At(0.3 + 2*float64(k)*r.Float64())
				b[k].Along += 20
			}
		}
		s, u, square := Closest(a, b)
		if s < 0 || s > 1 || u < 0 || u > 1 {
			t.Fatalf("parts %g and %g of the way", s, u)
		}
		// The distance to a segment is convex along the other one, so sampling cannot go astray.
		want := lowest(func(s float64) float64 {
			p := a.At(s)
			return lowest(func(u float64) float64 { d := p.minus(b.At(u)); return d.dot(d) }, 8)
		}, 20)
		if got := SegmentDistance(a, b, s, u); math.Abs(got-math.Sqrt(want)) > 1e-4 || math.Abs(got*got-square) > 1e-6 {
			t.Fatalf("%v and %v: %g, by sampling %g", a, b, got, math.Sqrt(want))
		}
	}
}

// Exact cases, mm, by hand.
func TestSegmentsInExactCases(t *testing.T) {
	seg := func(x0, y0, z0, x1, y1, z1 float64) *Segment[float64] {
		return &Segment[float64]{{x0, y0, z0}, {x1, y1, z1}}
	}
	for _, x := range []struct {
		what string
		a, b *Segment[float64]
		want float64
	}{
		{"crossing", seg(0, 0, 0, 10, 10, 0), seg(0, 10, 0, 10, 0, 0), 0},
		{"crossing 3 above each other", seg(0, 0, 0, 10, 10, 0), seg(0, 10, 3, 10, 0, 3), 3},
		{"parallel beside each other", seg(0, 0, 0, 10, 0, 0), seg(2, 4, 0, 30, 4, 0), 4},
		{"parallel, one past the other by 3 and 4", seg(0, 0, 0, 10, 0, 0), seg(13, 4, 0, 30, 4, 0), 5},
		{"antiparallel", seg(0, 0, 0, 10, 0, 0), seg(30, 4, 0, 13, 4, 0), 5},
		{"coaxial, 7 apart", seg(0, 0, 0, 10, 0, 0), seg(17, 0, 0, 20, 0, 0), 7},
		{"coaxial, one within the other", seg(0, 0, 0, 10, 0, 0), seg(3, 0, 0, 5, 0, 0), 0},
		{"touching at ends", seg(0, 0, 0, 10, 0, 0), seg(10, 0, 0, 10, 9, 2), 0},
		{"T, 2 short of it", seg(0, 0, 0, 10, 0, 0), seg(5, 2, 0, 5, 9, 0), 2},
		{"end to end in space", seg(0, 0, 0, 1, 0, 0), seg(3, 3, 1, 9, 9, 9), math.Sqrt(4 + 9 + 1)},
		{"spot and segment", seg(5, 6, 0, 5, 6, 0), seg(0, 0, 0, 10, 0, 0), 6},
		{"segment and spot", seg(0, 0, 0, 10, 0, 0), seg(-3, 4, 0, -3, 4, 0), 5},
		{"two spots", seg(0, 0, 0, 0, 0, 0), seg(2, 3, 6, 2, 3, 6), 7},
		{"nearly parallel: 1e-7 off over 1000", seg(0, 0, 0, 1000, 0, 0), seg(0, 1, 0, 1000, 1e-4, 0), 1e-4},
	} {
		for _, pair := range [][2]*Segment[float64]{{x.a, x.b}, {x.b, x.a}} {
			s, u, square := Closest(pair[0], pair[1])
			if got := SegmentDistance(pair[0], pair[1], s, u); math.Abs(got-x.want) > 1e-9 || math.Abs(square-x.want*x.want) > 1e-9 {
				t.Errorf("%s: %g, want %g", x.what, got, x.want)
			}
		}
	}
}

// A wheel among the segments, its axle at the origin.
var wheel = Ring{RadiusMM: 120}

func square(x float64) float64 { return x * x }

func TestRingAndDiscAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 2))
	inner := 0
	for i := range 1500 {
		g := somewhere(r, i)
		if i%3 == 0 { // a chord, where there are two places to be closest
			g[0].Left, g[1].Left = 30*r.NormFloat64(), 30*r.NormFloat64()
		}
		on, squared := wheel.Closest(g)
		want := math.Sqrt(lowest(func(s float64) float64 { return square(RingDistance(wheel, g, s)) }, 2000))
		if got := RingDistance(wheel, g, on); math.Abs(got-want) > 1e-6 || math.Abs(got*got-squared) > 1e-6 {
			t.Fatalf("ring and %v: %g, by sampling %g", g, got, want)
		}
		if on > 0 && on < 1 {
			inner++
		}
		web, squared := wheel.ClosestOnDisc(g, on)
		want = math.Sqrt(lowest(func(s float64) float64 { return square(DiscDistance(wheel, g, s)) }, 2000))
		if got := DiscDistance(wheel, g, web); math.Abs(got-want) > 1e-4 || math.Abs(got*got-squared) > 1e-6 {
			t.Fatalf("disc and %v: %g, by sampling %g", g, got, want)
		}
	}
	if inner < 300 {
		t.Errorf("only %d segments were closest between their ends", inner)
	}
}

// The ring itself by sampling, so that its formula is no judge of its own.
func TestRingAgainstItsSpots(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 3))
	for i := range 100 {
		g := somewhere(r, i)
		on, _ := wheel.Closest(g)
		best := math.Inf(1)
		for k := range 2000 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 2000)
			spot := Spot[float64]{120 * cos, 120 * sin, 0}
			d := spot.minus(g.At(nearest(g, spot)))
			best = min(best, d.dot(d))
		}
		// Spots 0.377 mm apart on the ring: the nearest is at most half of that away.
		if got := RingDistance(wheel, g, on); math.Sqrt(best)-got > 0.19 || got-math.Sqrt(best) > 1e-9 {
			t.Fatalf("%v: %g, from spots of the ring %g", g, got, math.Sqrt(best))
		}
	}
}

// Exact cases, mm, by hand: a ring of radius 100 about the origin.
func TestRingAndDiscInExactCases(t *testing.T) {
	ring := Ring{RadiusMM: 100}
	for _, x := range []struct {
		what      string
		g         Segment[float64]
		ring, web float64
	}{
		{"the axle", Segment[float64]{{0, 0, -80}, {0, 0, 80}}, 100, 0},
		{"beside the axle", Segment[float64]{{0, 0, 40}, {0, 0, 80}}, math.Hypot(100, 40), 40},
		{"a shaft outside", Segment[float64]{{150, 0, -80}, {150, 0, 80}}, 50, 50},
		{"a shaft inside", Segment[float64]{{0, 70, -80}, {0, 70, 80}}, 30, 0},
		{"a shaft on the ring", Segment[float64]{{60, 80, -80}, {60, 80, 80}}, 0, 0},
		{"a diameter, 25 beside", Segment[float64]{{-300, 0, 25}, {300, 0, 25}}, 25, 25},
		{"a chord that reaches the ring on one side", Segment[float64]{{0, 0, 25}, {0, 300, 25}}, 25, 25},
		{"a spoke short of the ring by 30", Segment[float64]{{0, 10, 40}, {0, 70, 40}}, 50, 40},
		{"a tangent from outside", Segment[float64]{{130, -50, 0}, {130, 50, 0}}, 30, 30},
		{"a tangent, 40 beside", Segment[float64]{{130, -50, 40}, {130, 50, 40}}, 50, 50},
		{"a spot on the axle", Segment[float64]{{0, 0, 0}, {0, 0, 0}}, 100, 0},
		{"a spot outside", Segment[float64]{{0, 103, 4}, {0, 103, 4}}, 5, 5},
		{"slanting through the disc", Segment[float64]{{-10, 0, -10}, {10, 0, 10}}, math.Sqrt(90*90 + 100), 0},
	} {
		on, _ := ring.Closest(&x.g)
		if got := RingDistance(ring, &x.g, on); math.Abs(got-x.ring) > 1e-9 {
			t.Errorf("%s: %g from the ring, want %g", x.what, got, x.ring)
		}
		web, _ := ring.ClosestOnDisc(&x.g, on)
		if got := DiscDistance(ring, &x.g, web); math.Abs(got-x.web) > 1e-9 {
			t.Errorf("%s: %g from the disc, want %g", x.what, got, x.web)
		}
	}
}

// The derivative at the parts found is that of the smallest distance: envelope theorem, checked by
// central differences of the whole search.
func TestDerivativesOfGaps(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 4))
	const h = 1e-5
	checked := 0
	for i := range 600 {
		a, b, va, vb := somewhere(r, i), somewhere(r, i/2), somewhere(r, 1), somewhere(r, 1)
		moved := func(g, v *Segment[float64], by float64) *Segment[float64] {
			var m Segment[float64]
			for k := range g {
				m[k] = Spot[float64]{g[k].Along + by*v[k].Along, g[k].Ahead + by*v[k].Ahead, g[k].Left + by*v[k].Left}
			}
			return &m
		}
		lifted := func(g, v *Segment[float64]) *Segment[complex128] {
			var m Segment[complex128]
			for k := range g {
				m[k] = Spot[complex128]{complex(g[k].Along, 1e-40*v[k].Along), complex(g[k].Ahead, 1e-40*v[k].Ahead), complex(g[k].Left, 1e-40*v[k].Left)}
			}
			return &m
		}
		s, u, _ := Closest(a, b)
		on, _ := wheel.Closest(a)
		web, _ := wheel.ClosestOnDisc(a, on)
		for k, exact := range []float64{
			imag(SegmentDistance(lifted(a, va), lifted(b, vb), s, u)) / 1e-40,
			imag(RingDistance(wheel, lifted(a, va), on)) / 1e-40,
			imag(DiscDistance(wheel, lifted(a, va), web)) / 1e-40,
		} {
			gap := func(by float64) float64 {
				a, b := moved(a, va, by), moved(b, vb, by)
				on, square := wheel.Closest(a)
				switch k {
				case 0:
					_, _, square = Closest(a, b)
				case 2:
					_, square = wheel.ClosestOnDisc(a, on)
				}
				return math.Sqrt(square)
			}
			low, mid, high := gap(-h), gap(0), gap(h)
			if math.Abs(high-2*mid+low) > 1e-3*h || mid < 1 {
				continue // two spots are equally close, or the axes cross
			}
			if central := (high - low) / (2 * h); math.Abs(central-exact) > 1e-4*(1+math.Abs(central)) {
				t.Fatalf("gap %d of %v and %v: exact %g, central difference %g", k, a, b, exact, central)
			}
			checked++
		}
	}
	if checked < 500 {
		t.Fatalf("only %d derivatives were checked", checked)
	}
}

func BenchmarkClosest(b *testing.B) {
	r := rand.New(rand.NewPCG(3, 1))
	var all [64][2]*Segment[float64]
	for i := range all {
		all[i] = [2]*Segment[float64]{somewhere(r, 1), somewhere(r, 1)}
	}
	i := 0
	for b.Loop() {
		Closest(all[i&63][0], all[i&63][1])
		i++
	}
}

func BenchmarkRingClosest(b *testing.B) {
	r := rand.New(rand.NewPCG(3, 1))
	var all [64]*Segment[float64]
	for i := range all {
		all[i] = somewhere(r, 1)
	}
	i := 0
	for b.Loop() {
		wheel.Closest(all[i&63])
		i++
	}
}
