package tables

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"forkfront/jobs/atlas"
	"forkfront/jobs/cases"
	"forkfront/jobs/race"
	"forkfront/jobs/store"
	"forkfront/kinematics/topology"
	"forkfront/objectives"
	"forkfront/objectives/naming"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/rounds"
	"forkfront/results/table"
)

// paidFor are measures that a race tells beside what a linkage gains.
var paidFor = []int{objectives.UnsprungMass, objectives.SteeringInertia}

// WriteTopologies writes what the linkages of a race came to, a row each, from the front that the folder holds.
func WriteTopologies(folder *results.Folder, run string, all []store.Found, course *race.Course) error {
	front, err := table.Read(folder.Path(results.FrontFile))
	if err != nil {
		return err
	}
	described, err := describeLinkages(all)
	if err != nil {
		return err
	}
	rows := linkages(all, course, described)
	values := valuesOf(all[0].Case)
	name := front.Index("case")
	of := map[string][]int{}
	for row := range front.Rows {
		for i := range all {
			if c := all[i].Case; c.Name == front.Series[name].Texts[row] {
				of[c.Kind()] = append(of[c.Kind()], row)
			}
		}
	}
	for i := range rows {
		for _, v := range values {
			rows[i].Values = append(rows[i].Values, v.of(front, of[rows[i].Linkage]))
		}
	}
	return rounds.WriteRows(folder.Path(results.TopologiesFile), run, results.RunColumn, columnsOf(values), rows, map[string]string{"forkfront.caution": display.Caution})
}

// valueOfFront is a value of a measure over the front of a linkage.
type valueOfFront struct {
	measure int
	goal    *objectives.Goal // the best by it; nil: the median
}

// valuesOf are the best of each objective, and the median of what linkages are paid for with.
func valuesOf(c *cases.Case) (all []valueOfFront) {
	for i := range c.Goals {
		all = append(all, valueOfFront{c.Goals[i].Measure, &c.Goals[i]})
	}
	for _, m := range paidFor {
		all = append(all, valueOfFront{m, nil})
	}
	return all
}

func columnsOf(values []valueOfFront) (columns []rounds.Value) {
	for _, v := range values {
		m := objectives.At(v.measure)
		if v.goal != nil {
			columns = append(columns, rounds.Value{Name: "best_" + m.Name, Unit: m.Unit, Doc: "the best of its fronts: " + m.Doc, Sense: string(m.Sense)})
		} else {
			columns = append(columns, rounds.Value{Name: "median_" + m.Name, Unit: m.Unit, Doc: "the median of its fronts: " + m.Doc, Sense: string(m.Sense)})
		}
	}
	return columns
}

// of is the value over some rows of the front; nil where none has one.
func (v valueOfFront) of(front *table.Table, rows []int) *float64 {
	col := front.Index(objectives.At(v.measure).Name)
	var all []float64
	for _, row := range rows {
		if col >= 0 && !front.Null(col, row) {
			all = append(all, front.Series[col].Floats[row])
		}
	}
	if len(all) == 0 {
		return nil
	}
	if v.goal == nil {
		slices.Sort(all)
		return &all[len(all)/2]
	}
	best := slices.MinFunc(all, func(a, b float64) int {
		return cmp.Or(cmp.Compare(v.goal.Value(a), v.goal.Value(b)), cmp.Compare(a, b))
	})
	return &best
}

// linkages are the rows, those that got farthest first, then those whose fronts cover most.
func linkages(all []store.Found, course *race.Course, of map[string]*atlas.Entry) []rounds.Row {
	last := map[string]*rounds.Line{}
	for i := range course.Lines {
		last[course.Lines[i].Case] = &course.Lines[i]
	}
	var runners []race.Runner
	covers := course.Covers()
	for i := range all {
		c := all[i].Case
		runners = append(runners, race.Runner{Linkage: c.Kind(), Seed: c.Seed, Cover: covers[c.Name]})
	}
	var rows []rounds.Row
	for _, g := range race.Gains(runners) {
		r := rounds.Row{Linkage: g.Linkage, Of: len(course.Rounds), Outcome: rounds.Cut}
		var farthest *rounds.Line
		for i := range all {
			if c := all[i].Case; c.Kind() == g.Linkage {
				r.Mechanism = c.Mechanism.Name
				l := last[c.Name]
				r.Cases, r.Evaluations, r.Feasible, r.Front = r.Cases+1, r.Evaluations+l.Evaluations, r.Feasible+l.Feasible, r.Front+l.Front
				r.Spent = max(r.Spent, l.Evaluations)
				if farthest == nil || l.Round > farthest.Round || l.Round == farthest.Round && l.Place < farthest.Place {
					farthest = l
				}
			}
		}
		howItEnded(&r, farthest)
		if e := of[g.Linkage]; e != nil {
			r.Code, r.Does, r.Shock, r.Solved, r.BuiltIn = e.Code, e.Does(), e.Drives(), e.Solved(), strings.Join(e.BuiltIn, ", ")
		}
		if g.Own > 0 {
			r.Covers = part(g.Own, g.Others+g.Adds)
		}
		if g.Others > 0 {
			r.Adds = part(g.Adds, g.Others)
		}
		if g.Seeded {
			r.BySeed, r.Control = &g.BySeed, &g.Control
		}
		rows = append(rows, r)
	}
	slices.SortStableFunc(rows, func(a, b rounds.Row) int {
		return cmp.Or(cmp.Compare(b.Rounds, a.Rounds), cmp.Compare(value(b.Covers), value(a.Covers)), cmp.Compare(a.Linkage, b.Linkage))
	})
	return rows
}

// howItEnded says how far a linkage got, and why no farther, by the case of it that got farthest.
func howItEnded(r *rounds.Row, l *rounds.Line) {
	r.Rounds = l.Round
	if l.Outcome == rounds.Finished {
		r.Outcome = rounds.Finished
	} else if l.CoveredBy != "" {
		r.CoveredBy, r.Covered = l.CoveredBy, part(l.Covered, l.Own)
	}
	if r.Front == 0 {
		var names []string
		for _, name := range l.Unmet {
			if objectives.Index(name) < 0 { // no measure: it does not move through its travel, or cannot be built
				name = "full travel"
			}
			names = append(names, naming.Label(name))
		}
		r.Unmet = strings.Join(names, ", ")
	}
}

// describeLinkages says what the topology of each linkage is, by its name; one without, such as a telescopic fork, is left out.
func describeLinkages(all []store.Found) (map[string]*atlas.Entry, error) {
	var names []string
	var forks []topology.Topology
	for i := range all {
		c := all[i].Case
		t, err := topology.Of(&c.Template.Spec)
		if err == nil && !slices.Contains(names, c.Kind()) {
			names, forks = append(names, c.Kind()), append(forks, t.Canonical())
		}
	}
	entries, err := atlas.Entries(forks)
	if err != nil {
		return nil, err
	}
	of := map[string]*atlas.Entry{}
	for i, name := range names {
		of[name] = &entries[i]
	}
	return of, nil
}

// part is a share of whole numbers.
func part(n, of int) *float64 {
	v := float64(n) / float64(of)
	return &v
}

func value(v *float64) float64 {
	if v == nil {
		return math.Inf(-1)
	}
	return *v
}
