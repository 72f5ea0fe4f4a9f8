package results

import (
	"fmt"
	"slices"
	"strings"
)

// failure is a limit, and how many evaluations failed it.
type failure struct{ Limit, By string }

// failures lists the limits that evaluations of a case failed, the most failed first. An evaluation can
// fail several.
func (c *CaseRecord) failures() []failure {
	var all []failure
	for _, name := range c.brokenNames() {
		by := fmt.Sprintf("%d (%.3g\u00a0%%)", c.Broken[name], 100*float64(c.Broken[name])/float64(max(c.Evaluations, 1)))
		all = append(all, failure{c.limitNamed(name), by})
	}
	return all
}

// limitNamed puts a limit into words, with what it asks where the record has it.
func (c *CaseRecord) limitNamed(name string) string {
	if name == works {
		return "working at all: moving through the whole travel, of parts that can be built"
	}
	i := slices.IndexFunc(c.Constraints, func(k ConstraintRecord) bool { return k.Measure == name })
	if i < 0 {
		return labelOf(name)
	}
	return c.Constraints[i].words()
}

// impasse says why a case found nothing feasible, as far as its record tells.
func (c *CaseRecord) impasse() string {
	const nothing = "nothing feasible found: "
	var never []string
	for _, name := range c.brokenNames() {
		if c.Broken[name] >= c.Evaluations {
			never = append(never, "“"+c.limitNamed(name)+"”")
		}
	}
	switch {
	case c.Evaluations == 0:
		return nothing + "it evaluated no candidate; give it a larger budget"
	case len(c.Broken) == 0:
		return nothing + "its bounds or limits leave no fork that works, or it wants a larger budget"
	case len(never) == 0:
		return nothing + "each limit was met by some of its evaluations, but all of them by none; loosen what most fail at, widen the bounds, or give it a larger budget"
	}
	return fmt.Sprintf("%snone of %d evaluations met %s; loosen what no fork within the bounds can meet, or widen the bounds", nothing, c.Evaluations, strings.Join(never, " or "))
}
