package objectives

import (
	"sync"

	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
	"forkfront/objectives/simulation"
)

// Events are what the forks of a case are simulated in. They never change, so all workers share them.
type Events struct {
	plan       func() *simulation.Plan
	telescopic func() *simulation.Results
}

// Simulated adds events to conditions that have a quarter model.
func (c *Conditions) Simulated(s *simulation.Setting) {
	plan := sync.OnceValue(func() *simulation.Plan { return simulation.NewPlan(*s, &c.Setting) })
	base := c.Baseline
	c.Events = &Events{plan, sync.OnceValue(func() *simulation.Results {
		out := &simulation.Results{}
		c.simulate(simulation.NewSimulator(), out, plan(), base.Ride, base.Baseline, base.Values, base.Missing)
		return out
	})}
}

// Telescopic are the outcomes of the telescopic fork.
func (e *Events) Telescopic() *simulation.Results { return e.telescopic() }

// Simulate puts the fork, with its score, through the events of its conditions, which must have some.
func (st Study) Simulate(by *simulation.Simulator, dst *simulation.Results, score *Score) {
	sc := st.of()
	c := sc.conditions
	c.simulate(by, dst, c.Events.plan(), &sc.ride, &sc.motion, score.Values, score.Missing)
	dst.Compare(c.Events.Telescopic())
}

// simulate simulates a fork with the damper that it needs and the friction that it has: none where forks get no sizes.
func (c *Conditions) simulate(by *simulation.Simulator, dst *simulation.Results, p *simulation.Plan, r *ride.Ride[float64], motion simulation.Solver, values []float64, missing []string) {
	why := missing[damperCoefficient]
	if why == "" && c.Structure != nil {
		why = missing[frictionBraking]
	}
	if why != "" {
		dst.Miss(why)
		return
	}
	f := simulation.Fork{Ride: r, Motion: motion, FrictionN: values[frictionStatic], BrakedN: values[frictionBraking]}
	f.CompressionNS, f.ReboundNS = quarter.Directions(values[damperCoefficient], c.Quarter.ReboundPerCompression)
	by.Run(dst, p, &f)
}
