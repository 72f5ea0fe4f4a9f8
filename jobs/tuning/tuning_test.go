package tuning

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/process"
	"forkfront/objectives/quarter"
	"forkfront/objectives/simulation"
)

// tuner is one for the example's girder, changed as text.
func tuner(t *testing.T, aims []Aim, change ...string) (*Tuner, *Tuned) {
	t.Helper()
	text, err := os.ReadFile("../examples/trail-girder.yaml")
	if err != nil {
		t.Fatal(err)
	}
	env := &process.Env{In: strings.NewReader(strings.NewReplacer(change...).Replace(string(text))), Err: os.Stderr}
	file, design, err := cases.ReadFork(env, "-")
	if err != nil {
		t.Fatal(err)
	}
	tu, out, err := New(file, cases.Conditions(file), design, aims)
	if err != nil {
		t.Fatal(err)
	}
	return tu, out
}

var ripple = []Aim{{simulation.Ripple, simulation.LoadPct, 1}}

// By hand: three clicks from 400 to 1000 are 400, 600, 800 and 1000.
func TestClicksAreEvenlySpaced(t *testing.T) {
	o := offered{low: [2]float64{400, 900}, high: [2]float64{1000, 2000}, clicks: [2]int{3, 0}}
	for _, x := range [][2][2]float64{
		{{100, 100}, {400, 900}},
		{{690, 1000.4}, {600, 1000}},
		{{710, 5000}, {800, 2000}},
	} {
		if got := o.setting(x[0]); got != x[1] {
			t.Errorf("%v: %v, want %v", x[0], got, x[1])
		}
	}
	if got := o.beside([2]float64{400, 1000}); !slices.Equal(got, [][2]float64{{600, 1000}, {400, 971}, {400, 1030}, {600, 1030}, {600, 971}}) {
		t.Errorf("beside: %v", got)
	}
	fixed := offered{low: [2]float64{500, 900}, high: [2]float64{500, 900}, clicks: [2]int{4, 4}}
	if got := fixed.setting([2]float64{1, 9999}); got != [2]float64{500, 900} || fixed.beside(got) != nil {
		t.Errorf("a damper without a range: %v", got)
	}
}

// By hand: half of one quantity and twice another, with weights 3 and 1.
func TestMeanOfTheAims(t *testing.T) {
	aims := []Aim{{simulation.Stop, simulation.PitchDeg, 3}, {simulation.Drop, simulation.TravelPct, 1}}
	var of, by simulation.Results
	of[simulation.Stop].Values[simulation.PitchDeg], by[simulation.Stop].Values[simulation.PitchDeg] = 2, 4
	of[simulation.Drop].Values[simulation.TravelPct], by[simulation.Drop].Values[simulation.TravelPct] = 90, 45
	if got := mean(aims, &of, &by); got != (3*0.5+1*2)/4.0 {
		t.Errorf("mean %g", got)
	}
	if mean(aims, &by, &by) != 1 {
		t.Error("the mean of the telescopic fork is not 1")
	}
	of[simulation.Drop].Missing = "off"
	if !math.IsInf(mean(aims, &of, &by), 1) {
		t.Error("a missing value counts")
	}
}

func TestParseAims(t *testing.T) {
	got, err := ParseAims("bump_braked.load_pct=2, stop.pitch_deg=0.5")
	if err != nil || !slices.Equal(got, []Aim{{simulation.BrakedBump, simulation.LoadPct, 2}, {simulation.Stop, simulation.PitchDeg, 0.5}}) {
		t.Errorf("%v, %v", got, err)
	}
	for _, text := range []string{
		"", "bump.load_pct", "bump.load_pct=0", "bump.load_pct=-1", "bump.load_pct=NaN", "bump.load_pct=Inf", "bump.load=1", "load_pct=1", "stop.rest_dive_mm=1",
		"rough.load_vs_telescopic_pct=1", "bump.load_pct=1,bump.load_pct=2",
	} {
		if got, err := ParseAims(text); err == nil {
			t.Errorf("%q: %v", text, got)
		}
	}
	for _, a := range Usual {
		if again, err := ParseAims(a.Name() + "=1"); err != nil || again[0].Event != a.Event || again[0].Quantity != a.Quantity {
			t.Errorf("%s: %v", a.Name(), err)
		}
	}
}

// Springs give the sag with coils on sale and a preload within the range: the firmer the coil, the less preload. The force at sag
// is the same with all of them.
func TestSpringsGiveTheSag(t *testing.T) {
	tu, _ := tuner(t, ripple, "preload_range_mm: [0, 5]", "preload_range_mm: [0, 12]")
	all, err := tu.springs()
	if err != nil || len(all) < 3 {
		t.Fatalf("%d springs, %v", len(all), err)
	}
	force := func(s *sprung) float64 {
		r := s.study.Ride()
		return s.RateNPerMM * (r.Compression(&r.Sag) + s.PreloadMM)
	}
	for i, s := range all {
		if s.SagPct != 25 || s.PreloadMM < 0 || s.PreloadMM > 12 || !onList(tu, s.RateNPerMM) {
			t.Errorf("%+v", s.Spring)
		}
		if i > 0 && !(s.RateNPerMM > all[i-1].RateNPerMM && s.PreloadMM < all[i-1].PreloadMM) {
			t.Errorf("%+v after %+v", s.Spring, all[i-1].Spring)
		}
		if math.Abs(force(s)/force(all[0])-1) > 1e-9 {
			t.Errorf("force at sag %g and %g N", force(s), force(all[0]))
		}
	}
}

