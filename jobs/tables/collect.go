package tables

import (
	"fmt"
	"slices"

	"forkfront/jobs/store"
	"forkfront/optimize/dominance"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/record"
)

// Summary is the result of all cases of a folder together.
type Summary struct {
	Run     string // its name
	Rows    int
	nearest int // near misses of all cases
	history []results.HistoryRow
	Records []record.Case
	Best    map[candidateKey]bool // candidates on the front of their bike
	Dropped *Dropped              // nil: no limits apply after the search
}

// candidateKey identifies a candidate: the case's number in the job, and the candidate's in the case.
type candidateKey struct{ at, number int }

// Summarize reads every case once. A candidate that is dominated within its case is dominated on its bike,
// so the front of the fronts is the front of all.
func Summarize(all []store.Found) (*Summary, error) {
	s := &Summary{Best: map[candidateKey]bool{}}
	bikes := map[string]*frontOfBike{}
	for i, f := range all {
		d, err := f.Load()
		if err != nil {
			return nil, err
		}
		s.Rows += len(d.Result.Front)
		s.nearest += len(d.Result.Nearest)
		s.history = append(s.history, d.History...)
		s.Records = append(s.Records, d.Record)
		front := bikes[f.Case.Bike]
		if front == nil {
			front = &frontOfBike{}
			bikes[f.Case.Bike] = front
		}
		for k := range d.Result.Front {
			c := &d.Result.Front[k]
			front.add(candidateKey{i, c.Number}, c.F)
		}
	}
	for _, front := range bikes {
		for _, alike := range front.held {
			for _, c := range alike {
				s.Best[c] = true
			}
		}
	}
	return s, nil
}

// frontOfBike is the candidates of a bike that no other of it dominates so far.
type frontOfBike struct {
	tree dominance.Tree
	held [][]candidateKey // by index in the tree; candidates with equal objectives share one
}

// add adds a candidate unless a member dominates it, and removes the members that it dominates. All objectives are
// minimized.
func (b *frontOfBike) add(c candidateKey, objectives []float64) {
	at, found, dominated := b.tree.Compare(objectives)
	switch found {
	case dominance.Worse:
		return
	case dominance.Equal:
		b.held[at] = append(b.held[at], c)
		return
	}
	slices.Sort(dominated)
	for _, i := range slices.Backward(dominated) { // the last one gets the index of the one removed
		last := len(b.held) - 1
		b.tree.Remove(i)
		b.held[i] = b.held[last]
		b.held = b.held[:last]
	}
	b.tree.Add(objectives)
	b.held = append(b.held, []candidateKey{c})
}

// WriteAll writes the results of all cases into a results folder, on the given number of processors.
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
	if err := writeNearest(folder.Path(results.NearestFile), all, s, withSeal(meta, sum)); err != nil {
		return err
	}
	if keep == KeepAll {
		if err := writeCandidates(folder.Path(results.AllFile), s, all, meta); err != nil {
			return err
		}
	}
	if err := folder.WriteHistory(s.Run, s.history, meta); err != nil {
		return fmt.Errorf("write the history: %w", err)
	}
	return nil
}
