package objectives

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics"
)

const deg = math.Pi / 180

func conditions() *Conditions {
	c := &Conditions{
		Chassis: kinematics.Chassis{
			HeadAngle: 70 * deg, WheelbaseMM: 1300, FrontRadiusMM: 258, RearRadiusMM: 258, AxleToCrownMM: 408, ForkOffsetMM: 38,
			CGHeightMM: 980, CGToFrontAxleMM: 850, MassKG: 170, FrontBrakeShare: 0.7,
		},
		TravelMM: 100, SagPct: 25, BrakingG: 0.5, Leverage: Band{1.9, 2.4}, AntiDive: Band{0, 50}, CoilRates: []float64{44, 70, 114}, Samples: 33,
		Structure: DefaultStructure(),
	}
	c.Prepare()
	return c
}

// The figures of the demo's telescopic baseline, computed outside the project by a plain script.
func TestTelescopicBaseline(t *testing.T) {
	c := conditions()
	for _, x := range []struct {
		what            string
		got, want, slop float64
	}{
		{"static load", c.StaticLoadN(), 577, 0.5},
		{"pitch-over", PitchOverG(&c.Chassis), 0.867, 0.0005},
		{"trail at 0", c.Baseline.States[0].TrailMM, 53.47, 0.005},
		{"trail at 25", c.Baseline.States[8].TrailMM, 48.44, 0.005},
		{"trail at 50", c.Baseline.States[16].TrailMM, 43.41, 0.005},
		{"trail at 100", c.Baseline.States[32].TrailMM, 33.30, 0.005},
		{"anti-dive at top-out", antiDive(&c.Chassis, &c.Baseline.States[0]), -33.8, 0.05},
		{"anti-dive at full travel", antiDive(&c.Chassis, &c.Baseline.States[32]), -26.2, 0.05},
		{"brake dive", c.Baseline.BrakeDiveMM, 35.7, 0.05},
		{"spring", c.Baseline.SpringNPerMM, 21.8, 0.05},
	} {
		if math.Abs(x.got-x.want) > x.slop { // the last printed digit
			t.Errorf("%s: %.4f, want %g", x.what, x.got, x.want)
		}
	}
}

// Minimum-zone widths: closed forms, and a point set that tells the minimum zone from least squares
// (3.100868) and from the end-point line (3.022439).
func TestStraightness(t *testing.T) {
	curve := func(n int, f func(float64) (float64, float64)) []kinematics.Vec[float64] {
		var p []kinematics.Vec[float64]
		for i := range n {
			x, y := f(float64(i) / float64(n-1))
			p = append(p, kinematics.Vec[float64]{Along: x, Ahead: y})
		}
		return p
	}
	polygon := func(n int) []kinematics.Vec[float64] {
		return curve(n+1, func(u float64) (float64, float64) { return math.Cos(2 * math.Pi * u), math.Sin(2 * math.Pi * u) })[:n]
	}
	for _, x := range []struct {
		what   string
		points []kinematics.Vec[float64]
		want   float64
		slop   float64
	}{
		{"point set", []kinematics.Vec[float64]{{Along: 0}, {Along: 1, Ahead: 3}, {Along: 2, Ahead: 1}, {Along: 3, Ahead: 4}, {Along: 4, Ahead: 2}, {Along: 5, Ahead: 6}, {Along: 6, Ahead: 3}, {Along: 7, Ahead: 5}}, 3, 1e-12},
		{"e^x on [0,1]", curve(20001, func(u float64) (float64, float64) { return u, math.Exp(u) }), 0.106568155674, 1e-9},
		{"e^x on [-1,1]", curve(20001, func(u float64) (float64, float64) { return 2*u - 1, math.Exp(2*u - 1) }), 0.361357118358, 1e-8},
		{"x² on [0,1]", curve(20001, func(u float64) (float64, float64) { return u, u * u }), math.Sqrt2 / 8, 1e-9},
		{"arc of 60°", curve(20001, func(u float64) (float64, float64) {
			return math.Cos((u - 0.5) * 60 * deg), math.Sin((u - 0.5) * 60 * deg)
		}), 1 - math.Cos(30*deg), 1e-9},
		{"triangle", polygon(3), 1 + math.Cos(math.Pi/3), 1e-12},
		{"pentagon", polygon(5), 1 + math.Cos(math.Pi/5), 1e-12},
		{"heptagon", polygon(7), 1 + math.Cos(math.Pi/7), 1e-12},
		{"straight", curve(33, func(u float64) (float64, float64) { return u, 0 }), 0, 1e-15},
	} {
		var z zone
		for i, p := range x.points {
			z.points = append(z.points, corner{p, i})
		}
		z.find()
		a, b, far := x.points[z.edge[0]], x.points[z.edge[1]], x.points[z.far]
		if got := offLine(a, b, far) / kinematics.Distance(a, b); math.Abs(got-x.want) > x.slop {
			t.Errorf("%s: %.12f, want %.12f", x.what, got, x.want)
		}
	}
}

