package report

import (
	"slices"
	"testing"

	"forkfront/results/rounds"
)

// Three linkages of a family, by hand: one in the last round, two cut after the same round, both mostly covered by the first. And two
// of another family of which nothing feasible was found: each limit is counted once for each.
func TestFamiliesOfARace(t *testing.T) {
	share := func(v float64) *float64 { return &v }
	rows := []rounds.Row{
		{Linkage: "bike/a", Does: "arm", Rounds: 3, Of: 3, Outcome: rounds.Finished, Front: 5, Covers: share(0.5), Adds: share(0.2), BySeed: share(0.1), Control: share(0.3)},
		{Linkage: "bike/b", Does: "arm", Rounds: 2, Of: 3, Outcome: rounds.Cut, Front: 2, CoveredBy: "bike/a/1", Covered: share(0.9)},
		{Linkage: "bike/d", Does: "four-bar", Rounds: 1, Of: 3, Outcome: rounds.Cut, Spent: 400, Unmet: "clearance, mass"},
		{Linkage: "bike/c", Does: "arm", Rounds: 2, Of: 3, Outcome: rounds.Cut, Front: 1, CoveredBy: "bike/a/1", Covered: share(1)},
		{Linkage: "bike/e", Does: "four-bar", Rounds: 1, Of: 3, Outcome: rounds.Cut, Spent: 500, Unmet: "clearance"},
		{Linkage: "bike/f", Mechanism: "own", Rounds: 3, Of: 3, Outcome: rounds.Finished, Spent: 900},
	}
	var p racePage
	for i := range rows {
		p.family(&rows[i]).add(&rows[i], []string{"trail"}[:i/5], nil)
	}
	var got []string
	for _, f := range p.Families {
		f.tell()
		got = append(got, f.Does)
		for _, leaf := range f.Last {
			got = append(got, leaf.Name+": "+leaf.Says)
		}
		got = append(got, f.Cut...)
	}
	want := []string{
		"arm", "a: covers 50.0 %, adds 20.0 % (one seed 10.0 %, control 30.0 %)", "cut after round 2: b, c; a/1 covered 90 to 100 % of what each covered",
		"four-bar", "cut after round 1: 2 not found feasible within 500 evaluations, the nearest outside clearance (2), mass (1)",
		"own", "in the last round: 1 not found feasible within 900 evaluations",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
	if n := p.Families[0].Linkages + p.Families[1].Linkages + p.Families[2].Linkages; n != len(rows) || p.Families[0].Found != 3 {
		t.Errorf("%d linkages of %d, %d of the first family found something", n, len(rows), p.Families[0].Found)
	}
}
