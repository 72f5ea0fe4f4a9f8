package quarter

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/objectives/ride"
)

// By hand: a damper that is firm up to 0.1 m/s and soft beyond, and rebounds in proportion to speed.
func TestCurveIsAPolylineThroughTheOrigin(t *testing.T) {
	c := NewCurve([]CurvePoint{{-1, -2000}, {0.1, 300}, {0.5, 500}})
	for speed, want := range map[float64]float64{
		-3: -6000, -1: -2000, -0.5: -1000, 0: 0, 0.05: 150, 0.1: 300, 0.2: 350, 0.5: 500, 1.5: 1000,
	} {
		if got := c.Force(speed); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g m/s: %g N, want %g", speed, got, want)
		}
	}
	compression, rebound := c.Chords()
	if math.Abs(compression-1750) > 1e-9 || math.Abs(rebound-2000) > 1e-9 {
		t.Errorf("chords %g and %g", compression, rebound)
	}
}

// A curve goes through its points, its force never falls, and it is that of the same points mirrored.
func TestCurvesMirroredAndRising(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	for range 200 {
		points := []CurvePoint{{}}
		for range 1 + r.IntN(4) {
			last := points[len(points)-1]
			points = append(points, CurvePoint{last.SpeedMPerS + 0.01 + r.Float64(), last.ForceN + 1 + 500*r.Float64()})
		}
		mirrored := []CurvePoint{}
		for _, p := range points[1:] {
			mirrored = append(mirrored, CurvePoint{-p.SpeedMPerS, -p.ForceN})
		}
		slices.Reverse(mirrored)
		c := NewCurve(append(mirrored, points[r.IntN(2):]...)) // with the origin or without
		for _, p := range points {
			if math.Abs(c.Force(p.SpeedMPerS)-p.ForceN) > 1e-9 {
				t.Fatalf("%v: not through %v", c.points, p)
			}
		}
		before := math.Inf(-1)
		for speed := -6.0; speed < 6; speed += 0.01 {
			f := c.Force(speed)
			if f < before || math.Abs(f+c.Force(-speed)) > 1e-9*(1+math.Abs(f)) {
				t.Fatalf("%v: %g N at %g m/s", c.points, f, speed)
			}
			before = f
		}
	}
}

// The damper that fits best is the one with the least misfit, the first of several.
func TestFittingDamper(t *testing.T) {
	sold := []Damper{
		{Name: "soft", Compression: ride.Band{Low: 300, High: 500}, Rebound: ride.Band{Low: 600, High: 1000}},
		{Name: "a", Compression: ride.Band{Low: 500, High: 900}, Rebound: ride.Band{Low: 900, High: 2000}},
		{Name: "b", Compression: ride.Band{Low: 400, High: 900}, Rebound: ride.Band{Low: 900, High: 2000}},
	}
	for _, x := range []struct {
		compression, rebound float64
		want                 string
	}{{600, 1200, "a"}, {450, 1100, "b"}, {330, 660, "soft"}, {2000, 4000, "a"}} {
		if got := Fitting(sold, x.compression, x.rebound); got.Name != x.want {
			t.Errorf("%g and %g: %s, want %s", x.compression, x.rebound, got.Name, x.want)
		}
	}
	if Fitting(nil, 1, 1) != nil {
		t.Error("a damper fits where none is listed")
	}
}