var girderMembers = []kinematics.MemberSpec{
	{Body: "crown", From: "root", To: "lower_rear"},
	{Body: "crown", From: "root", To: "upper_rear"},
	{Body: "crown", From: "upper_rear", To: "shock_upper"},
	{Body: "lower_link", From: "lower_rear", To: "shock_lower"},
	{Body: "lower_link", From: "shock_lower", To: "lower_front"},
	{Body: "upper_link", From: "upper_rear", To: "upper_front"},
	{Body: "blade", From: "upper_front", To: "lower_front"},
	{Body: "blade", From: "lower_front", To: "axle"},
}

func girder(t testing.TB) *kinematics.Mechanism {
	m, faults := kinematics.Compile(kinematics.MechanismSpec{
		Name: "girder", Ground: "crown", Bodies: []string{"crown", "lower_link", "upper_link", "blade"},
		Pivots: []kinematics.PivotSpec{
			{Name: "lower_rear", Bodies: []string{"crown", "lower_link"}},
			{Name: "lower_front", Bodies: []string{"lower_link", "blade"}},
			{Name: "upper_rear", Bodies: []string{"crown", "upper_link"}},
			{Name: "upper_front", Bodies: []string{"upper_link", "blade"}},
		},
		Axle: "blade", Shock: [2]string{"crown", "lower_link"}, Members: girderMembers,
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return m
}

func randomDesign(m *kinematics.Mechanism, r *rand.Rand) *Design {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	d := &Design{Mechanism: m, Layout: make([]kinematics.Vec[float64], len(m.Points)), Shock: Shock{Count: 1, EyeToEyeMM: 165, StrokeMM: 45}, Across: DefaultAcross(m), Material: MaterialNamed("7075-T6")}
	put := func(name string, along, ahead float64) {
		d.Layout[m.Point(name)] = kinematics.Vec[float64]{Along: along, Ahead: ahead}
	}
	put("root", 25, 0)
	put("axle", 408, 38)
	put("lower_rear", in(5, 30), in(50, 90))
	put("lower_front", in(0, 110), in(170, 255))
	put("upper_rear", in(-170, -80), in(45, 90))
	put("upper_front", in(-130, -20), in(150, 255))
	put("shock_upper", in(-190, -150), in(80, 120))
	put("shock_lower", in(0, 15), in(110, 150))
	return d
}

// The exact derivative of every measure against central differences, along random directions.
func TestSlopesAgreeWithCentralDifferences(t *testing.T) {
	c := conditions()
	m := girder(t)
	r := rand.New(rand.NewPCG(7, 8))
	sc, other := NewScorer(c), NewScorer(c)
	checked := make([]int, len(Measures))
	for k := range 400 {
		d := roomy(c, m, r)
		if k%4 == 0 {
			d.Shock.Air = &AirSpring{BoreMM: 38, ChamberMM: 120, Exponent: 1.3}
		}
		var s Score
		sc.Score(&s, d)
		if s.Missing[Index("brake_dive_mm")] != "" {
			continue
		}
		direction := make([]kinematics.Vec[float64], len(d.Layout))
		for i := range direction {
			if m.Points[i] != "axle" {
				direction[i] = kinematics.Vec[float64]{Along: r.NormFloat64(), Ahead: r.NormFloat64()}
			}
		}
		slopes := make([]float64, len(Measures))
		sc.Slope(slopes, d, direction, nil)
		const h = 1e-4
		moved := func(by float64) Score {
			e := *d
			e.Layout = append([]kinematics.Vec[float64](nil), d.Layout...)
			for i := range direction {
				e.Layout[i].Along += by * direction[i].Along
				e.Layout[i].Ahead += by * direction[i].Ahead
			}
			var out Score
			other.Score(&out, &e)
			return out
		}
		high, low := moved(h), moved(-h)
		for i := range Measures {
			if high.Missing[i] != "" || low.Missing[i] != "" || i == Index("clearance_mm") && s.Values[i] < 0 {
				continue // axes that cross stay crossed; how deep parts overlap is only as exact as it is found
			}
			central := (high.Values[i] - low.Values[i]) / (2 * h)
			left, right := (s.Values[i]-low.Values[i])/h, (high.Values[i]-s.Values[i])/h
			if math.Abs(left-right) > 1e-3*(1+math.Abs(central)) {
				continue // a kink of a largest or smallest value lies within the difference
			}
			if math.Abs(central-slopes[i]) > 1e-5*(1+math.Abs(central)) {
				t.Fatalf("%s: exact slope %g, central difference %g; closest %s", Measures[i].Name, slopes[i], central, s.Closest.Pair)
			}
			checked[i]++
		}
	}
	for i, n := range checked {
		if n < 20 && !Measures[i].Slow() {
			t.Errorf("%s was checked %d times only", Measures[i].Name, n)
		}
	}
}

func TestScoreAllocatesNothing(t *testing.T) {
	c := conditions()
	m := girder(t)
	r := rand.New(rand.NewPCG(7, 8))
	sc := NewScorer(c)
	var s Score
	for range 100 {
		d := roomy(c, m, r)
		if sc.Score(&s, d); s.Missing[Index("brake_dive_mm")] != "" {
			continue
		}
		if n := testing.AllocsPerRun(20, func() { sc.Score(&s, d) }); n > 0 {
			t.Fatalf("%v allocations a design", n)
		}
	}
}