func onList(tu *Tuner, rate float64) bool {
	return slices.ContainsFunc(tu.conditions.CoilRates, func(k float64) bool { return math.Abs(rate/k-1) < 1e-9 })
}

// Where no coil gives the sag, the two nearest do with another: the softer one with more sag.
func TestSpringsBesideTheSag(t *testing.T) {
	tu, _ := tuner(t, ripple, "preload_range_mm: [0, 5]", "preload_range_mm: [0, 0]\ncoil_rates_n_per_mm: [40, 50, 70, 90]")
	all, err := tu.springs()
	if err != nil || len(all) != 2 {
		t.Fatalf("%d springs, %v", len(all), err)
	}
	if soft, firm := all[0], all[1]; !(math.Abs(soft.RateNPerMM-50) < 1e-6 && soft.SagPct > 25 && math.Abs(firm.RateNPerMM-70) < 1e-6 && firm.SagPct < 25) {
		t.Errorf("%+v and %+v", soft.Spring, firm.Spring)
	}
	tu, _ = tuner(t, ripple, "preload_range_mm: [0, 5]", "coil_rates_n_per_mm: [1, 2000]")
	if all, err := tu.springs(); err == nil {
		t.Errorf("%d springs", len(all))
	}
}

// All settings of dampers with few clicks, one by one: over a single ripple the mean has several low places, and none is lower by
// 1 % than the one found. The setting is on sale, and not worse than what the quarter model asks for.
func TestNoSettingIsMuchBetter(t *testing.T) {
	tu, out := tuner(t, ripple, "compression_clicks: 12, rebound_clicks: 16", "compression_clicks: 4, rebound_clicks: 5", "preload_range_mm: [0, 5]", "preload_range_mm: [0, 3]")
	if err := tu.Tune(t.Context(), out); err != nil {
		t.Fatal(err)
	}
	best, tried := math.Inf(1), 0
	for i := range tu.forks {
		for k := range tu.dampers {
			o := &tu.dampers[k]
			for a := range o.clicks[0] + 1 {
				for b := range o.clicks[1] + 1 {
					tried++
					best = math.Min(best, tu.value(place{i, k, [2]float64{o.onClick(0, a), o.onClick(1, b)}}))
				}
			}
		}
	}
	if out.After.Mean > best*(1+noChange) || out.After.Mean > out.ByQuarter.Mean || tried < 60 {
		t.Errorf("mean %.5f, of %d settings the best %.5f, by the quarter model %.5f", out.After.Mean, tried, best, out.ByQuarter.Mean)
	}
	if !onList(tu, out.After.RateNPerMM) || out.After.Clicks[0] < 0 || out.After.Clicks[1] < 0 || out.After.SagPct != 25 {
		t.Errorf("%+v", out.After)
	}
	if out.TelescopicMean > 1 {
		t.Errorf("tuned telescopic fork %g", out.TelescopicMean)
	}
	if n := quarter.Fitting(tu.conditions.Quarter.Dampers, out.Before.CompressionNS, out.Before.ReboundNS); n.Name != out.ByQuarter.Damper {
		t.Errorf("%s fits, %s was proposed", n.Name, out.ByQuarter.Damper)
	}
}

// Without dampers on sale any coefficient may be proposed, and what a concept's damper is set to is what it is compared with.
func TestTuneWithoutDampersOnSale(t *testing.T) {
	tu, out := tuner(t, ripple, "ride: {kind: trail}", "ride: {kind: trail}\ndamper: {compression_ns_per_m: 4000, rebound_ns_per_m: 9000}",
		"dampers:\n  - {name: light, compression_ns_per_m: [600, 1500], rebound_ns_per_m: [1200, 3000], compression_clicks: 12, rebound_clicks: 16}\n"+
			"  - {name: firm, compression_ns_per_m: [1400, 2800], rebound_ns_per_m: [2800, 5600], compression_clicks: 12, rebound_clicks: 16}\n", "")
	if err := tu.Tune(t.Context(), out); err != nil {
		t.Fatal(err)
	}
	if out.Before.CompressionNS != 4000 || out.Before.ReboundNS != 9000 || out.After.Damper != "" || out.After.Clicks != [2]int{-1, -1} || !(out.After.Mean < out.Before.Mean) {
		t.Errorf("%+v, then %+v", out.Before.Adjustment, out.After)
	}
}
