package jobs

import (
	"strings"

	"forkfront/jobs/examples"
)

// plainDemo is the text of the demo with one seed, as many candidates reported as without a size, and four sizes of the shock.
func plainDemo() string {
	const between = "  - {name: 210x50"
	sizes := "  - {name: 165x45, eye_to_eye_mm: 165, stroke_mm: 45}\n  - {name: 190x45, eye_to_eye_mm: 190, stroke_mm: 45}\n" + between
	return strings.NewReplacer("seeds: [1, 2, 3]", "seeds: [1]", "front_size: 200\n", "", between, sizes).Replace(string(examples.Demo()))
}

// shortDemo is that with a number of evaluations, without events, and with further changes as pairs of old and
// new text. Events have tests of their own; here they would take longer than the search.
func shortDemo(evaluations string, change ...string) string {
	change = append(change, "evaluations: 200000", "evaluations: "+evaluations)
	return strings.NewReplacer(change...).Replace(plainDemo()) + "events: none\n"
}
