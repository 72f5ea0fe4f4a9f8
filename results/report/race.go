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

// racePage is the race of a run: its rounds, kinds of linkages, and the linkages.
type racePage struct {
	Cases, Linkages int
	Evaluations     int
	Rounds          []raceRound
	Kinds           []raceKind
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

// raceKind is linkages whose bodies are there for the same.
type raceKind struct {
	Does                   string
	Linkages, Found, Ended int
	Best                   string // linkage that covers most
	Covers                 string
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
	best := bestOf(rows, values)
	for _, v := range values {
		if strings.HasPrefix(v.Name, medianPrefix) {
			p.Costs = append(p.Costs, naming.Label(strings.TrimPrefix(v.Name, medianPrefix))+", "+v.Unit)
		}
	}
	for i := range rows {
		r := &rows[i]
		p.Evaluations += r.Evaluations
		p.Cases += r.Cases
		p.Seeded = p.Seeded || r.Control != nil
		p.kind(r)
		if r.Front == 0 {
			p.nothing(r)
			continue
		}
		one := raceLinkage{
			Name: shortOf(r), BuiltIn: r.BuiltIn, Does: r.Does, Shock: r.Shock, Evaluations: r.Evaluations, Covers: rounds.Percent(r.Covers), Adds: rounds.Percent(r.Adds),
			Seed: rounds.Percent(r.BySeed), Control: rounds.Percent(r.Control), Ended: r.Ended(), Cut: r.Outcome == rounds.Cut,
			Above: r.BySeed != nil && r.Control != nil && *r.BySeed > *r.Control, Best: strings.Join(best[i], ", "),
		}
		if r.Covers != nil {
			one.Bar = template.HTML(fmt.Sprintf(`<svg class="share" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true"><rect width="%.1f" height="8"/></svg>`, 100**r.Covers)) //nolint:gosec // a number
		}
		for k, v := range values {
			if strings.HasPrefix(v.Name, medianPrefix) {
				one.Costs = append(one.Costs, shownCost(r.Values[k]))
			}
		}
		p.Found = append(p.Found, one)
	}
	return p
}

const (
	bestPrefix   = "best_"
	medianPrefix = "median_"
)

// shortOf is a linkage's name without its bike.
func shortOf(r *rounds.Row) string { return rounds.Short(r.Linkage) }

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

// kind counts a linkage among those of its kind. The first of a kind covers most, as the rows are sorted, unless it found nothing.
func (p *racePage) kind(r *rounds.Row) {
	does := r.Does
	if does == "" {
		does = r.Mechanism
	}
	at := slices.IndexFunc(p.Kinds, func(k raceKind) bool { return k.Does == does })
	if at < 0 {
		at = len(p.Kinds)
		p.Kinds = append(p.Kinds, raceKind{Does: does, Best: "–", Covers: "–"})
	}
	k := &p.Kinds[at]
	k.Linkages++
	if r.Outcome == rounds.Finished {
		k.Ended++
	}
	if r.Front > 0 {
		if k.Found == 0 {
			k.Best, k.Covers = shortOf(r), rounds.Percent(r.Covers)
		}
		k.Found++
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

// bestOf names the objectives in which no other linkage has a better candidate, for each row.
func bestOf(rows []rounds.Row, values []rounds.Value) [][]string {
	all := make([][]string, len(rows))
	for k, v := range values {
		if !strings.HasPrefix(v.Name, bestPrefix) || v.Sense == "" {
			continue
		}
		var best *float64
		for i := range rows {
			if x := rows[i].Values[k]; x != nil && (best == nil || v.Sense == "low" && *x < *best || v.Sense == "high" && *x > *best) {
				best = x
			}
		}
		for i := range rows {
			if x := rows[i].Values[k]; x != nil && *x == *best {
				all[i] = append(all[i], naming.Label(strings.TrimPrefix(v.Name, bestPrefix)))
			}
		}
	}
	return all
}
