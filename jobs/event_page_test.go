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
	return b.String()
}
