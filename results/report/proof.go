package report

import (
	"fmt"
	"slices"

	"forkfront/objectives"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/spaceframe"
	"forkfront/results/display"
	"forkfront/results/picks"
	"forkfront/results/sideview"
)

// proofTable shows the suggested candidates under the test loads of the job.
type proofTable struct {
	Heads   []string // candidates
	Rows    []proofRow
	Sources []string // of loads and of what is allowed
	Assumed string
	Not     string // what is not checked
}

// proofRow is one test, or what all of them come to.
type proofRow struct {
	Name, Doc string
	Cells     []proofCell // one for each candidate
}

// proofCell is the margin or the damage of a candidate. Short says that it is not enough.
type proofCell struct {
	Value, Where string
	Short        bool
}

// none is a cell without a value.
func none(why string) proofCell { return proofCell{Value: "–", Where: why} }

// proofOf puts the chosen candidates under the test loads: nil where the job has none, or the forks are not known.
func proofOf(chosen []picks.Pick, forks sideview.ForkOf) (*proofTable, error) {
	if forks == nil {
		return nil, nil
	}
	var names []string
	var proofs []*spaceframe.Proof
	scorers := map[*objectives.Conditions]*objectives.Scorer{}
	for _, p := range chosen {
		f, err := forks(p.Row)
		if err != nil {
			return nil, err
		}
		if s := f.Conditions.Structure; s == nil || s.Proof == nil {
			return nil, nil
		}
		if scorers[f.Conditions] == nil {
			scorers[f.Conditions] = objectives.NewScorer(f.Conditions)
		}
		s, err := f.Solve(scorers[f.Conditions])
		if err != nil {
			return nil, err
		}
		names, proofs = append(names, f.ID), append(proofs, s.Study.Proof(&s.Score))
	}
	return newProofTable(names, proofs), nil
}

// newProofTable lists all tests of candidates, whose rules are the same.
func newProofTable(names []string, proofs []*spaceframe.Proof) *proofTable {
	t := &proofTable{Heads: names, Not: display.Unproved}
	least, damage := proofRow{Name: "least margin", Doc: "of tubes in static and fatigue tests"}, proofRow{Name: "damage", Doc: "sum of cycles over the cycles withstood (Palmgren and Miner); failure is expected at 1"}
	for i, p := range proofs {
		if t.Assumed == "" {
			t.Assumed = p.Assumed
		}
		for k := range p.Results {
			t.row(&p.Results[k]).Cells[i] = marginCell(&p.Results[k])
		}
		least.Cells, damage.Cells = append(least.Cells, none(p.Missing)), append(damage.Cells, none(p.MissingDamage))
		if p.Missing == "" {
			least.Cells[i] = proofCell{Value: objectives.Digits(p.Margin, 3), Short: p.Margin < 1}
		}
		if p.MissingDamage == "" {
			damage.Cells[i] = proofCell{Value: objectives.Digits(p.Damage, 3), Short: p.Damage > 1}
		}
	}
	t.Rows = slices.Insert(t.Rows, 0, least, damage)
	return t
}

// row finds the row of a test, or adds it.
func (t *proofTable) row(r *spaceframe.TestResult) *proofRow {
	if i := slices.IndexFunc(t.Rows, func(row proofRow) bool { return row.Name == r.Test }); i >= 0 {
		return &t.Rows[i]
	}
	doc := string(r.Kind)
	if r.Kind != loads.ImpactTest {
		doc += fmt.Sprintf(", %.0f N", r.LoadN)
	}
	if r.Cycles > 0 {
		doc += fmt.Sprintf(", %.0f cycles", r.Cycles)
	}
	t.note("Load by " + r.Basis)
	if r.AllowedBy != "" {
		t.note("Allowed by " + r.AllowedBy)
	}
	row := proofRow{Name: r.Test, Doc: doc}
	for range t.Heads {
		row.Cells = append(row.Cells, none(""))
	}
	t.Rows = append(t.Rows, row)
	return &t.Rows[len(t.Rows)-1]
}

// note adds where figures come from, once.
func (t *proofTable) note(source string) {
	if !slices.Contains(t.Sources, source) {
		t.Sources = append(t.Sources, source)
	}
}

func marginCell(r *spaceframe.TestResult) proofCell {
	where := r.Part + ", " + r.Side + " side"
	switch {
	case r.Missing != "":
		return none(r.Missing)
	case r.Kind == loads.ImpactTest:
		where += "; elastic: a bound"
	}
	return proofCell{Value: objectives.Digits(r.Margin, 3), Where: where, Short: r.Margin < 1}
}
