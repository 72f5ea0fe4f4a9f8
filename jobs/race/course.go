package race

import (
	"maps"
	"slices"

	"forkfront/results/rounds"
)

// Came is what a case has come to at the end of a round.
type Came struct {
	Case        string
	Evaluations int
	Feasible    int
	Front       [][]float64 // in objectives that are minimised
	Violation   float64     // the least that it has seen, where nothing is feasible
	Unmet       []string    // constraints that the nearest miss violates
}

// Course is a race as far as it has been run.
type Course struct {
	Rounds []Round
	Lines  []rounds.Line // a case and round each, in the order of places

	seed   uint64
	box    *Box // from the first round in which something was feasible
	covers map[string]Cover
	fronts map[string][][]float64 // the latest of each case
	done   int                    // rounds
}

// NewCourse begins a race.
func NewCourse(rounds []Round, seed uint64) *Course {
	return &Course{Rounds: rounds, seed: seed, covers: map[string]Cover{}, fronts: map[string][][]float64{}}
}

// Finish ends the next round, from what all of its cases came to, and returns the names of those that go on, in the order of their
// places. After the last round none do.
func (c *Course) Finish(all []Came) (on []string) {
	if c.box == nil {
		fronts := make([][][]float64, len(all))
		for i := range all {
			fronts[i] = all[i].Front
		}
		c.box = NewBox(fronts, c.seed)
	}
	entries := make([]Entry, len(all))
	for i := range all {
		c.fronts[all[i].Case] = all[i].Front
		entries[i] = Entry{Case: all[i].Case, Violation: all[i].Violation}
		if len(all[i].Front) > 0 {
			entries[i].Cover, entries[i].Violation = c.box.Covered(all[i].Front), 0
			c.covers[all[i].Case] = entries[i].Cover
		}
	}
	last := c.done == len(c.Rounds)-1
	kept := 0
	if !last {
		kept = c.Rounds[c.done+1].Cases
	}
	joint := c.Joint()
	c.done++
	for n, p := range Standings(entries, kept) {
		came := &all[p.Entry]
		line := rounds.Line{
			Round: c.done, Rounds: len(c.Rounds), Case: came.Case, Evaluations: came.Evaluations, Feasible: came.Feasible, Front: len(came.Front),
			Place: n + 1, Adds: p.Adds, Own: p.Own, Joint: joint, Samples: Samples, Outcome: rounds.Cut,
		}
		if len(came.Front) == 0 {
			line.Violation, line.Unmet = &came.Violation, came.Unmet
		}
		switch {
		case last:
			line.Outcome = rounds.Finished
		case p.Kept:
			line.Outcome = rounds.GoesOn
			on = append(on, came.Case)
		default:
			line.CoveredBy, line.Covered = p.Coverer, p.Coverers
		}
		c.Lines = append(c.Lines, line)
	}
	return on
}

// Joint is how many sample points the latest fronts of all cases cover together.
func (c *Course) Joint() int {
	var all Cover
	for _, cover := range c.covers {
		if all == nil {
			all = slices.Clone(cover)
		} else {
			all.Or(cover)
		}
	}
	return all.Count()
}

// Covers are what the latest fronts of all cases cover in a box of their own: by the end of a race they may have left the one that
// its decisions were made in.
func (c *Course) Covers() map[string]Cover {
	names := slices.Sorted(maps.Keys(c.fronts))
	all := make([][][]float64, len(names))
	for i, name := range names {
		all[i] = c.fronts[name]
	}
	covers := map[string]Cover{}
	if box := NewBox(all, c.seed); box != nil {
		for i, name := range names {
			if len(all[i]) > 0 {
				covers[name] = box.Covered(all[i])
			}
		}
	}
	return covers
}
