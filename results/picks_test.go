package results

import (
	"bytes"
	"os"
	"reflect"
	"strings"
	"testing"

	"forkfront/objectives"
	"forkfront/objectives/ride"
	"forkfront/results/picks"
	"forkfront/results/report"
	"forkfront/results/table"
)

// goalFront writes a front as a search with these goals does: a column a measure, and one of what the
// goal makes small. Without aims the columns do not say what is wanted.
func goalFront(t *testing.T, f *Folder, goals []objectives.Goal, values [][]float64, aims bool) {
	t.Helper()
	columns := []table.Column{{Name: "candidate", Kind: table.Text}, {Name: "case", Kind: table.Text}}
	for i := range goals {
		m := &objectives.Measures[goals[i].Measure]
		columns = append(columns, table.Column{Name: m.Name, Unit: m.Unit, Sense: string(m.Sense), Source: "measure"})
	}
	for i := range goals {
		m := &objectives.Measures[goals[i].Measure]
		c := table.Column{Name: "objective_" + m.Name, Unit: m.Unit, Sense: "low", Source: "objective"}
		if aims {
			c.Aim = AimOf(&goals[i])
		}
		columns = append(columns, c)
	}
	err := table.Write(f.Path(FrontFile), columns, nil, len(values[0]), func(w *table.Writer, row int) {
		w.Text(0, "a/"+string(rune('1'+row)))
		w.Text(1, "a")
		for i := range goals {
			w.Float(2+i, values[i][row])
			w.Float(2+len(goals)+i, goals[i].Value(values[i][row]))
		}
	})
	if err != nil {
		t.Fatal(err)
	}
}

func measureGoal(name string, aim objectives.Aim) objectives.Goal {
	return objectives.Goal{Measure: objectives.Index(name), Aim: aim}
}

// bandAndEnough are a band of anti-dive met from both sides, and a largest and a smallest measure with
// enough, which two candidates each are beyond. Numbers invented.
func bandAndEnough() ([]objectives.Goal, [][]float64) {
	eight, three := 8.0, 3000.0
	goals := []objectives.Goal{
		measureGoal("anti_dive_at_sag_pct", objectives.Within), measureGoal("clearance_mm", objectives.Largest), measureGoal("mass_g", objectives.Smallest),
	}
	goals[0].Band = ride.Band{Low: -10, High: 20}
	goals[1].Enough, goals[2].Enough = &eight, &three
	return goals, [][]float64{{-27.5, 5, 31, 20}, {9.5, 6.25, 8.5, 4.5}, {2950, 3200, 3100, 2900}}
}

