package tables

import (
	"fmt"

	"forkfront/jobs/store"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/record"
)

// Summary is what a folder says of all its cases together.
type Summary struct {
	Run     string // its name
	Rows    int
	history []results.HistoryRow
	Records []record.Case
	Best    map[who]bool // candidates on the front of their bike
}

// who is a candidate: the case's number in the job, and the candidate's in the case.
type who struct{ at, number int }

// contender is a candidate that no other of its bike has beaten so far.
type contender struct {
	who
	values []float64
}

// Summarize reads every case once. A candidate that is beaten within its case is beaten on its bike,
// so the front of the fronts is the front of all.
func Summarize(all []store.Found) (*Summary, error) {
	s := &Summary{Best: map[who]bool{}}
	bikes := map[string][]contender{}
	for i, f := range all {
		d, err := f.Load()
		if err != nil {
			return nil, err
		}
		s.Rows += len(d.Result.Front)
		s.history = append(s.history, d.History...)
		s.Records = append(s.Records, d.Record)
		for k := range d.Result.Front {
			c := &d.Result.Front[k]
			bikes[f.Case.Bike] = challenge(bikes[f.Case.Bike], contender{who{i, c.Number}, c.F})
		}
	}
	for _, front := range bikes {
		for _, c := range front {
			s.Best[c.who] = true
		}
	}
	return s, nil
}

// challenge lets a candidate into a front unless one there beats it, and puts out those it beats.
func challenge(front []contender, c contender) []contender {
	kept := front[:0]
	for i, x := range front {
		if dominates(x.values, c.values) {
			return append(kept, front[i:]...) // nothing that c beats can have come before
		}
		if !dominates(c.values, x.values) {
			kept = append(kept, x)
		}
	}
	return append(kept, c)
}

// dominates tells whether a is nowhere worse than b and somewhere better; all are made small.
func dominates(a, b []float64) bool {
	better := false
	for k := range a {
		if a[k] > b[k] {
			return false
		}
		better = better || a[k] < b[k]
	}
	return better
}

// WriteAll writes what all cases came to into a results folder, with so many processors.
func WriteAll(folder *results.Folder, keep string, all []store.Found, s *Summary, processors int) error {
	sum, err := store.WriteCases(folder, all)
	if err != nil {
		return err
	}
	meta := map[string]string{"forkfront.caution": display.Caution}
	if err := writeFront(folder.Path(results.FrontFile), folder.Path(results.CurvesFile), all, s, meta, sum, processors); err != nil {
		return err
	}
	if err := writeTelescopic(folder.Path(results.TelescopicFile), s.Run, all, meta); err != nil {
		return err
	}
	if keep == KeepAll {
		if err := writeCandidates(folder.Path(results.AllFile), s.Run, all, meta); err != nil {
			return err
		}
	}
	if err := folder.WriteHistory(s.Run, s.history, meta); err != nil {
		return fmt.Errorf("write the history: %w", err)
	}
	return nil
}
