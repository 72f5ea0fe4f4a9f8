package picks

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"forkfront/results/table"
)

// twoBikes is a front of two bikes, one of them with two packages. On the first bike every trail variation is
// larger than on the second. Numbers invented.
func twoBikes() *table.Table {
	column := func(name, source string, kind table.Kind) table.Column {
		return table.Column{Name: name, Kind: kind, Source: source, Sense: "low", Optional: name == "package"}
	}
	text := func(all ...string) table.Series { return table.Series{Texts: all} }
	number := func(all ...float64) table.Series { return table.Series{Floats: all} }
	packages := text("wide", "wide", "wide", "", "", "wide")
	packages.Nulls = []bool{false, false, false, true, true, false}
	return &table.Table{
		Columns: []table.Column{
			column("candidate", "", table.Text), column("case", "", table.Text), column("bike", "", table.Text), column("package", "", table.Text),
			column("trail_variation_mm", "measure", table.Float), column("mass_g", "measure", table.Float),
			column("objective_trail_variation_mm", "objective", table.Float), column("objective_mass_g", "objective", table.Float),
		},
		Rows: 6,
		Series: []table.Series{
			text("a/g/1/1", "a/g/1/2", "a/g/1/3", "b/g/1/1", "b/g/1/2", "a/k/1/1"),
			text("a/g/1", "a/g/1", "a/g/1", "b/g/1", "b/g/1", "a/k/1"),
			text("a", "a", "a", "b", "b", "a"), packages,
			number(20, 24, 30, 1, 9, 26), number(2500, 2300, 2200, 3100, 3000, 2250),
			number(20, 24, 30, 1, 9, 26), number(2500, 2300, 2200, 3100, 3000, 2250),
		},
	}
}

// Each bike has its own best candidates, however good another's are.
func TestBikesDoNotCompete(t *testing.T) {
	front := twoBikes()
	settings := Settings(front)
	if len(settings) != 2 || settings[0].Name != "a/wide" || settings[1].Name != "b/no package" || !slices.Equal(settings[0].Rows, []int{0, 1, 2, 5}) {
		t.Fatalf("settings %+v", settings)
	}
	named := Named(front, nil)
	for name, row := range map[string]int{
		"a/wide/best-trail-variation": 0, "a/wide/best-mass": 2, "b/no package/best-trail-variation": 3, "b/no package/best-mass": 4,
		"a/g/1/balanced": 1, "a/k/1/balanced": 5,
	} {
		if got, ok := named[name]; !ok || got != row {
			t.Errorf("%s is row %d (%v), want %d", name, got, ok, row)
		}
	}
	for _, p := range Choose(front, Criteria(front), nil) {
		if !slices.Contains([]string{"a/wide", "b/no package"}, p.Setting) {
			t.Errorf("row %d is of setting %q", p.Row, p.Setting)
		}
	}
}

// What is chosen for a bike does not change with the candidates of another.
func TestPicksOfASingleBike(t *testing.T) {
	front := twoBikes()
	var together []int
	for _, p := range Choose(front, Criteria(front), nil) {
		if p.Setting == "a/wide" {
			together = append(together, p.Row)
		}
	}
	rows := Settings(front)[0].Rows
	alone := front.Select(rows)
	if only := Settings(alone); len(only) != 1 || only[0].Name != "" {
		t.Errorf("settings of one bike: %+v", only)
	}
	var of []int
	for _, p := range Choose(alone, Criteria(alone), nil) {
		of = append(of, rows[p.Row])
	}
	if !slices.Equal(of, together) {
		t.Errorf("rows %v alone, %v beside another bike", of, together)
	}
}

// Seeds of a case are one search to a reader: they share a balanced candidate, which goes by the case without its seed.
func TestSeedsShareABalancedCandidate(t *testing.T) {
	front := twoBikes()
	front.Columns = append(front.Columns, table.Column{Name: "seed", Kind: table.Int})
	front.Series = append(front.Series, table.Series{Ints: []int64{1, 21, 1, 1, 1, 1}})
	front.Series[1].Texts = []string{"a/g/1", "a/g/21", "a/g/1", "b/g/1", "b/g/1", "a/k/1"}
	balanced := map[string]int{}
	for name, row := range Named(front, nil) {
		if of, found := strings.CutSuffix(name, "/balanced"); found {
			balanced[of] = row
		}
	}
	if want := map[string]int{"a/g": 1, "a/k/1": 5, "b/g/1": balanced["b/g/1"]}; !maps.Equal(balanced, want) {
		t.Errorf("%v, want %v", balanced, want)
	}
}
