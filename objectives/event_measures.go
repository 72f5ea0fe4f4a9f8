package objectives

import (
	"slices"

	"forkfront/objectives/simulation"
)

// EventMeasures are the quantities of events by which forks can be searched and limited, by the names of both:
// bump_braked_load_pct. They follow Measures in the numbering of measures; a score has values of them only where the fork was
// simulated, so they have no column unless a job asks for them.
var EventMeasures = eventMeasures()

func eventMeasures() (all []Measure) {
	for i := range simulation.Readings {
		r := &simulation.Readings[i]
		event, quantity := &simulation.Events[r.Event], &simulation.Quantities[r.Quantity]
		m := Measure{
			Name: r.Name(), Unit: quantity.Unit, Doc: quantity.Doc + "; in the event " + event.Name + ": " + event.Doc,
			Formula: "simulated: see jobs/docs/ride.md", Good: "less than that of the telescopic fork", Needs: NeedStructure,
			Resolution: quantity.Resolution, Scale: quantity.Scale, event: r,
		}
		m.given = givenRide
		if quantity.Low {
			m.Sense = Low
		} else {
			m.Good = "no preference of its own"
		}
		all = append(all, m)
	}
	return all
}

// numbered are all measures by number.
var numbered = func() (all []*Measure) {
	for i := range Measures {
		all = append(all, &Measures[i])
	}
	for i := range EventMeasures {
		all = append(all, &EventMeasures[i])
	}
	return all
}()

// At is the measure of a number, among Measures and then EventMeasures.
func At(i int) *Measure { return numbered[i] }

// OfEvent tells whether a measure is the quantity of an event, which takes far longer to find than all others.
func (m *Measure) OfEvent() bool { return m.event != nil }

// unsimulated leaves the measures of events without values.
func (s *Score) unsimulated() {
	for i := len(Measures); i < len(s.Values); i++ {
		s.Values[i], s.Missing[i] = 0, simulation.NotRun
	}
}

// TakeEvents takes the measures of some events, by their numbers, from what was simulated.
func (s *Score) TakeEvents(from *simulation.Results, which []int) {
	for i := len(Measures); i < len(numbered); i++ {
		of := numbered[i].event
		if slices.Contains(which, of.Event) {
			value, why := of.Of(from)
			s.put(i, value, why)
		}
	}
}

// Events makes a score of nothing but the measures of some events, by their numbers.
func (s *Score) Events(from *simulation.Results, which []int) {
	s.Values, s.Missing = perMeasure(s.Values), perMeasure(s.Missing)
	s.unsimulated()
	s.TakeEvents(from, which)
}

// EventsOf are the events that measures, by their numbers, are quantities of, in the order of the registry.
func EventsOf(measures []int) (which []int) {
	for e := range simulation.Events {
		for _, i := range measures {
			if m := At(i); m.event != nil && m.event.Event == e {
				which = append(which, e)
				break
			}
		}
	}
	return which
}

// EventHints are the measures from which those of events are predicted: what the motion of the axle and of the brake, spring,
// damper and friction do at a few travels. Unlike most measures they vary smoothly from fork to fork.
var EventHints = indices(
	"damper_coefficient_ns_per_m", "friction_static_n", "friction_braking_n", "wheel_rate_at_sag_n_per_mm", "bottom_out_force_n",
	"anti_dive_at_sag_pct", "anti_dive_min_pct", "anti_dive_max_pct", "axle_path_angle_at_sag_deg", "path_inclination_deg",
	"path_straightness_mm", "leverage_start", "leverage_end", "progression_pct",
)

func indices(names ...string) (all []int) {
	for _, name := range names {
		all = append(all, declared(name))
	}
	return all
}
