package report

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"forkfront/objectives/naming"
	"forkfront/results/rounds"
	"forkfront/results/table"
)

// racePage is the race of a run: its rounds, families of linkages, and the linkages.
type racePage struct {
	Cases, Linkages int
	Evaluations     int
	Rounds          []raceRound
	Families        []*raceFamily
	Found           []raceLinkage // that found something feasible
	Costs           []string      // heads of what they cost
	Nothing         []raceNothing
	None            int // linkages that found nothing feasible
	Seeded          bool
}

type raceRound struct {
	Number, Cases, Evaluations, Feasible, Cut int
	Joint                                     string
}

type raceLinkage struct {
	Name, BuiltIn, Does, Shock string
	Evaluations                int
	Covers, Adds, Seed         string
	Control                    string
	Above                      bool // one seed of it adds more than the control
	Bar                        template.HTML
	Best                       string // objectives in which nothing is better
	Costs                      []string
	Ended                      string
	Cut                        bool
}

// raceNothing is linkages of which nothing feasible was found and whose nearest misses violate the same.
type raceNothing struct {
	Unmet    string
	Linkages []string
}

func raceOf(topologies *table.Table, lines []rounds.Line) *racePage {
	if topologies == nil || len(lines) == 0 {
		return nil
	}
	rows, values := rounds.Rows(topologies)
	p := &racePage{Linkages: len(rows)}
	p.rounds(lines)
	best, alone := bestOf(rows, values)
	var costs []int // of the values
	for k, v := range values {
		if name, ok := strings.CutPrefix(v.Name, medianPrefix); ok {
			costs, p.Costs = append(costs, k), append(p.Costs, naming.Label(name)+", "+v.Unit)
		}
	}
	for i := range rows {
		r := &rows[i]
		p.Evaluations += r.Evaluations
		p.Cases += r.Cases
		p.Seeded = p.Seeded || r.Control != nil
		p.family(r).add(r, alone[i], costsOf(r, values, costs))
		if r.Front == 0 {
			p.nothing(r)
			continue
		}
		one := raceLinkage{
			Name: shortOf(r), BuiltIn: r.BuiltIn, Does: r.Does, Shock: r.Shock, Evaluations: r.Evaluations, Covers: rounds.Percent(r.Covers), Adds: rounds.Percent(r.Adds),
			Seed: rounds.Percent(r.BySeed), Control: rounds.Percent(r.Control), Ended: r.Ended(), Cut: r.Outcome == rounds.Cut,
			Above: r.BySeed != nil && r.Control != nil && *r.BySeed > *r.Control, Best: strings.Join(best[i], ", "),
		}
		one.Bar = shareBar(r.Covers)
		for _, k := range costs {
			one.Costs = append(one.Costs, shownCost(r.Values[k]))
		}
		p.Found = append(p.Found, one)
	}
	for _, f := range p.Families {
		f.tell()
	}
	return p
}

const (
	bestPrefix   = "best_"
	medianPrefix = "median_"
)

// shortOf is a linkage's name without its bike.
func shortOf(r *rounds.Row) string { return rounds.Short(r.Linkage) }

// shareBar is a bar as long as a share, with nothing for none.
func shareBar(share *float64) template.HTML {
	if share == nil {
		return ""
	}
	return template.HTML(fmt.Sprintf(`<svg class="share" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true"><rect width="%.1f" height="8"/></svg>`, 100**share)) //nolint:gosec // a number
}

// costsOf puts what a linkage's forks cost, in some of the values, into words.
func costsOf(r *rounds.Row, values []rounds.Value, costs []int) (said []string) {
	for _, k := range costs {
		if x := r.Values[k]; x != nil {
			said = append(said, fmt.Sprintf("%s %.4g %s", naming.Label(strings.TrimPrefix(values[k].Name, medianPrefix)), *x, values[k].Unit))
		}
	}
	return said
}

func shownCost(v *float64) string {
	if v == nil {
		return "–"
	}
	return fmt.Sprintf("%.4g", *v)
}

// rounds sums up each round.
func (p *racePage) rounds(lines []rounds.Line) {
	for i := range lines {
		l := &lines[i]
		if l.Round > len(p.Rounds) {
			p.Rounds = append(p.Rounds, raceRound{Number: l.Round, Evaluations: l.Evaluations, Joint: fmt.Sprintf("%.1f %%", 100*float64(l.Joint)/float64(l.Samples))})
		}
		r := &p.Rounds[len(p.Rounds)-1]
		r.Cases++
		if l.Front > 0 {
			r.Feasible++
		}
		if l.Outcome == rounds.Cut {
			r.Cut++
		}
	}
}

func (p *racePage) nothing(r *rounds.Row) {
	p.None++
	name := fmt.Sprintf("%s: not found feasible within %d evaluations", shortOf(r), r.Spent)
	at := slices.IndexFunc(p.Nothing, func(n raceNothing) bool { return n.Unmet == r.Unmet })
	if at < 0 {
		p.Nothing = append(p.Nothing, raceNothing{r.Unmet, []string{name}})
		return
	}
	p.Nothing[at].Linkages = append(p.Nothing[at].Linkages, name)
}

// bestOf names the objectives in which no other linkage has a better candidate, for each row, and those of them in which none has
// one as good either.
func bestOf(rows []rounds.Row, values []rounds.Value) (best, alone [][]string) {
	best, alone = make([][]string, len(rows)), make([][]string, len(rows))
	for k, v := range values {
		if !strings.HasPrefix(v.Name, bestPrefix) || v.Sense == "" {
			continue
		}
		var least *float64
		for i := range rows {
			if x := rows[i].Values[k]; x != nil && (least == nil || v.Sense == "low" && *x < *least || v.Sense == "high" && *x > *least) {
				least = x
			}
		}
		var of []int
		for i := range rows {
			if x := rows[i].Values[k]; x != nil && *x == *least {
				of = append(of, i)
			}
		}
		name := naming.Label(strings.TrimPrefix(v.Name, bestPrefix))
		for _, i := range of {
			best[i] = append(best[i], name)
		}
		if len(of) == 1 {
			alone[of[0]] = append(alone[of[0]], name)
		}
	}
	return best, alone
}
