package objectives

import (
	"slices"
	"sync"

	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
	"forkfront/objectives/simulation"
	"forkfront/objectives/structure/spaceframe"
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
		telescopic: sync.OnceValue(func() *simulation.Results { return c.SimulateTelescopic(simulation.AllEvents) }),
		traces: sync.OnceValue(func() *simulation.Traces {
			out := &simulation.Traces{}
			c.trace(simulation.NewSimulator(), out, plan(), base.subject(nil), simulation.AllEvents)
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
// to the score. Its damper is set as the conditions say, or else to what it needs.
func (st Study) Simulate(by *simulation.Simulator, dst *simulation.Results, score *Score) {
	st.SimulateSome(by, dst, score, simulation.AllEvents)
}

// SimulateSome is Simulate in some of the events, by their numbers.
func (st Study) SimulateSome(by *simulation.Simulator, dst *simulation.Results, score *Score, which []int) {
	c := of(st).conditions
	c.simulate(by, dst, c.Events.plan(), subjectOf(st, score, c.Damper), which)
	if slices.Contains(which, simulation.RoughRoad) {
		dst.Compare(c.Events.Telescopic())
	}
	score.TakeEvents(dst, which)
}

// SimulateTelescopic simulates the telescopic fork in some events, by their numbers.
func (c *Conditions) SimulateTelescopic(which []int) *simulation.Results {
	out := &simulation.Results{}
	c.simulate(simulation.NewSimulator(), out, c.Events.plan(), c.Baseline.subject(nil), which)
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
	c := of(st).conditions
	c.trace(by, dst, c.Events.plan(), subjectOf(st, score, c.Damper), simulation.AllEvents)
}

// subject is a fork to simulate.
type subject struct {
	ride    *ride.Ride[float64]
	motion  simulation.Solver
	values  []float64 // of its measures
	missing []string
	damper  *quarter.Adjustment // nil: what it needs
	sold    []quarter.Damper    // the one that fits best gives the damper that it needs its curve
}

func subjectOf(st Study, score *Score, damper *quarter.Adjustment) subject {
	sc := of(st)
	s := subject{ride: &sc.ride, motion: &sc.motion, values: score.Values, missing: score.Missing, damper: damper}
	if q := sc.conditions.Quarter; q != nil {
		s.sold = q.Dampers
	}
	return s
}

// subject is the telescopic fork, whose damper has no curve.
func (r *Reference) subject(damper *quarter.Adjustment) subject {
	return subject{ride: r.Ride, motion: r.Baseline, values: r.Values, missing: r.Missing, damper: damper}
}

// simulate puts a fork through events.
func (c *Conditions) simulate(by *simulation.Simulator, dst *simulation.Results, p *simulation.Plan, s subject, in []int) {
	if f, why := c.simulated(s); why != "" {
		dst.Miss(why)
	} else {
		by.Run(dst, p, f, in)
	}
}

// trace records one run of each of some events.
func (c *Conditions) trace(by *simulation.Simulator, dst *simulation.Traces, p *simulation.Plan, s subject, in []int) {
	if f, why := c.simulated(s); why != "" {
		dst.Miss(why)
	} else {
		by.Trace(dst, p, f, in)
	}
}

// simulated is a fork as it is simulated, with the friction that it has (none where forks get no sizes), or why it cannot be.
func (c *Conditions) simulated(s subject) (*simulation.Fork, string) {
	if why := c.Simulable(s.missing); why != "" {
		return nil, why
	}
	return &simulation.Fork{
		Ride: s.ride, Motion: s.motion, FrictionN: s.values[frictionStatic], BrakedN: s.values[frictionBraking], Adjustment: c.adjustment(s),
	}, ""
}

// adjustment is what the damper of a fork is set to.
func (c *Conditions) adjustment(s subject) (a quarter.Adjustment) {
	if s.damper != nil {
		return *s.damper
	}
	a.CompressionNS, a.ReboundNS = quarter.Directions(s.values[damperCoefficient], c.Quarter.ReboundPerCompression)
	if sold := quarter.Fitting(s.sold, a.CompressionNS, a.ReboundNS); sold != nil {
		a.Curve = sold.Curve
	}
	return a
}

// histories are the loads over time that the fork, with its score, bears in the events of its duty: none without events in it.
func historiesOf(st Study, score *Score) (all []spaceframe.History) {
	sc := of(st)
	rules := sc.conditions.Structure.Proof
	if rules == nil || len(rules.Events) == 0 {
		return nil
	}
	if sc.simulator == nil {
		sc.simulator, sc.traces = simulation.NewSimulator(), &simulation.Traces{}
	}
	if c := sc.conditions; c.Events == nil {
		sc.traces.Miss("events are not simulated")
	} else {
		var in []int
		for _, e := range rules.Events {
			if i := simulation.EventNamed(e.Event); !slices.Contains(in, i) {
				in = append(in, i)
			}
		}
		c.trace(sc.simulator, sc.traces, c.Events.plan(), subjectOf(st, score, c.Damper), in)
	}
	for _, e := range rules.Events {
		h := spaceframe.History{DutyEvent: e}
		tr := &sc.traces[simulation.EventNamed(e.Event)]
		if tr.Missing != "" {
			h.Missing = e.Event + ": " + tr.Missing
		}
		v := &tr.Values
		for i := range tr.Rows() {
			h.Loads = append(h.Loads, spaceframe.AxleLoad{
				TravelMM: v[simulation.TraceTravelMM][i], AlongN: v[simulation.TraceForkAlongN][i], AheadN: v[simulation.TraceForkAheadN][i],
				TorqueNMM: 1000 * v[simulation.TraceBrakeNM][i],
			})
		}
		all = append(all, h)
	}
	return all
}
