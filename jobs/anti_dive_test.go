package jobs

import (
	"math"
	"os"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/process"
	"forkfront/objectives"
)

// The forks of the page on anti-dive have the anti-dive that it says, and nothing else of their motion and spring differs.
func TestForksOfTheAntiDivePage(t *testing.T) {
	t.Parallel()
	of := func(name string) map[string]float64 {
		file, design, err := cases.ReadFork(&process.Env{Err: os.Stderr}, "examples/anti-dive/"+name+".yaml")
		if err != nil {
			t.Fatal(err)
		}
		var s objectives.Score
		objectives.NewScorer(cases.Conditions(file)).Score(&s, design)
		all := map[string]float64{}
		for i, why := range s.Missing {
			if why == "" {
				all[objectives.Measures[i].Name] = s.Values[i]
			}
		}
		return all
	}
	none := of("none")
	for name, percent := range map[string]float64{"none": 0, "full": 100, "double": 200} {
		got := of(name)
		if math.Abs(got["anti_dive_at_sag_pct"]-percent) > 0.5 {
			t.Errorf("%s: %g %%", name, got["anti_dive_at_sag_pct"])
		}
		for _, same := range []string{
			"path_straightness_mm", "trail_variation_mm", "leverage_start", "leverage_end", "spring_rate_n_per_mm", "wheel_rate_at_sag_n_per_mm",
			"damper_coefficient_ns_per_m", "damping_variation_pct", "axle_path_angle_at_sag_deg",
		} {
			if _, known := none[same]; !known || math.Abs(got[same]/none[same]-1) > 1e-9 {
				t.Errorf("%s: %s %g, with none %g", name, same, got[same], none[same])
			}
		}
	}
}
