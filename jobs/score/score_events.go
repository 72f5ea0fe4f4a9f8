package score

import (
	"fmt"
	"io"

	"forkfront/jobs/words"
	"forkfront/objectives"
	"forkfront/objectives/simulation"
)

// events are the outcomes of the events by their names, and by quantity; null where there is no value.
type events map[string]map[string]*float64

func eventsOf(r *simulation.Results) events {
	all := events{}
	for i := range simulation.Events {
		e := &simulation.Events[i]
		all[e.Name] = map[string]*float64{}
		for _, q := range e.Has {
			var v *float64
			if r[i].Known(q) == "" {
				v = &r[i].Values[q]
			}
			all[e.Name][simulation.Quantities[q].Name] = v
		}
	}
	return all
}

// simulated adds the events to a score, if its conditions have any.
func (s *Scored) simulated(c *objectives.Conditions, study objectives.Study, score *objectives.Score) {
	if c.Events == nil {
		return
	}
	s.simulation, s.simulatedTelescopic = &simulation.Results{}, c.Events.Telescopic()
	study.Simulate(simulation.NewSimulator(), s.simulation, score)
	s.Events, s.Telescopic.Events = eventsOf(s.simulation), eventsOf(s.simulatedTelescopic)
	if a := c.Damper; a != nil {
		s.damper = fmt.Sprintf("events: the damper is set to %s N s/m in compression and %s in rebound", words.Shown(&a.CompressionNS), words.Shown(&a.ReboundNS))
		if ratio, ok := c.DampingRatio(score, a); ok {
			s.damper += fmt.Sprintf(", a damping ratio of %s at sag", words.Shown(&ratio))
		}
	}
}

// Traces are a fork's events over time, and the telescopic fork's: one run of each event. The conditions must have events.
func Traces(c *objectives.Conditions, d *objectives.Design) (fork, telescopic *simulation.Traces) {
	score := &objectives.Score{}
	study := objectives.NewScorer(c).Score(score, d)
	fork = &simulation.Traces{}
	study.Trace(simulation.NewSimulator(), fork, score)
	return fork, c.Events.TelescopicTraces()
}

// writeEvents shows what events tell beside the telescopic fork, and why any value is missing.
func (s *Scored) writeEvents(w io.Writer) {
	if s.simulation == nil {
		return
	}
	const row = "%-13s %-28s %-4s %9s %10s\n"
	fmt.Fprintln(w)
	fmt.Fprintf(w, row, "event", "", "unit", "this fork", "telescopic")
	for i := range simulation.Events {
		e := &simulation.Events[i]
		for _, k := range e.Has {
			q := &simulation.Quantities[k]
			fmt.Fprintf(w, row, e.Name, q.Name, q.Unit, words.Shown(s.Events[e.Name][q.Name]), words.Shown(s.Telescopic.Events[e.Name][q.Name]))
		}
	}
	if s.damper != "" {
		fmt.Fprintln(w, s.damper)
	}
	s.writeEventReasons(w, "", s.simulation)
	s.writeEventReasons(w, "telescopic fork, ", s.simulatedTelescopic)
	fmt.Fprintln(w, "events: a rigid rider; they compare forks on the same bike and do not predict accelerations")
	if worse := s.worseThanTelescopic(); worse != "" {
		fmt.Fprintln(w, worse)
	}
}

// writeEventReasons tells why events, or quantities of them, have no value.
func (s *Scored) writeEventReasons(w io.Writer, of string, r *simulation.Results) {
	for i := range simulation.Events {
		if why := r[i].Missing; why != "" {
			fmt.Fprintf(w, "%s%s: %s\n", of, simulation.Events[i].Name, why)
			continue
		}
		told := map[string]bool{"": true, simulation.NotCompared: true}
		for _, q := range simulation.Events[i].Has {
			if why := r[i].Why[q]; !told[why] {
				told[why] = true
				fmt.Fprintf(w, "%s%s: %s\n", of, simulation.Events[i].Name, why)
			}
		}
	}
}

// worseThanTelescopic names the events in which the load on the front wheel varies more than with the telescopic fork: where the
// fork grips worse.
func (s *Scored) worseThanTelescopic() string {
	var all []string
	for i := range simulation.Events {
		if s.simulation.LoadWorse(s.simulatedTelescopic, i) {
			all = append(all, simulation.Events[i].Name)
		}
	}
	if len(all) == 0 {
		return ""
	}
	return "the load on the front wheel varies more than with the telescopic fork in: " + words.Commas(all...)
}
