package jobs

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"forkfront/constraints"
	"forkfront/jobs/cases"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
	"forkfront/objectives"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
	"forkfront/optimize"
)

func coilOf(name string, length, stroke float64) cases.ShockSize {
	return cases.ShockSize{JobShock: sections.JobShock{Name: name, EyeToEyeMM: length, StrokeMM: stroke, ShockProperties: sections.ShockProperties{Spring: "coil"}}}
}

// cargoGirder is the girder of the demo's cargo bike, put together by hand.
func cargoGirder(t *testing.T) *cases.Case {
	t.Helper()
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "girder", Ground: "crown", Bodies: []string{"crown", "lower_link", "upper_link", "blade"},
		Pivots: []scheme.PivotSpec{
			{Name: "lower_rear", Bodies: []string{"crown", "lower_link"}},
			{Name: "lower_front", Bodies: []string{"lower_link", "blade"}},
			{Name: "upper_rear", Bodies: []string{"crown", "upper_link"}},
			{Name: "upper_front", Bodies: []string{"upper_link", "blade"}},
		},
		Axle: "blade", Shock: [2]string{"crown", "lower_link"},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c := &cases.Case{
		Name: "cargo/girder", Mechanism: m, Shock: fork.Shock{Count: 1},
		Shocks: []cases.ShockSize{coilOf("165×40", 165, 40), coilOf("165×45", 165, 45), coilOf("190×45", 190, 45), coilOf("210×50", 210, 50)},
		Conditions: objectives.NewConditions(ride.Setting{
			Chassis: stance.Chassis{
				HeadAngle: 70 * math.Pi / 180, WheelbaseMM: 1300, FrontRadiusMM: 258, RearRadiusMM: 258, AxleToCrownMM: 408,
				ForkOffsetMM: 38, CGHeightMM: 980, CGToFrontAxleMM: 850, MassKG: 170, FrontBrakeShare: 0.7,
			},
			TravelMM: 100, SagPct: 25, BrakingG: 0.5, Leverage: ride.Band{Low: 1.9, High: 2.4},
			AntiDive: ride.Band{Low: 0, High: 50}, CoilRates: []float64{44}, Samples: 33,
		}, nil, nil),
	}
	c.Fixed = make([]kinematics.Vec[float64], len(m.Points))
	c.Fixed[m.Point("axle")] = kinematics.Vec[float64]{Along: 408, Ahead: 38}
	c.Fixed[m.Point("root")] = kinematics.Vec[float64]{Along: 25}
	for _, b := range []struct {
		point          string
		lo, hi, lo2, h float64
	}{
		{"lower_rear", 5, 30, 50, 90},
		{"lower_front", 0, 110, 170, 255},
		{"upper_rear", -170, -80, 45, 90},
		{"upper_front", -130, -20, 150, 255},
		{"shock_upper", -230, -100, 70, 140},
	} {
		p := m.Point(b.point)
		c.Free = append(c.Free,
			cases.Free{Variable: optimize.Variable{Name: b.point + "_along_mm", Low: b.lo, High: b.hi}, Kind: cases.FreeAlong, Point: p},
			cases.Free{Variable: optimize.Variable{Name: b.point + "_ahead_mm", Low: b.lo2, High: b.h}, Kind: cases.FreeAhead, Point: p})
	}
	c.Free = append(c.Free,
		cases.Free{Variable: optimize.Variable{Name: "shock_angle_rad", Low: -0.3, High: 0.7}, Kind: cases.FreeShockAngle, Point: 0},
		cases.Free{Variable: optimize.Variable{Name: "shock", High: 3, Levels: 4}, Kind: cases.FreeShock, Point: 0})
	for _, g := range []string{"path_straightness_mm", "trail_variation_mm", "leverage_band_error_pct", "anti_dive_band_error_pct"} {
		i := objectives.Index(g)
		c.Goals = append(c.Goals, objectives.Goal{Measure: i, Resolution: objectives.Measures[i].Resolution})
	}
	limit := func(name string, low, high float64) {
		c.Limits = append(c.Limits, constraints.Limit{Measure: objectives.Index(name), Min: low, Max: high})
	}
	limit("shock_stroke_used_pct", 88, 100)
	limit("spring_rate_n_per_mm", 0, 114)
	limit("progression_pct", 0, math.Inf(1))
	limit("transmission_angle_min_deg", 35, math.Inf(1))
	limit("path_inclination_deg", -15, 15)
	limit("brake_dive_vs_telescopic_mm", math.Inf(-1), 0)
	return c
}

