package report

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"forkfront/results/record"
	"forkfront/results/table"
)

// caseTrust is what tells whether the search of a case is to be trusted.
type caseTrust struct {
	Name        string
	Evaluations int
	Feasible    string
	Kept        int
	Chosen      string // what those kept were chosen from, and which part of its volume they have; empty: they are all
	Stop        string
	Seconds     string
	Verdict     string // how the front grew towards the end
	Settled     bool
	Found       bool             // anything feasible
	Predictions string           // of measures of events: how many forks were simulated, how well the others were predicted
	Violated    string           // the constraints that its candidates violated most
	Failures    []record.Failure // of a case that found nothing
	Chart       template.HTML
	stopper     string // of a case that found nothing: what stopped it
}

// settledPct is how much the hypervolume may still grow over the last fifth of the evaluations, in
// % of its last value, for the front to count as settled. Common practice, no source.
const settledPct = 1.0

func trust(run *record.Run, history, front *table.Table) []caseTrust {
	if run == nil {
		return nil
	}
	var all []caseTrust
	growth, seeds := growthOf(history), agreements(front)
	growing := map[string]bool{} // searches of which one seed at least still grew
	for name, a := range seeds {
		if grown, known := lastFifthPct(growth[name]); known && grown >= settledPct {
			growing[a.kind] = true
		}
	}
	for _, c := range run.Cases {
		t := caseTrust{
			Name: c.Name, Evaluations: c.Evaluations, Kept: c.Front, Stop: c.Stop, Feasible: "–",
			Predictions: c.Predictions(),
			Seconds:     fmt.Sprintf("%.3g s", c.Seconds), Verdict: "no history", Found: c.Feasible > 0, Violated: strings.ReplaceAll(c.MostViolated(3), " %", "\u00a0%"),
		}
		if c.Known > c.Front && c.CoveredPct > 0 {
			t.Chosen = fmt.Sprintf("of %d found, with %s %% of their volume", c.Known, percent(c.CoveredPct))
		}
		if c.Evaluations > 0 {
			t.Feasible = fmt.Sprintf("%.3g %%", 100*float64(c.Feasible)/float64(c.Evaluations))
		}
		if !t.Found {
			t.stopper = c.Stopper()
			t.Verdict, t.Violated, t.Failures = c.Impasse(), "", c.Failures()
		} else if history != nil {
			if t.converged(growth[c.Name]); t.Chart != "" {
				a := seeds[c.Name]
				t.agree(a, growing[a.kind])
			}
		}
		if t.Found && c.Front == 0 && len(c.Dropped) > 0 {
			t.Verdict = "all candidates of its front are outside limits on events: " + record.DroppedInWords([]record.Case{c}) + "; " + t.Verdict
		}
		all = append(all, t)
	}
	return all
}

// mostListed is how many searches the page lists one by one: it has to open at once however many a sweep has.
const mostListed = 100

// mostCards is how many searches have a card each. Of more, those that found something are rows of a table, and the
// others are summed up by what stopped them.
const mostCards = 6

// Brief tells whether the searches are too many for a card each.
func (p *page) Brief() bool { return len(p.Cases) > mostCards }

// Listed are the searches that found something and have a row each, in the order of the run.
func (p *page) Listed() []caseTrust {
	var all []caseTrust
	for i := range p.Cases {
		if p.Cases[i].Found && len(all) < mostListed {
			all = append(all, p.Cases[i])
		}
	}
	return all
}

// Unlisted counts the searches that found something and have no row.
func (p *page) Unlisted() int { return len(p.Cases) - p.Nothing - len(p.Listed()) }

// step is the hypervolume after so many evaluations.
type step struct{ evaluations, volume float64 }

// growthOf are the steps of each case, by its name; none without a history.
func growthOf(history *table.Table) map[string][]step {
	all := map[string][]step{}
	if history == nil {
		return all
	}
	cases, evaluations, volume := history.Index("case"), history.Index("evaluations"), history.Index("hypervolume")
	if cases < 0 || evaluations < 0 || volume < 0 {
		return all
	}
	for row, of := range history.Series[cases].Texts {
		if !history.Null(volume, row) {
			all[of] = append(all[of], step{float64(history.Series[evaluations].Ints[row]), history.Series[volume].Floats[row]})
		}
	}
	return all
}

// lastFifthPct is how much the front grew in the last fifth of the evaluations, in % of its last volume; not known where it has none.
func lastFifthPct(steps []step) (grown float64, known bool) {
	if len(steps) == 0 || !(steps[len(steps)-1].volume > 0) {
		return 0, false
	}
	last := steps[len(steps)-1]
	before := steps[0].volume
	for _, s := range steps {
		if s.evaluations <= 0.8*last.evaluations {
			before = s.volume
		}
	}
	return math.Abs(100 * (last.volume - before) / last.volume), true
}

// converged says how much the front still grew in the last fifth of the evaluations.
func (t *caseTrust) converged(steps []step) {
	grown, known := lastFifthPct(steps)
	if !known {
		t.Verdict = "nothing feasible found: no fork within its bounds and limits works, or it needs a larger budget"
		return
	}
	t.Settled = grown < settledPct
	if t.Settled {
		t.Verdict = fmt.Sprintf("settled: the last fifth of the evaluations added %s %% of hypervolume", percent(grown))
	} else {
		t.Verdict = fmt.Sprintf("still growing: the last fifth of the evaluations added %s %% of hypervolume; give it a larger budget", percent(grown))
	}
	t.Chart = growthChart(steps)
}

// percent has two digits, or more where the number is larger.
func percent(x float64) string {
	if math.Abs(x) >= 10 {
		return fmt.Sprintf("%.0f", x)
	}
	return fmt.Sprintf("%.2g", x)
}

// growthChart draws the hypervolume over the evaluations; it stands in the page without a script.
func growthChart(steps []step) template.HTML {
	const width, height, left, top = 260.0, 64.0, 4.0, 6.0
	last := steps[len(steps)-1]
	most := last.volume
	for _, s := range steps {
		most = math.Max(most, s.volume)
	}
	var path strings.Builder
	every := max(1, len(steps)/130)
	for i, s := range steps {
		if i%every != 0 && i != len(steps)-1 {
			continue
		}
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		fmt.Fprintf(&path, "%s%.1f %.1f", letter, left+width*s.evaluations/last.evaluations, top+height*(1-s.volume/most))
	}
	// Only numbers go into the markup, so there is nothing to escape.
	return template.HTML(fmt.Sprintf(`<svg class="growth" viewBox="0 0 268 76" role="img" aria-label="hypervolume over evaluations, ending at %.4g">`+
		`<path class="base" d="M%g %gH%g"/><path class="last" d="M%g %gV%g"/><path class="grow" d="%s"/></svg>`,
		last.volume, left, top+height, left+width, left+0.8*width, top, top+height, path.String()))
}
