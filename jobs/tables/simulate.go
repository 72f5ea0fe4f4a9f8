package tables

import (
	"context"
	"fmt"
	"iter"
	"slices"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/store"
	"forkfront/objectives"
	"forkfront/objectives/simulation"
	"forkfront/optimize"
)

// Simulation puts candidates of finished cases through the events of their bikes, each once, and keeps what they did.
type Simulation struct {
	All        []store.Found      // the cases of a job, in its order
	Saved      *store.Checkpoints // where outcomes are kept; nil: in memory
	Every      time.Duration      // at least between two writes of them
	Processors int
	Watch      Watcher // nil: nobody

	memory map[int]*store.Outcomes
}

// Watcher is told of a simulation.
type Watcher interface {
	Trouble(err error)                          // kept outcomes cannot be used
	BeginsEvents(c *cases.Case, before, of int) // how many of a case's candidates are known before any is simulated
	Simulating(c *cases.Case, done, of int)     // how many are known
}

// Simulated tells whether any of the cases has events.
func Simulated(all []store.Found) bool {
	return slices.ContainsFunc(all, func(f store.Found) bool { return f.Case.Conditions.Events != nil })
}

// casesWithEvents are the numbers of the cases that have events, and whether each is the first of its bike.
func casesWithEvents(all []store.Found) iter.Seq2[int, bool] {
	return func(yield func(int, bool) bool) {
		seen := map[string]bool{}
		for i := range all {
			c := all[i].Case
			if c.Conditions.Events == nil {
				continue
			}
			first := !seen[c.Bike]
			seen[c.Bike] = true
			if !yield(i, first) {
				return
			}
		}
	}
}

// simulatedAtOnce is how many candidates each processor simulates between two looks at the time and at whether the run is
// stopped: some 0.6 s.
const simulatedAtOnce = 4

// outcomes are those of candidates of case i, by number. What has been kept is not simulated again; if the context ends, all
// that is done is kept.
func (m *Simulation) outcomes(ctx context.Context, i int, front []optimize.Candidate) (map[int]simulation.Results, error) {
	f := &m.All[i]
	kept := m.kept(i)
	left := slices.DeleteFunc(slices.Clone(front), func(c optimize.Candidate) bool { _, done := kept.Of[c.Number]; return done })
	if len(left) == 0 {
		return kept.Of, nil
	}
	if m.Watch != nil {
		m.Watch.BeginsEvents(f.Case, len(front)-len(left), len(front))
	}
	workers, simulators, saved, done := newRescorers(f.Case, m.Processors), newSimulators(m.Processors), time.Now(), 0
	for chunk := range slices.Chunk(left, simulatedAtOnce*m.Processors) {
		if m.Watch != nil {
			m.Watch.Simulating(f.Case, len(front)-len(left)+done, len(front))
		}
		outcomes := make([]simulation.Results, len(chunk))
		shareOut(len(chunk), m.Processors, func(worker, k int) {
			var score objectives.Score
			workers[worker].score(&score, chunk[k].X).Simulate(simulators[worker], &outcomes[k], &score)
		})
		for k := range chunk {
			kept.Of[chunk[k].Number] = outcomes[k]
		}
		done += len(chunk)
		if ctx.Err() != nil {
			break
		}
		if time.Since(saved) >= m.Every {
			if err := m.keep(i, kept); err != nil {
				return nil, err
			}
			saved = time.Now()
		}
	}
	if err := m.keep(i, kept); err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("case %s: %w", f.Case.Name, err)
	}
	return kept.Of, nil
}

// kept are the outcomes of case i so far.
func (m *Simulation) kept(i int) *store.Outcomes {
	switch {
	case m.Saved != nil:
		kept, trouble := m.Saved.LoadOutcomes(i, m.All[i].Case.Name)
		if m.Watch != nil {
			m.Watch.Trouble(trouble)
		}
		return kept
	case m.memory[i] != nil:
		return m.memory[i]
	}
	return &store.Outcomes{Of: map[int]simulation.Results{}}
}

func (m *Simulation) keep(i int, kept *store.Outcomes) error {
	if m.Saved != nil {
		return m.Saved.SaveOutcomes(i, kept)
	}
	if m.memory == nil {
		m.memory = map[int]*store.Outcomes{}
	}
	m.memory[i] = kept
	return nil
}

// frontOf are the candidates of a case that are named, or all where only is nil.
func frontOf(f *store.Found, only Suggested) ([]optimize.Candidate, error) {
	d, err := f.Load()
	if err != nil {
		return nil, err
	}
	if only == nil {
		return d.Result.Front, nil
	}
	ids := only[f.Case.Name]
	return slices.DeleteFunc(slices.Clone(d.Result.Front), func(c optimize.Candidate) bool { return !ids[candidateID(f.Case, &c)] }), nil
}

// newSimulators makes one per worker.
func newSimulators(workers int) []*simulation.Simulator {
	all := make([]*simulation.Simulator, workers)
	for i := range all {
		all[i] = simulation.NewSimulator()
	}
	return all
}
