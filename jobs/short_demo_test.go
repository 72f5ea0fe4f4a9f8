package jobs

import (
	"strings"

	"forkfront/jobs/examples"
)

// shortDemo is the text of the demo with a number of evaluations, without events, and with further changes as pairs of old and
// new text. Events have tests of their own; here they would take longer than the search.
func shortDemo(evaluations string, change ...string) string {
	change = append(change, "evaluations: 600000", "evaluations: "+evaluations)
	return strings.NewReplacer(change...).Replace(string(examples.Demo())) + "events: none\n"
}
