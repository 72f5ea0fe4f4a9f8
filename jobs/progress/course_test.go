package progress

import (
	"strings"
	"testing"
	"time"

	"forkfront/jobs/cases"
	"forkfront/optimize"
)

// The line of progress tells of the whole run as much as of the case that it is at. Expected shares and times
// are worked out by hand beside each.
func TestProgressLineCoversTheWholeRun(t *testing.T) {
	began := time.Date(2026, 3, 1, 22, 0, 0, 0, time.UTC)
	now := began.Add(6 * time.Minute)
	for name, x := range map[string]struct {
		of    int
		at    func(*Tracker)
		wants string
	}{
		"evaluations":       {4, func(c *Tracker) { c.Finished(0); c.at(1, 0.5) }, "1 of 4 cases done (38 %, about 10m0s left); "},                  // 1.5 of 4 in 6 min: 2.5 take 10
		"resumed":           {4, func(c *Tracker) { c.Before(0, 1); c.Finished(0); c.Finished(1) }, "2 of 4 cases done (50 %, about 12m0s left); "}, // one in 6 min: two take 12
		"resumed halfway":   {2, func(c *Tracker) { c.Before(0, 0.5); c.at(0, 0.8); c.at(1, 0.2) }, "0 of 2 cases done (50 %, about 12m0s left); "}, // 0.5 in 6 min: one takes 12
		"side by side":      {2, func(c *Tracker) { c.at(0, 0.25); c.at(1, 0.25) }, "0 of 2 cases done (25 %, about 18m0s left); "},                 // a quarter in 6 min
		"stagnation":        {3, func(c *Tracker) { c.at(0, 0) }, "0 of 3 cases done; "},                                                            // no telling
		"stagnation, later": {3, func(c *Tracker) { c.at(1, 0); c.Finished(0); c.Finished(2) }, "2 of 3 cases done (67 %, about 3m0s left); "},      // two in 6 min
		"one case":          {1, func(c *Tracker) { c.at(0, 0.5) }, ""},                                                                             // it says so itself
		"early":             {2, func(c *Tracker) { c.at(0, 0.9); c.Finished(0); c.at(1, 1) }, "1 of 2 cases done (100 %, about 0s left); "},        // spent, not done
		"nothing new":       {2, func(c *Tracker) { c.Before(0, 0.5); c.at(0, 0.5) }, "0 of 2 cases done; "},                                        // no rate to tell by
	} {
		c := NewTracker(x.of, began)
		x.at(c)
		if got := c.summary(now); got != x.wants {
			t.Errorf("%s: %q, want %q", name, got, x.wants)
		}
	}
}

// A case is as far as the limit that it is nearest to.
func TestHowFarACaseIs(t *testing.T) {
	began := time.Date(2026, 3, 1, 22, 0, 0, 0, time.UTC)
	now := began.Add(30 * time.Second)
	for _, x := range []struct {
		budget int
		wall   time.Duration
		want   float64
	}{
		{4000, 0, 0.25},
		{neverBudget, time.Minute, 0.5},
		{4000, time.Minute, 0.5},
		{4000, time.Hour, 0.25},
		{neverBudget, 0, 0},
		{1000, time.Second, 1},
	} {
		p := CaseProgress{Began: began, Budget: x.budget, Wall: x.wall}
		if got := p.Part(1000, now); got != x.want {
			t.Errorf("%+v: %g", x, got)
		}
	}
}

// What is shown on a terminal, for a case that ends by time among others.
func TestTheLineOnATerminal(t *testing.T) {
	var w strings.Builder
	s := &status{w: &w}
	now := time.Now()
	c := NewTracker(2, now.Add(-30*time.Second))
	s.show(&cases.Case{Name: "bike/arm/1"}, optimize.Generation{Evaluations: 700, ArchiveSize: 12}, CaseProgress{Tracker: c, Began: now.Add(-30 * time.Second), Budget: neverBudget, Wall: time.Minute})
	if want := clearLine + "0 of 2 cases done (25 %, about 1m30s left); bike/arm/1: 700 evaluations (50 %, about 30s left), front 12"; w.String() != want {
		t.Errorf("%q, want %q", w.String(), want)
	}
}

// A line that would wrap is cut.
func TestALineFitsItsTerminal(t *testing.T) {
	for columns, want := range map[int]string{0: "straße 12", 1: "straße 12", 10: "straße 12", 9: "straße …", 5: "str…"} {
		if got := cut("straße 12", columns); got != want {
			t.Errorf("%d columns: %q, want %q", columns, got, want)
		}
	}
}

// A share so small that the rest would be longer than a duration holds.
func TestTimeLeftHasAnEnd(t *testing.T) {
	if got, want := left(1e-14, 0, time.Second), " (0 %, about 1000000h0m0s left)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
