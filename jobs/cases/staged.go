package cases

import (
	"math"

	"forkfront/constraints"
	"forkfront/objectives"
	"forkfront/objectives/simulation"
	"forkfront/optimize"
)

// simulated is a case of which objectives or limits are measures of events: far longer to find than all others, so that the
// search simulates few forks and predicts the others.
type simulated struct {
	*problem
	measures  []int // of events, by their numbers
	events    []int
	simulator *simulation.Simulator
	results   simulation.Results
}

// EventMeasures are the measures of events that objectives or limits of the case are about, by their numbers.
func (c *Case) EventMeasures() (all []int) {
	for i := range objectives.EventMeasures {
		of := len(objectives.Measures) + i
		aimed := false
		for k := range c.Goals {
			aimed = aimed || c.Goals[k].Measure == of
		}
		if aimed || c.LimitOn(of) >= 0 {
			all = append(all, of)
		}
	}
	return all
}

// TakeLate adds to a candidate's score the measures of events that the search has found by simulation.
func (c *Case) TakeLate(s *objectives.Score, of *optimize.Candidate) {
	if of.Guessed || of.Late == nil {
		return
	}
	for k, i := range c.EventMeasures() {
		s.Values[i], s.Missing[i] = of.Late[k], ""
	}
}

// OnlyEventsOpen tells whether all is met by a candidate but what is asked of events, which were not simulated.
func (c *Case) OnlyEventsOpen(of *optimize.Candidate) bool {
	if len(c.EventMeasures()) == 0 || of.G[0] > 0 {
		return false
	}
	for i := range c.Limits {
		if of.G[1+i] > 0 && !late(c.Limits[i].Measure) {
			return false
		}
	}
	return true
}

// KnownTelescopic are the measures of the telescopic fork by name, those of events that the case is about among them.
func (c *Case) KnownTelescopic() map[string]float64 {
	known := c.Conditions.Baseline.Known()
	of := c.EventMeasures()
	if len(of) == 0 {
		return known
	}
	var s objectives.Score
	s.Events(c.Conditions.SimulateTelescopic(objectives.EventsOf(of)), objectives.EventsOf(of))
	for _, i := range of {
		if s.Missing[i] == "" {
			known[objectives.At(i).Name] = s.Values[i]
		}
	}
	return known
}

// SizedTelescopic is the telescopic fork of the case sized by the rules for all forks, of its first material; nil without sizes.
func (c *Case) SizedTelescopic() *objectives.Score {
	if c.Conditions.Structure == nil || len(c.Materials) == 0 {
		return nil
	}
	return c.Conditions.SizedTelescopic(&c.Materials[0])
}

func (c *Case) simulated() *simulated {
	of := c.EventMeasures()
	return &simulated{problem: c.Worker(), measures: of, events: objectives.EventsOf(of), simulator: simulation.NewSimulator()}
}

func (p *simulated) Fork() optimize.Problem { return p.c.simulated() }

// Late are the measures of events, and what they are predicted from.
func (p *simulated) Late() (values, hints int) { return len(p.measures), len(objectives.EventHints) }

// Screen finds everything but the measures of events.
func (p *simulated) Screen(dst *optimize.Outcome, hints, x []float64) bool {
	p.problem.Evaluate(dst, x)
	for k, i := range objectives.EventHints {
		hints[k] = p.score.Values[i]
	}
	return p.c.Conditions.Simulable(p.score.Missing) == ""
}

// Measure simulates a fork.
func (p *simulated) Measure(values, x []float64) bool {
	p.c.Gate.enter()
	defer p.c.Gate.leave()
	p.scored(x).SimulateSome(p.simulator, &p.results, &p.score, p.events)
	p.at = p.at[:0] // the score has values of events now
	for k, i := range p.measures {
		if p.score.Missing[i] != "" {
			return false
		}
		values[k] = p.score.Values[i]
	}
	return true
}

// Settle sets the objectives and limits that are about events.
func (p *simulated) Settle(dst *optimize.Outcome, values []float64) {
	for k, of := range p.measures {
		for i := range p.c.Goals {
			if g := &p.c.Goals[i]; g.Measure == of {
				if dst.F[i] = math.Inf(1); values != nil {
					dst.F[i] = g.Value(values[k])
				}
			}
		}
		if i := p.c.LimitOn(of); i >= 0 {
			if dst.G[1+i] = constraints.Missing; values != nil {
				dst.G[1+i] = p.c.Limits[i].Of(values[k])
			}
		}
	}
}

// Evaluate finds everything.
func (p *simulated) Evaluate(dst *optimize.Outcome, x []float64) {
	hints, values := make([]float64, len(objectives.EventHints)), make([]float64, len(p.measures))
	if !p.Screen(dst, hints, x) || !p.Measure(values, x) {
		values = nil
	}
	p.Settle(dst, values)
}

// late tells whether a measure is that of an event.
func late(measure int) bool { return objectives.At(measure).OfEvent() }

// Gradient knows none: those of events are not derived.
func (p *simulated) Gradient([][]float64, [][]float64, []float64) bool { return false }
