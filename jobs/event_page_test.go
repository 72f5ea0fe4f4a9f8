package jobs

import (
	"cmp"
	"fmt"
	"strings"

	"forkfront/objectives/simulation"
)

// eventPage lists what is simulated and what is read off it.
func eventPage() string {
	var b strings.Builder
	fmt.Fprintf(&b, "# Events\n\n%s from the registry of events. With a `ride` section\n"+
		"`score` shows them beside the telescopic fork, and a run writes them to `events.parquet`: one row per candidate and event.\n"+
		"How they are simulated, what the keys of the section mean and what the model does not see: [ride.md](ride.md).\n\n| event | what happens | quantities |\n| --- | --- | --- |\n", made)
	for i := range simulation.Events {
		e := &simulation.Events[i]
		var names []string
		for _, q := range e.Has {
			names = append(names, "`"+simulation.Quantities[q].Name+"`")
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", e.Name, e.Doc, strings.Join(names, ", "))
	}
	b.WriteString("\nThe objectives and constraints of a job know a quantity of an event by both names, such as `bump_braked_load_pct`: see\n" +
		"[ride.md](ride.md#a-search-for-events).\n")
	b.WriteString("\n| quantity | unit | better | what it is |\n| --- | --- | --- | --- |\n")
	for i := range simulation.Quantities {
		q := &simulation.Quantities[i]
		better := "no preference"
		if q.Low {
			better = "low"
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", q.Name, cmp.Or(q.Unit, "–"), better, q.Doc)
	}
	fmt.Fprintf(&b, "\nA quantity of an event is named by both, such as `%s`. A job may limit it (`after: true` in a constraint):\n"+
		"[ride.md](ride.md#limits-on-events).\n", simulation.Reading{Event: simulation.BrakedBump, Quantity: simulation.LoadPct}.Name())
	fmt.Fprintf(&b, "\n## Over time\n\n`traces.parquet` has events over time, %g samples a second: of bumps the one of the height and at the speed that the\n"+
		"`ride` section gives, of rough roads the first. A run writes it if the job asks for it (`traces: shortlist` or `front`), `score --traces FILE`\n"+
		"for a concept. Beside the columns `run`, `bike`, `candidate`, `event`, `time_s`, and `counts`, which says whether the load\n"+
		"variation, the hands and the travel are read at the time:\n\n| column | unit | what it is |\n| --- | --- | --- |\n", 1/simulation.TraceStepS)
	for i := range simulation.Channels {
		c := &simulation.Channels[i]
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", c.Name, c.Unit, c.Doc)
	}
	return b.String()
}
