package objectives

import (
	"slices"
	"sync"

	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
	"forkfront/objectives/simulation"
	"forkfront/objectives/structure"
)

// Events are what the forks of a case are simulated in. They never change, so all workers share them.
type Events struct {
	plan       func() *simulation.Plan
	telescopic func() *simulation.Results
	traces     func() *simulation.Traces // of the telescopic fork
}

// Simulated adds events to conditions that have a quarter model.
func (c *Conditions) Simulated(s *simulation.Setting) {
	plan := sync.OnceValue(func() *simulation.Plan { return simulation.NewPlan(*s, &c.Setting) })
	base := c.Baseline
	c.Events = &Events{
		plan:       plan,
		telescopic: sync.OnceValue(func() *simulation.Results { return c.SimulateTelescopic(simulation.All) }),
		traces: sync.OnceValue(func() *simulation.Traces {
			out := &simulation.Traces{}
			if f, why := c.simulated(base.Ride, base.Baseline, base.Values, base.Missing); why != "" {
				out.Miss(why)
			} else {
				simulation.NewSimulator().Trace(out, plan(), f)
			}
			return out
		}),
	}
}

// Telescopic are the outcomes of the telescopic fork.
func (e *Events) Telescopic() *simulation.Results { return e.telescopic() }

// TelescopicTraces are the traces of the telescopic fork.
func (e *Events) TelescopicTraces() *simulation.Traces { return e.traces() }

// Plan is what all forks of the case go through.
func (e *Events) Plan() *simulation.Plan { return e.plan() }

// Simulate puts the fork, with its score, through the events of its conditions, which must have some, and adds their measures
// to the score.
func (st Study) Simulate(by *simulation.Simulator, dst *simulation.Results, score *Score) {
	st.SimulateSome(by, dst, score, simulation.All)
}

// SimulateSome is Simulate in some of the events, by their numbers.
func (st Study) SimulateSome(by *simulation.Simulator, dst *simulation.Results, score *Score, which []int) {
	sc := st.of()
	c := sc.conditions
	if f, why := c.simulated(&sc.ride, &sc.motion, score.Values, score.Missing); why != "" {
		dst.Miss(why)
	} else {
		by.RunSome(dst, c.Events.plan(), f, which)
	}
	if slices.Contains(which, simulation.RoughRoad) {
		dst.Compare(c.Events.Telescopic())
	}
	score.TakeEvents(dst, which)
}

// SimulateTelescopic simulates the telescopic fork in some events, by their numbers.
func (c *Conditions) SimulateTelescopic(which []int) *simulation.Results {
	out, base := &simulation.Results{}, c.Baseline
	if f, why := c.simulated(base.Ride, base.Baseline, base.Values, base.Missing); why != "" {
		out.Miss(why)
	} else {
		simulation.NewSimulator().RunSome(out, c.Events.plan(), f, which)
	}
	return out
}

// Simulable is why a scored fork cannot be simulated, or empty.
func (c *Conditions) Simulable(missing []string) (why string) {
	why = missing[damperCoefficient]
	if why == "" && c.Structure != nil {
		why = missing[frictionBraking]
	}
	return why
}

// Trace puts the fork, with its score, through one run of each event of its conditions, which must have some, and records it
// over time.
func (st Study) Trace(by *simulation.Simulator, dst *simulation.Traces, score *Score) {
	sc := st.of()
	c := sc.conditions
	if f, why := c.simulated(&sc.ride, &sc.motion, score.Values, score.Missing); why != "" {
		dst.Miss(why)
	} else {
		by.Trace(dst, c.Events.plan(), f)
	}
}

// simulated is a fork as it is simulated, with the damper that it needs and the friction that it has (none where forks get no
// sizes), or why it cannot be.
func (c *Conditions) simulated(r *ride.Ride[float64], motion simulation.Solver, values []float64, missing []string) (*simulation.Fork, string) {
	if why := c.Simulable(missing); why != "" {
		return nil, why
	}
	f := &simulation.Fork{Ride: r, Motion: motion, FrictionN: values[frictionStatic], BrakedN: values[frictionBraking]}
	f.CompressionNS, f.ReboundNS = quarter.Directions(values[damperCoefficient], c.Quarter.ReboundPerCompression)
	return f, ""
}

// histories are the loads over time that the fork, with its score, bears in the events of its duty: none without events in it.
func (st Study) histories(score *Score) (all []structure.History) {
	sc := st.of()
	rules := sc.conditions.Structure.Proof
	if rules == nil || len(rules.Events) == 0 {
		return nil
	}
	if sc.simulator == nil {
		sc.simulator, sc.traces = simulation.NewSimulator(), &simulation.Traces{}
	}
	if sc.conditions.Events == nil {
		sc.traces.Miss("events are not simulated")
	} else {
		st.Trace(sc.simulator, sc.traces, score)
	}
	for _, e := range rules.Events {
		h := structure.History{DutyEvent: e}
		tr := &sc.traces[slices.Index(simulation.EventNames(), e.Event)]
		if tr.Missing != "" {
			h.Missing = e.Event + ": " + tr.Missing
		}
		v := &tr.Values
		for i := range tr.Rows() {
			h.Loads = append(h.Loads, structure.AxleLoad{
				TravelMM: v[simulation.TraceTravelMM][i], AlongN: v[simulation.TraceForkAlongN][i], AheadN: v[simulation.TraceForkAheadN][i],
				TorqueNMM: 1000 * v[simulation.TraceBrakeNM][i],
			})
		}
		all = append(all, h)
	}
	return all
}
