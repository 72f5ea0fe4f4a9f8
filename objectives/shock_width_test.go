package objectives

import (
	"math"
	"testing"
)

// twoShocks scores a sized fork with two shocks at a width.
func twoShocks(c *Conditions, d *Design, half float64) *Score {
	e := *d
	across := *d.Across
	across.ShockHalfWidthMM = half
	e.Across, e.Shock.Count = &across, 2
	var s Score
	sc := newScorer(c)
	sc.Score(&s, &e)
	sc.study(&e).Complete(&s)
	return &s
}

// Shocks that stand farther out turn with the fork at that width: m (w₂² − w₁²) more about the steering
// axis (Huygens and Steiner), and nothing else of the fork's mass changes.
func TestInertiaGrowsWithTheWidthOfTheShocks(t *testing.T) {
	sizedForks(t, 10, func(c *Conditions, d *Design) {
		d.Shock.MassG, c.Structure.ForeAftNPerMM = 700, 0
		in, out := twoShocks(c, d, 60), twoShocks(c, d, 110)
		i := Index("steering_inertia_kg_cm2")
		want := 2 * 0.7 * (11*11 - 6*6) // kg·cm²
		if got := out.Values[i] - in.Values[i]; in.Missing[i] != "" || math.Abs(got-want) > 1e-9*want {
			t.Fatalf("%g kg·cm² more, want %g; missing %q", got, want, in.Missing[i])
		}
		if m := Index("mass_g"); in.Values[m] != out.Values[m] {
			t.Fatalf("mass %g and %g", in.Values[m], out.Values[m])
		}
	})
}

// Locked shocks beside the wheel stiffen a fork by more or less, depending on where they stand.
func TestStiffnessDependsOnTheShocksPositions(t *testing.T) {
	moved := 0
	sizedForks(t, 10, func(c *Conditions, d *Design) {
		i := Index("torsional_stiffness_nm_per_deg")
		near, far := twoShocks(c, d, 46), twoShocks(c, d, 300)
		if near.Missing[i] != "" || far.Missing[i] != "" {
			t.Fatalf("missing %q and %q", near.Missing[i], far.Missing[i])
		}
		if near.Values[i] != far.Values[i] {
			moved++
		}
	})
	if moved == 0 {
		t.Error("the width of the shocks never told")
	}
}