func outcome(c *cases.Case) *optimize.Outcome {
	return &optimize.Outcome{F: make([]float64, len(c.Goals)), G: make([]float64, 1+len(c.Limits))}
}

// The gradient that the search gets, against central differences in scaled variables.
func TestGradientOfACase(t *testing.T) { checkGradient(t, cargoGirder(t), 2000) }

func checkGradient(t *testing.T, c *cases.Case, least int) {
	t.Helper()
	p := c.Worker()
	r := rand.New(rand.NewPCG(1, 1))
	rows := func(n int) [][]float64 {
		all := make([][]float64, n)
		for i := range all {
			all[i] = make([]float64, len(c.Free))
		}
		return all
	}
	df, dg := rows(len(c.Goals)), rows(1+len(c.Limits))
	high, mid, low := outcome(c), outcome(c), outcome(c)
	after, dfAfter, dgAfter := c.Worker(), rows(len(c.Goals)), rows(1+len(c.Limits))
	checked := 0
	for range 200 {
		x := make([]float64, len(c.Free))
		for i, f := range c.Free {
			x[i] = f.Variable.Low + (f.Variable.High-f.Variable.Low)*r.Float64()
			if n := f.Variable.Levels; n > 0 {
				x[i] = math.Floor(float64(n) * r.Float64())
			}
		}
		if !p.Gradient(df, dg, x) {
			continue
		}
		p.Evaluate(mid, x)
		after.Evaluate(low, x)
		if !after.Gradient(dfAfter, dgAfter, x) || !reflect.DeepEqual(df, dfAfter) || !reflect.DeepEqual(dg, dgAfter) || !reflect.DeepEqual(mid, low) {
			t.Fatalf("after an evaluation of the fork its gradient is %g and %g, by itself %g and %g", dfAfter, dgAfter, df, dg)
		}
		for v := range c.Free {
			if c.Free[v].Variable.Levels > 0 {
				continue
			}
			h := 1e-6 * (c.Free[v].Variable.High - c.Free[v].Variable.Low)
			at := x[v]
			x[v] = at + h
			p.Evaluate(high, x)
			x[v] = at - h
			p.Evaluate(low, x)
			x[v] = at
			compare := func(what string, hi, m, lo, exact float64) {
				left, right := (m-lo)/h, (hi-m)/h
				if math.IsInf(hi+lo, 0) || math.Abs(left-right) > 1e-3*(1+math.Abs(exact)) {
					return // a kink lies within the difference
				}
				if central := (hi - lo) / (2 * h); math.Abs(central-exact) > 1e-4*(1+math.Abs(central)) {
					t.Fatalf("%s with %s: exact %g, central difference %g", what, c.Free[v].Variable.Name, exact, central)
				}
				checked++
			}
			for i := range c.Goals {
				compare("objective", high.F[i], mid.F[i], low.F[i], df[i][v])
			}
			for i := range mid.G {
				compare("constraint", high.G[i], mid.G[i], low.G[i], dg[i][v])
			}
		}
	}
	if checked < least {
		t.Fatalf("only %d derivatives were checked", checked)
	}
}

// A front is known to exist in these bounds; a short search has to come upon it, the same with one
// worker and with two.
func TestASearchFindsFeasibleGirders(t *testing.T) {
	c := cargoGirder(t)
	search := func(workers int) *optimize.Result {
		r, err := optimize.Search(context.Background(), c.Problem(), optimize.Settings{Seed: 3, Evaluations: 6000, Workers: workers, GradientShare: 0.2})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	one, two := search(1), search(2)
	if len(one.Front) < 10 {
		t.Fatalf("%d candidates after %d evaluations, %d of them feasible", len(one.Front), one.Evaluations, one.FeasibleEvaluations)
	}
	if len(one.Front) != len(two.Front) {
		t.Fatalf("%d candidates with one worker, %d with two", len(one.Front), len(two.Front))
	}
	p := c.Worker()
	again := outcome(c)
	for i := range one.Front {
		for k := range one.Front[i].X {
			if one.Front[i].X[k] != two.Front[i].X[k] {
				t.Fatal("the front depends on the number of workers")
			}
		}
		if p.Evaluate(again, one.Front[i].X); !again.Feasible() {
			t.Fatal("a candidate of the front is not feasible when looked at again")
		}
	}
	t.Logf("%d candidates, %d feasible of %d evaluations, %d by gradients", len(one.Front), one.FeasibleEvaluations, one.Evaluations, one.GradientEvaluations)
}
