package report

import (
	"fmt"

	"forkfront/results/record"
)

// alike are searches that found nothing and were stopped by the same.
type alike struct {
	Title, Verdict string
	Names          []string // empty for a single search, which the title names
	More           int      // not named
	Failures       []record.Failure
}

// mostNamed is how many searches stopped by the same are named.
const mostNamed = 24

// mostAlike is how many sums of such searches the page shows.
const mostAlike = 24

// stoppedAlike sums up the searches that found nothing, in the order in which what stopped them first appears.
func stoppedAlike(run *record.Run) []alike {
	if run == nil {
		return nil
	}
	var order []string
	of := map[string][]*record.Case{}
	for i := range run.Cases {
		c := &run.Cases[i]
		if c.Feasible > 0 {
			continue
		}
		why := c.Stopper()
		if of[why] == nil {
			order = append(order, why)
		}
		of[why] = append(of[why], c)
	}
	var all []alike
	for _, why := range order[:min(len(order), mostAlike)] {
		cases := of[why]
		a := alike{Title: cases[0].Name, Verdict: cases[0].Impasse(), Failures: record.FailuresOfAll(cases)}
		if len(cases) > 1 {
			a.Title = fmt.Sprintf("%d searches found nothing feasible", len(cases))
			a.Verdict = why + ": relax it, or widen the bounds"
			if why == "" {
				a.Verdict = cases[0].Impasse()
			}
			for _, c := range cases[:min(len(cases), mostNamed)] {
				a.Names = append(a.Names, c.Name)
			}
			a.More = len(cases) - len(a.Names)
		}
		all = append(all, a)
	}
	return all
}