func opened(t *testing.T) *Folder {
	t.Helper()
	f, err := Open(t.TempDir(), false)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func readText(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func printedPicks(t *testing.T, f *Folder) [][]string {
	t.Helper()
	var text bytes.Buffer
	if err := f.WritePicks(&text); err != nil {
		t.Fatal(err)
	}
	var lines [][]string
	list, _, _ := strings.Cut(strings.TrimSpace(text.String()), "\n\n")
	for line := range strings.Lines(list) {
		var cells []string
		for cell := range strings.SplitSeq(strings.TrimSpace(line), "  ") {
			if cell = strings.TrimSpace(cell); cell != "" {
				cells = append(cells, cell)
			}
		}
		lines = append(lines, cells)
	}
	return lines
}

// A list shows the measures' own values. Ranks in quarters by hand: outside the band 3 0 2 0, clearance
// 0 2 0 3, mass 0 3 2 0. So candidate 3 has the best worst rank and with it the best clearance, though 1
// has more; 4 is in the band as 2 is, but better in the others; and 1 is the first of two equals in mass,
// though 4 is lighter. The knee has the least sum of objectives, each from 0 to 1, as the best points do not span a
// plane: 1 and 4 with 1, of which 1 is the first. Ranks by closeness, worked out by hand from the objectives
// (17.5 0 11 0, -8 -6.25 -8 -4.5, 3000 3200 3100 3000): 0.233, 0.866, 0.432, 0.768.
func TestPicksShowMeasuresAndRankByObjectives(t *testing.T) {
	goals, values := bandAndEnough()
	for _, x := range []struct {
		aims bool
		head string
	}{{true, "anti-dive at sag, % (target -10 to 20)"}, {false, "anti-dive at sag, % (target band)"}} {
		f := opened(t)
		goalFront(t, f, goals, values, x.aims)
		got := printedPicks(t, f)
		want := [][]string{
			{"candidate", x.head, "clearance, mm (8 is enough)", "mass, g (3000 is enough)", "rank", "why"},
			{"a/3", "31", "8.5", "3100", "3", "balanced, best clearance"},
			{"a/1", "-27.5", "9.5", "2950", "4", "knee, best mass"},
			{"a/4", "20", "4.5", "2900", "2", "best anti-dive at sag"},
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("aims said: %t: got\n%q, want\n%q", x.aims, got, want)
		}
	}
}

// Where all values lie on one side of a band that begins at 0, the objective is the measure with its sign
// turned, and yet it is no measure that should be large.
func TestBandFromZeroIsNoSense(t *testing.T) {
	goals := []objectives.Goal{measureGoal("anti_dive_at_sag_pct", objectives.Within), measureGoal("mass_g", objectives.Smallest)}
	goals[0].Band = ride.Band{High: 20}
	f := opened(t)
	goalFront(t, f, goals, [][]float64{{-27.61, -30}, {3000, 2900}}, true)
	front, err := table.Read(f.Path(FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	w := picks.Criteria(front)[0]
	if title := w.NotedTitle(front); w.Better != 0 || title != "anti-dive at sag, % (target 0 to 20)" || front.Number(w.Column, 0) != -27.61 {
		t.Errorf("%q: better %g, first %g", title, w.Better, front.Number(w.Column, 0))
	}
}

// What is enough is no news where no candidate has it.
func TestUnreachableEnoughIsNotReported(t *testing.T) {
	goals, values := bandAndEnough()
	values[1], values[2] = []float64{1, 2, 3, 4}, []float64{3001, 3002, 3003, 3004}
	f := opened(t)
	goalFront(t, f, goals, values, true)
	if head := printedPicks(t, f)[0]; head[2] != "clearance, mm" || head[3] != "mass, g" {
		t.Errorf("%q", head)
	}
}

// The page has the measures' own values with their own better way.
func TestPageHasMeasuresOfBandAndEnough(t *testing.T) {
	goals, values := bandAndEnough()
	f := opened(t)
	goalFront(t, f, goals, values, true)
	if err := f.WriteReport(report.Forks{}, 1); err != nil {
		t.Fatal(err)
	}
	columns := unpackPage(t, readText(t, f.Path(ReportFile)))["columns"].([]any)
	want := []struct {
		name, note string
		better     float64
		values     []any
	}{
		{"anti_dive_at_sag_pct", "target -10 to 20", 0, []any{-27.5, 5.0, 31.0, 20.0}},
		{"clearance_mm", "8 is enough", -1, []any{9.5, 6.25, 8.5, 4.5}},
		{"mass_g", "3000 is enough", 1, []any{2950.0, 3200.0, 3100.0, 2900.0}},
	}
	if len(columns) != len(want) {
		t.Fatalf("%d columns", len(columns))
	}
	for i, w := range want {
		c := columns[i].(map[string]any)
		if c["name"] != w.name || c["note"] != w.note || c["better"] != w.better || !reflect.DeepEqual(c["values"], w.values) || c["aim"] == nil {
			t.Errorf("got %v, want %v", c, w)
		}
	}
}

// Without a measure to show, the list says what its numbers are.
func TestDistanceIsNamedAsSuch(t *testing.T) {
	f := opened(t)
	goals, _ := bandAndEnough()
	columns := []table.Column{
		{Name: "objective_anti_dive_at_sag_pct", Unit: "%", Source: "objective", Aim: AimOf(&goals[0])},
		{Name: "objective_clearance_mm", Unit: "mm", Source: "objective", Aim: AimOf(&goals[1])},
	}
	err := table.Write(f.Path(FrontFile), columns, nil, 1, func(w *table.Writer, _ int) { w.Float(0, 17.5); w.Float(1, -8) })
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"candidate", "anti-dive at sag, distance outside its band, %", "clearance, as minimized by the search, mm", "rank", "why"}
	if got := printedPicks(t, f)[0]; !reflect.DeepEqual(got, want) {
		t.Errorf("%q", got)
	}
}

// A single objective stands once, with few measures beside it, and a candidate has few reasons.
func TestSingleObjectiveFrontIsSmall(t *testing.T) {
	f := opened(t)
	var columns []table.Column
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		columns = append(columns, table.Column{Name: m.Name, Unit: m.Unit, Sense: string(m.Sense), Source: "measure"})
	}
	m := &objectives.Measures[objectives.Index("clearance_mm")]
	goal := measureGoal(m.Name, objectives.Largest)
	columns = append(columns, table.Column{Name: "objective_" + m.Name, Unit: m.Unit, Sense: "low", Source: "objective", Aim: AimOf(&goal)})
	err := table.Write(f.Path(FrontFile), columns, nil, 1, func(w *table.Writer, _ int) {
		for i := range objectives.Measures {
			w.Float(i, 7)
		}
		w.Float(len(objectives.Measures), -7)
	})
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{
		{"candidate", "clearance, mm", "path straightness, mm", "trail variation, mm", "brake dive, mm", "mass, g", "rank", "why"},
		{"row 0", "7", "7", "7", "7", "7", "1", "balanced, best clearance, best path straightness and 3 more"},
	}
	if got := printedPicks(t, f); !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%q, want\n%q", got, want)
	}
}

// A front of which some candidates overlap with themselves says so, in the list and in the report.
func TestOverlapsAreReported(t *testing.T) {
	goals := []objectives.Goal{measureGoal("clearance_mm", objectives.Largest), measureGoal("mass_g", objectives.Smallest)}
	for _, x := range []struct {
		clearance []float64
		says      string
	}{{[]float64{-1, 2, -0.5}, "2 of 3 candidates have parts that collide with each other"}, {[]float64{1, 2, 0}, ""}} {
		f := opened(t)
		goalFront(t, f, goals, [][]float64{x.clearance, {1, 3, 2}}, true)
		var list bytes.Buffer
		if err := f.WritePicks(&list); err != nil {
			t.Fatal(err)
		}
		if err := f.WriteReport(report.Forks{}, 1); err != nil {
			t.Fatal(err)
		}
		page, err := os.ReadFile(f.Path(ReportFile))
		if err != nil {
			t.Fatal(err)
		}
		for where, text := range map[string]string{"list": list.String(), "report": string(page)} {
			if x.says != "" && !strings.Contains(text, x.says) || x.says == "" && strings.Contains(text, "collide with each other") {
				t.Errorf("clearances %v, %s: %s", x.clearance, where, text[:min(len(text), 2000)])
			}
		}
	}
}
