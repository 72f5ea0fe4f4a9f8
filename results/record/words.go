package record

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"forkfront/objectives/naming"
)

// Failure is a limit, and how many evaluations failed it.
type Failure struct{ Limit, By string }

// Failures lists the limits that evaluations of a case failed, the most failed first. An evaluation can
// fail several.
func (c *Case) Failures() []Failure {
	var all []Failure
	for _, name := range c.violatedNames() {
		by := fmt.Sprintf("%d (%.3g\u00a0%%)", c.Violated[name], 100*float64(c.Violated[name])/float64(max(c.Evaluations, 1)))
		all = append(all, Failure{c.limitNamed(name), by})
	}
	return all
}

// limitNamed puts a limit into words, with what it asks where the record has it.
func (c *Case) limitNamed(name string) string {
	if name == works {
		return "a working fork: full travel, and parts that can be built"
	}
	i := slices.IndexFunc(c.Constraints, func(k Constraint) bool { return k.Measure == name })
	if i < 0 {
		return naming.Label(name)
	}
	return c.Constraints[i].words()
}

// Stopper tells cases that found nothing apart by what stopped them: the limits that no evaluation met, or else the one
// that evaluations failed most often. It is empty where the record does not tell.
func (c *Case) Stopper() string {
	names := c.violatedNames()
	if len(names) == 0 {
		return ""
	}
	if never := c.neverMet(); len(never) > 0 {
		return "none of their evaluations meets “" + strings.Join(never, "” or “") + "”"
	}
	return "the limit most often violated is “" + c.limitNamed(names[0]) + "”"
}

// neverMet are the limits that no evaluation met, in words.
func (c *Case) neverMet() (never []string) {
	for _, name := range c.violatedNames() {
		if c.Violated[name] >= c.Evaluations {
			never = append(never, c.limitNamed(name))
		}
	}
	return never
}

// FailuresOfAll lists the limits that evaluations of some cases failed, the most failed first, each with the range of
// its share in the evaluations of a case.
func FailuresOfAll(cases []*Case) []Failure {
	type span struct{ low, high, sum float64 }
	of, limit := map[string]*span{}, map[string]string{}
	for _, c := range cases {
		for name := range c.Violated {
			if of[name] == nil {
				of[name], limit[name] = &span{low: math.Inf(1)}, c.limitNamed(name)
			}
		}
	}
	for _, c := range cases {
		for name, k := range of {
			share := 100 * float64(c.Violated[name]) / float64(max(c.Evaluations, 1))
			k.low, k.high, k.sum = math.Min(k.low, share), math.Max(k.high, share), k.sum+share
		}
	}
	names := slices.SortedFunc(maps.Keys(of), func(a, b string) int {
		return cmp.Or(cmp.Compare(of[b].sum, of[a].sum), strings.Compare(a, b))
	})
	var all []Failure
	for _, name := range names {
		by := fmt.Sprintf("%.3g\u00a0%%", of[name].high)
		if low := fmt.Sprintf("%.3g\u00a0%%", of[name].low); low != by {
			by = low + " to " + by
		}
		all = append(all, Failure{limit[name], by})
	}
	return all
}

// Impasse says why a case found nothing feasible, as far as its record tells.
func (c *Case) Impasse() string {
	const nothing = "nothing feasible found: "
	never := c.neverMet()
	switch {
	case c.Evaluations == 0:
		return nothing + "it evaluated no candidate; give it a larger budget"
	case len(c.Violated) == 0:
		return nothing + "no fork within its bounds and limits works, or it needs a larger budget"
	case len(never) == 0:
		return nothing + "each limit was met by some evaluations, but no evaluation met all of them; relax the limits that fail most often, widen the bounds, or give it a larger budget"
	}
	return fmt.Sprintf("%snone of %d evaluations met %s; relax the limits that no fork within the bounds can meet, or widen the bounds", nothing, c.Evaluations, "“"+strings.Join(never, "” or “")+"”")
}

// DroppedInWords tells how many candidates of some cases are outside each limit on events, in the order of the names; empty where none
// is.
func DroppedInWords(cases []Case) string {
	all := map[string]int{}
	for i := range cases {
		for name, n := range cases[i].Dropped {
			all[name] += n
		}
	}
	var text []string
	for _, name := range slices.Sorted(maps.Keys(all)) {
		text = append(text, fmt.Sprintf("%s (%d)", naming.Label(name), all[name]))
	}
	return strings.Join(text, ", ")
}

// ConstraintsInWords lists what the candidates of some cases meet, each constraint once, in the order of the cases.
func ConstraintsInWords(cases []Case) []string {
	var all []string
	count := map[string]int{}
	for i := range cases {
		for j := range cases[i].Constraints {
			words := cases[i].Constraints[j].words()
			if count[words]++; count[words] == 1 {
				all = append(all, words)
			}
		}
	}
	for i, words := range all {
		if n := count[words]; n < len(cases) {
			all[i] = fmt.Sprintf("%s (%d of %d searches)", words, n, len(cases))
		}
	}
	return all
}

func (c *Constraint) words() string {
	unit := naming.Unit(c.Measure)
	if unit != "" {
		unit = " " + unit
	}
	asks := ""
	switch {
	case c.Min == nil && c.Max == nil:
		return naming.Label(c.Measure)
	case c.Min == nil:
		asks = fmt.Sprintf("at most %.4g%s", *c.Max, unit)
	case c.Max == nil:
		asks = fmt.Sprintf("at least %.4g%s", *c.Min, unit)
	default:
		asks = fmt.Sprintf("%.4g to %.4g%s", *c.Min, *c.Max, unit)
	}
	if c.Coils {
		asks += " of coils"
	}
	if c.Default {
		asks += " by default"
	}
	if c.After {
		asks += ", of the front after the search"
	}
	return naming.Label(c.Measure) + " " + asks
}
