package jobs

import (
	"math"
	"math/cmplx"
	"testing"

	"forkfront/jobs/files"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
	"forkfront/objectives"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
)

const degree = math.Pi / 180

type layout = []kinematics.Vec[float64]

// linkage reads a mechanism file of the tests.
func linkage(t testing.TB, name string) *mechanism.Mechanism {
	t.Helper()
	path := "testdata/linkages/" + name + ".yaml"
	m, _, err := files.ReadMechanism(path, opened(t, path))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// laid puts points, as x + iy, into a mechanism's order; x is along and y is ahead.
func laid(m *mechanism.Mechanism, at map[string]complex128) layout {
	out := make(layout, len(m.Points))
	for name, z := range at {
		out[m.Point(name)] = kinematics.Vec[float64]{Along: real(z), Ahead: imag(z)}
	}
	return out
}

// meet is the point at distance ra from a and rb from b, to the left of the way from a to b, or to
// its right.
func meet(a complex128, ra float64, b complex128, rb float64, left bool) complex128 {
	line := b - a
	d := cmplx.Abs(line)
	u := (ra*ra - rb*rb + d*d) / (2 * d)
	h := math.Sqrt(ra*ra - u*u)
	if !left {
		h = -h
	}
	return a + line/complex(d, 0)*complex(u, h)
}

// swept scores a linkage as if it were a fork that travels with its tracer, along falling from
// where it starts.
func swept(t *testing.T, m *mechanism.Mechanism, at map[string]complex128, travel float64, samples int) *objectives.Score {
	t.Helper()
	start := at[scheme.PointAxle]
	c := objectives.NewConditions(ride.Setting{
		Chassis: stance.Chassis{
			HeadAngle: 70 * degree, WheelbaseMM: 1e4, FrontRadiusMM: 1e3, RearRadiusMM: 1e3, AxleToCrownMM: real(start), ForkOffsetMM: imag(start),
			CGHeightMM: 1e3, CGToFrontAxleMM: 5e3, MassKG: 100, FrontBrakeShare: 1,
		},
		TravelMM: travel, SagPct: 25, BrakingG: 0.5, Samples: samples, CoilRates: sections.CoilsOnSale(),
	}, nil, nil)
	var score objectives.Score
	objectives.NewScorer(c).Score(&score, &objectives.Design{Mechanism: m, Layout: laid(m, at), Shock: fork.Shock{Count: 1, EyeToEyeMM: 1, StrokeMM: 1}})
	if score.Fault != "" {
		t.Fatalf("%s stops at %g of %g: %s", m.Name, score.ReachedMM, travel, score.Fault)
	}
	return &score
}

func straightness(s *objectives.Score) float64 {
	return s.Values[objectives.Index("path_straightness_mm")]
}

// fourBarAt is a four-bar at a crank angle, open, with a tracer at a place of its coupler given from
// the crank pin in parts of the way to the rocker pin.
func fourBarAt(l1, l2, l3, l4, crank float64, tracer complex128, turned complex128) map[string]complex128 {
	b := cmplx.Rect(l2, crank*degree)
	c := meet(b, l3, complex(l1, 0), l4, true)
	at := map[string]complex128{"a_crank": 0, "b_coupler": b, "c_rocker": c, "d_ground": complex(l1, 0), "axle": b + tracer*(c-b)}
	for name := range at {
		at[name] *= turned
	}
	return at
}

// Hoeken's linkage, Norton, Design of Machinery, table 3-1 (values from memory, recomputed), swept
// as a fork is: range of the crank about 180 degrees, L1, stroke, deviation in % of the stroke, which
// is the minimum zone's width. Lengths are 100 times those of the table.
func TestHoekensLinkageAsAFork(t *testing.T) {
	m := linkage(t, "four-bar")
	for _, x := range [][5]float64{
		{20, 2.975, 0.601, 0.00001, 5.5e-6},
		{40, 2.950, 1.193, 0.00004, 5.5e-6},
		{60, 2.900, 1.763, 0.00027, 5.5e-6},
		{80, 2.825, 2.299, 0.001, 5.5e-4},
		{100, 2.725, 2.790, 0.004, 5.5e-4},
		{120, 2.625, 3.238, 0.010, 5.5e-4},
		{140, 2.500, 3.623, 0.023, 5.5e-4},
		{160, 2.350, 3.933, 0.047, 5.5e-4},
		{180, 2.200, 4.181, 0.096, 5.5e-4},
		{20, 2.075, 0.480, 0.137, 5.5e-4},
		{100, 1.900, 2.237, 0.640, 5.5e-4},
		{180, 1.575, 3.456, 1.446, 5.5e-4},
	} {
		l3 := 50 * (3*x[1] - 1)
		// From the end at which the tracer is furthest along; by symmetry the other end is as far.
		one, two := fourBarAt(100*x[1], 100, l3, l3, 180-x[0]/2, 2, 1), fourBarAt(100*x[1], 100, l3, l3, 180+x[0]/2, 2, 1)
		if real(two["axle"]) > real(one["axle"]) {
			one, two = two, one
		}
		stroke := real(one["axle"]) - real(two["axle"])
		deviation := 100 * straightness(swept(t, m, one, stroke, 1001)) / stroke
		if math.Abs(stroke/100-x[2]) > 5.5e-4 || math.Abs(deviation-x[3]) > x[4] { // half of the last printed digit
			t.Errorf("range %g, L1 %g: stroke %.4f and deviation %.6f %%, want %g and %g", x[0], x[1], stroke/100, deviation, x[2], x[3])
		}
	}
}

// Roberts' linkage (exact): ground pivots 2 apart, coupler base 1, arms and legs r; the tracer goes
// from one ground pivot to the other. Lengths are 100 times those.
func TestRobertsLinkageAsAFork(t *testing.T) {
	t.Parallel()
	m := linkage(t, "four-bar")
	for _, x := range [][2]float64{{1.2, 0.013642023}, {1.5, 0.005873738}, {2, 0.002214613}} {
		r := 100 * x[0]
		a, d := complex(200, 0), complex(0, 0) // the crank's pivot, where the tracer starts, and the rocker's
		c := complex(100, -math.Sqrt(r*r-100*100))
		b := meet(a, r, c, 100, true)
		if other := meet(a, r, c, 100, false); real(other) > real(b) {
			b = other
		}
		at := map[string]complex128{"a_crank": a, "b_coupler": b, "c_rocker": c, "d_ground": d, "axle": a}
		if got := straightness(swept(t, m, at, 200, 4001)) / 100; math.Abs(got-x[1]) > 2e-8 { // samples beside the extremes
			t.Errorf("r %g: straightness %.9f, want %.9f", x[0], got, x[1])
		}
	}
}

// Watt's linkage (exact): arms 2, coupler 2, perpendicular at mid position, its middle traced while
// one arm turns by 20 degrees to either side. Stroke and minimum zone.
func TestWattsLinkageAsAFork(t *testing.T) {
	m := linkage(t, "four-bar")
	place := func(turn float64) map[string]complex128 {
		a, d := complex(0, 0), complex(200, 400) // arms to along +, coupler and tracer's line along ahead
		b := a + cmplx.Rect(200, (90+turn)*degree)
		c := meet(b, 200, d, 200, true)
		if mid := complex(200, 200); cmplx.Abs(meet(b, 200, d, 200, false)-mid) < cmplx.Abs(c-mid) {
			c = meet(b, 200, d, 200, false)
		}
		return map[string]complex128{"a_crank": a, "b_coupler": b, "c_rocker": c, "d_ground": d, "axle": (b + c) / 2}
	}
	one, two := place(-20), place(20)
	if real(two["axle"]) > real(one["axle"]) {
		one, two = two, one
	}
	stroke := cmplx.Abs(one["axle"] - two["axle"])
	zone := straightness(swept(t, m, one, real(one["axle"]-two["axle"]), 4001))
	if math.Abs(stroke/100-1.368740) > 5e-7 || math.Abs(zone/100-1.864314e-3) > 5e-9 { // printed digits
		t.Errorf("stroke %.6f, want 1.368740; zone %.6e, want 1.864314e-3", stroke/100, zone/100)
	}
}

// Peaucellier's inversor (exact): long arms 5, short 3, crank 1.5: the tracer stays at 16/3 from the
// origin. Its line is along, and its pins go through three bodies.
func TestPeaucelliersInversorAsAFork(t *testing.T) {
	m := linkage(t, "inversor")
	for _, line := range m.Solution() {
		t.Log(line)
	}
	centre := complex(0, 150)
	input := centre + cmplx.Rect(150, 60*degree)
	a, b := meet(0, 500, input, 300, true), meet(0, 500, input, 300, false)
	tracer := a + b - input
	at := map[string]complex128{"centre": centre, "origin": 0, "input": input, "side_a": a, "side_b": b, "axle": tracer}
	if math.Abs(imag(tracer)-1600./3) > 1e-9 {
		t.Fatalf("the inversor is laid out wrong: %v", tracer)
	}
	s := swept(t, m, at, 2*real(tracer), 101)
	if got := s.Values[objectives.Index("offset_variation_mm")]; got > 1e-9 {
		t.Errorf("the tracer leaves its line by %g", got)
	}
}

// Offset slider-crank, Norton, Design of Machinery, example 4-2 (values from memory, recomputed):
// crank 40, coupler 120, offset −20, crank at 60 degrees; slider, and coupler from the slider. The
// linkage is laid out ten degrees before and driven by its slider.
func TestSliderCrankOfATextbook(t *testing.T) {
	m := linkage(t, "slider-crank")
	for _, x := range []struct{ slider, coupler, side float64 }{{126.838005, 152.913072, 1}, {-86.838005, 27.086928, -1}} {
		pin := cmplx.Rect(40, 50*degree)
		drop := -20 - imag(pin)
		slider := pin + complex(x.side*math.Sqrt(120*120-drop*drop), drop)
		at := map[string]complex128{"a_crank": 0, "b_rod": pin, "axle": slider, "near": -20i, "far": 100 - 20i}
		c := stance.Chassis{HeadAngle: 1, WheelbaseMM: 1e4, FrontRadiusMM: 1e3, RearRadiusMM: 1e3, AxleToCrownMM: real(slider), ForkOffsetMM: imag(slider)}
		var mo kinematics.Motion
		if mo.Sweep(m, &c, laid(m, at), real(slider)-x.slider, 11); mo.Fault != "" {
			t.Fatal(mo.Fault)
		}
		turned := func(body int) float64 {
			p := &mo.States[10].Pose[body]
			return math.Atan2(p.Sin, p.Cos) / degree
		}
		for b, name := range m.Bodies {
			switch name {
			case "crank":
				if got := 50 + turned(b); math.Abs(got-60) > 2e-6 { // the slider's last printed digit
					t.Errorf("crank at %.6f, want 60", got)
				}
			case "rod":
				if got := cmplx.Phase(pin-slider)/degree + turned(b); math.Abs(got-x.coupler) > 2e-6 {
					t.Errorf("coupler at %.6f, want %.6f", got, x.coupler)
				}
			}
		}
	}
}
