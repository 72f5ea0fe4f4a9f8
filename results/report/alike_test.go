package report

import (
	"fmt"
	"testing"

	"forkfront/results/picks"
	"forkfront/results/record"
	"forkfront/results/table"
)

// sweepRun is a run of 24 searches: ten of them never meet a limit on clearance, five most often violate one on mass, and nine
// found something.
func sweepRun() *record.Run {
	sixty, most := 60.0, 3000.0
	run := &record.Run{}
	for i := range 24 {
		c := record.Case{Name: fmt.Sprintf("bike/girder/%d", i), Evaluations: 600, Constraints: []record.Constraint{{Measure: "clearance_mm", Min: &sixty}, {Measure: "mass_g", Max: &most}}}
		switch {
		case i%24 < 10:
			c.Violated = map[string]int{"clearance_mm": 600, "mass_g": 100 + i}
		case i < 15:
			c.Violated = map[string]int{"clearance_mm": 60, "mass_g": 500 + i}
		default:
			c.Feasible = 10
		}
		run.Cases = append(run.Cases, c)
	}
	return run
}

func TestEqualFailuresAreGrouped(t *testing.T) {
	all := stoppedAlike(sweepRun())
	if len(all) != 2 {
		t.Fatalf("%d sums of failures, want 2: %v", len(all), all)
	}
	for i, want := range []struct {
		title, verdict, first string
		names                 int
	}{
		{"10 searches found nothing feasible", "none of their evaluations meets “clearance at least 60 mm”: relax it, or widen the bounds", "100\u00a0%", 10},
		{"5 searches found nothing feasible", "the limit most often violated is “mass at most 3000 g”: relax it, or widen the bounds", "85\u00a0% to 85.7\u00a0%", 5},
	} {
		if a := all[i]; a.Title != want.title || a.Verdict != want.verdict || len(a.Names) != want.names || a.Failures[0].By != want.first {
			t.Errorf("%+v, want %+v", a, want)
		}
	}
	one := sweepRun()
	one.Cases = one.Cases[:1]
	if a := stoppedAlike(one)[0]; a.Title != "bike/girder/0" || a.Names != nil {
		t.Errorf("a single search: %+v", a)
	}
}

// Of cases stopped by the same, the nearest near miss has a picture, and the others are lines.
func TestNearMissesOfManyCasesAreGrouped(t *testing.T) {
	columns := picks.NearestColumns()
	misses := &table.Table{Columns: append(columns, table.Column{Name: "case", Kind: table.Text}), Series: make([]table.Series, 5)}
	for i := range 15 {
		for rank, violation := range []float64{1 / float64(1+i), 2} {
			of := fmt.Sprintf("bike/girder/%d", i)
			misses.Series[0].Texts = append(misses.Series[0].Texts, picks.NearestName(of, 1+rank))
			misses.Series[1].Floats = append(misses.Series[1].Floats, violation)
			misses.Series[2].Texts = append(misses.Series[2].Texts, "clearance_mm: too small")
			misses.Series[3].Floats = append(misses.Series[3].Floats, 100)
			misses.Series[4].Texts = append(misses.Series[4].Texts, of)
			misses.Rows++
		}
	}
	groups, more, err := missGroups(misses, sweepRun(), nil)
	if err != nil || more != 0 || len(groups) != 2 {
		t.Fatalf("%d groups, %d left out, %v", len(groups), more, err)
	}
	for i, want := range []struct {
		nearest string
		lines   int
	}{{"bike/girder/9/nearest", 19}, {"bike/girder/14/nearest", 9}} {
		if g := groups[i]; len(g.Cards) != 1 || g.Cards[0].Name != want.nearest || len(g.Lines) != want.lines {
			t.Errorf("group %d: %d cards, the first %s, %d lines; want %+v", i, len(g.Cards), g.Cards[0].Name, len(g.Lines), want)
		}
	}
	few, _, err := missGroups(misses.Select([]int{0, 1, 2, 3}), sweepRun(), nil)
	if err != nil || len(few) != 4 {
		t.Errorf("of two cases, %d of 4 near misses have a card: %v", len(few), err)
	}
}
