package jobs

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/jobs/forks"
	"forkfront/jobs/process"
	"forkfront/jobs/score"
	"forkfront/jobs/store"
	"forkfront/objectives"
	"forkfront/objectives/clearance"
	"forkfront/objectives/fork"
	"forkfront/results"
	"forkfront/results/cad"
	"forkfront/results/picks"
	"forkfront/results/table"
)

// shortRun searches the demo with few evaluations, with the girder as a file of its own under a new
// name, and returns a copy of the results folder.
func shortRun(t *testing.T) string {
	t.Helper()
	girder, err := os.ReadFile("mechanisms/girder.yaml")
	if err != nil {
		t.Fatal(err)
	}
	own := strings.Replace(string(girder), "mechanism: girder", "mechanism: my girder", 1)
	job := shortDemo("4000", "mechanism: girder", "mechanism: my.yaml")
	job = strings.Replace(job, "eye_to_eye_mm: 165, stroke_mm: 45}", "eye_to_eye_mm: 165, stroke_mm: 45, mass_g: 500}", 1)
	job = strings.Replace(job, "eye_to_eye_mm: 190, stroke_mm: 45}", "eye_to_eye_mm: 190, stroke_mm: 45, preload_mm: 2}", 1)
	job = strings.Replace(job, "eye_to_eye_mm: 210, stroke_mm: 50}", "eye_to_eye_mm: 210, stroke_mm: 50, spring: air, bore_mm: 36, chamber_mm: 120}", 1)
	job += "materials: [7075-T6, {name: own, young_gpa: 70.7, density_kg_m3: 2700.3, yield_mpa: 430.1}]\n"
	r := runOnce(t, job, func(folder string) []string {
		for name, text := range map[string]string{"my.yaml": own, "job.yaml": job} {
			if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
				panic(err)
			}
		}
		return []string{"run", filepath.Join(folder, "job.yaml")}
	})
	if r.code != process.Done {
		t.Fatalf("exit %d: %s", r.code, r.said)
	}
	return r.dir
}

// firstOfEachCase lists a few rows of every case.
func firstOfEachCase(table *table.Table, most int) []int {
	var rows []int
	seen := map[string]int{}
	for row, name := range table.Series[table.Index("case")].Texts {
		if seen[name]++; seen[name] <= most {
			rows = append(rows, row)
		}
	}
	return rows
}

// A candidate taken out is scored to the bit as it was in the front: the first by its verb.
func TestExtractedConceptScoresTheSame(t *testing.T) {
	t.Parallel()
	dir := shortRun(t)
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	rows := firstOfEachCase(front, 4)
	if len(rows) < 8 {
		t.Fatalf("%d candidates of two cases", len(rows))
	}
	for i, row := range rows {
		id := front.Series[front.Index("candidate")].Texts[row]
		out := t.TempDir()
		code, said, errs := command(t, "extract", dir, id, "--out", out)
		if code != process.Done {
			t.Fatalf("exit %d: %s", code, errs)
		}
		concept, _, _ := strings.Cut(said, "\n")
		if i > 0 {
			sameMeasures(t, front, row, scoredWithoutEvents(t, concept))
			continue
		}
		code, scored, errs := command(t, "score", concept, "--json")
		if code != process.Done {
			t.Fatalf("score %s: exit %d: %s", concept, code, errs)
		}
		var s score.Scored
		if err := json.Unmarshal([]byte(scored), &s); err != nil {
			t.Fatal(err)
		}
		sameMeasures(t, front, row, &s)
	}
}

func sameMeasures(t *testing.T, table *table.Table, row int, s *score.Scored) {
	t.Helper()
	compared := 0
	for col := range table.Columns {
		if table.Columns[col].Source != "measure" {
			continue
		}
		compared++
		got, name := s.Measures[table.Columns[col].Name], table.Columns[col].Name
		if table.Null(col, row) != (got == nil) || got != nil && *got != table.Series[col].Floats[row] {
			t.Errorf("row %d: %s is %v, the front has %v", row, name, got, table.Series[col].Floats[row])
		}
	}
	if compared != len(objectives.Measures) {
		t.Errorf("%d measures compared of %d", compared, len(objectives.Measures))
	}
	sameContact(t, table, row, s)
}

// The closest pair of the list is the one that the front names, at the same place.
func sameContact(t *testing.T, table *table.Table, row int, s *score.Scored) {
	t.Helper()
	text := func(column string) string { return table.Series[table.Index(column)].Texts[row] }
	number := func(column string) float64 { return table.Series[table.Index(column)].Floats[row] }
	want := clearance.Gap{Pair: text("clearance_pair"), GapMM: number("clearance_mm"), TravelMM: number("clearance_travel_mm"), SteerDeg: number("clearance_steer_deg")}
	for _, g := range s.Clearances {
		if g.Pair == want.Pair {
			if g != want {
				t.Errorf("row %d: the list has %+v, the front %+v", row, g, want)
			}
			return
		}
	}
	t.Errorf("row %d: no pair %q among %d", row, want.Pair, len(s.Clearances))
}

// dxfEntity is what a drawing holds, by group codes.
type dxfEntity map[int]string

// readDXF is a reader of its own: pairs of a group code and a value, a line each; entities begin at
// code 0 within the section ENTITIES (DXF reference, release 12, recalled).
func readDXF(t *testing.T, text string) []dxfEntity {
	t.Helper()
	var all []dxfEntity
	section, last := "", ""
	lines := bufio.NewScanner(strings.NewReader(text))
	for lines.Scan() {
		code, err := strconv.Atoi(strings.TrimSpace(lines.Text()))
		if err != nil || !lines.Scan() {
			t.Fatalf("no group code or no value: %q, %v", lines.Text(), err)
		}
		value := lines.Text()
		switch {
		case code == 2 && last == "SECTION":
			section = value
		case code == 0 && section == "ENTITIES" && value != "ENDSEC":
			all = append(all, dxfEntity{0: value})
		case section == "ENTITIES" && len(all) > 0 && code != 0:
			all[len(all)-1][code] = value
		}
		last = value
	}
	if last != "EOF" {
		t.Error("the drawing does not end in EOF")
	}
	return all
}

// The points of the drawing stand at the coordinates of the pivot table, digit for digit, and every
// body has a layer at each of the three travels.
func TestDrawingAgreesWithPivotTable(t *testing.T) {
	t.Parallel()
	dir := shortRun(t)
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range firstOfEachCase(front, 2) {
		id := front.Series[front.Index("candidate")].Texts[row]
		_, pivots, _ := command(t, "extract", dir, id, "--as", "table")
		code, drawing, errs := command(t, "extract", dir, id, "--as", "drawing")
		if code != process.Done {
			t.Fatalf("exit %d: %s", code, errs)
		}
		rows, err := csv.NewReader(strings.NewReader(pivots)).ReadAll()
		if err != nil || len(rows) < 5 {
			t.Fatalf("%d rows: %v", len(rows), err)
		}
		want, lines := map[string]int{}, map[string]int{}
		for _, r := range rows[1:] {
			for i, suffix := range []string{"", "_SAG", "_OUT"} {
				layer := "PIVOTS" + suffix
				if suffix == "" {
					layer = "PIVOT_" + strings.ToUpper(r[0])
				}
				want[fmt.Sprintf("%s %s %s", layer, r[4+2*i], r[5+2*i])]++
				for _, body := range strings.Split(r[1], "+") {
					lines[strings.ToUpper(body)+suffix] = 0
				}
			}
		}
		got := map[string]int{}
		for _, e := range readDXF(t, drawing) {
			switch e[0] {
			case "POINT":
				got[fmt.Sprintf("%s %s %s", e[8], e[10], e[20])]++
			case "LINE":
				lines[e[8]]++
			}
		}
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%s: points of the drawing %v\nof the table %v", id, got, want)
		}
		for layer, n := range lines {
			if n == 0 {
				t.Errorf("%s: no line on layer %s", id, layer)
			}
		}
	}
}

// The axle of the pivot table against closed form: at top-out the axle is a wheelbase ahead of the
// rear wheel's contact and a front radius high; with level wheels it stays that high when it dives.
func TestPivotTableKnowsTheGround(t *testing.T) {
	t.Parallel()
	dir := shortRun(t)
	s, err := forks.Open(dir, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.Fork(0)
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	if err := cad.WritePivotTable(&text, f); err != nil {
		t.Fatal(err)
	}
	rows, _ := csv.NewReader(strings.NewReader(text.String())).ReadAll()
	found := false
	for _, r := range rows {
		if r[0] == "axle" {
			found = true
			// The demo's bike: axle to crown 408, offset 38, wheelbase 1300, radius 258.
			if got := strings.Join([]string{r[2], r[3], r[4], r[5], r[7], r[9]}, " "); got != "408.0000 38.0000 1300.0000 258.0000 258.0000 258.0000" {
				t.Errorf("axle %s", got)
			}
		}
	}
	if !found {
		t.Error("no axle in the table")
	}
}

// A candidate answers to the end of its id and to why it is one to begin with.
func checkShortNames(t *testing.T, dir string) {
	t.Helper()
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	ids := front.Series[front.Index("candidate")].Texts
	names := map[string]string{ids[0][strings.Index(ids[0], "/")+1:]: ids[0], "best-mass": "", "my girder/1/balanced": ""}
	for name, row := range picks.Named(front, nil) {
		for short := range names {
			if strings.HasSuffix(name, short) {
				names[short] = ids[row]
			}
		}
	}
	for short, id := range names {
		_, want, _ := command(t, "extract", dir, id)
		if code, got, said := command(t, "extract", dir, short); code != process.Done || got != want || !strings.Contains(got, "concept: "+id) {
			t.Errorf("%s for %s: exit %d: %s", short, id, code, said)
		}
	}
}

func TestExtractSaysWhatIsWrong(t *testing.T) {
	t.Parallel()
	dir := shortRun(t)
	checkShortNames(t, dir)
	for _, x := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"extract", dir, "no such/1"}, process.Input, "such as \"mid-tail cargo/my girder/1/"},
		{[]string{"extract", dir, "no such/1"}, process.Input, "best-mass, "},
		{[]string{"extract", dir, "balanced"}, process.Input, "2 candidates that end in \"balanced\""},
		{[]string{"extract", dir, "x", "--as", "picture"}, process.Input, "allowed are concept, table, drawing, drawing-r12, frame, mechanism"},
		{[]string{"extract", dir, "x", "--as", "table", "--out", "y"}, process.Input, "one of the two"},
		{[]string{"extract", t.TempDir(), "x"}, process.Input, "is not a folder of finished results"},
	} {
		if code, out, err := command(t, x.args...); code != x.code || !strings.Contains(err, x.says) || out != "" {
			t.Errorf("%v: exit %d, %q, %q", x.args, code, out, err)
		}
	}
	cases := filepath.Join(dir, results.CasesFile)
	text, err := os.ReadFile(cases)
	if err != nil {
		t.Fatal(err)
	}
	first := "name: mid-tail cargo/my girder/1\n"
	if !bytes.Contains(text, []byte(first)) {
		t.Fatalf("%.200s", text)
	}
	var many bytes.Buffer
	for i := 0; many.Len() <= store.MaxCaseBytes; i++ {
		many.WriteString(strings.ReplaceAll(string(text), "\nname: ", fmt.Sprintf("\nname: copy %d of ", i)) + store.NextCase + "\n")
	}
	putCases(t, dir, append(many.Bytes(), text...))
	if code, _, err := command(t, "extract", dir, "my girder/1/balanced"); code != process.Done {
		t.Errorf("a cases.yaml of many cases: exit %d, %s", code, err)
	}
	for what, x := range map[string]struct {
		text []byte
		says string
	}{
		"a mechanism that does not compile": {bytes.Replace(text, []byte("ground: "), []byte("ground: x"), 1), "mechanism.ground: "},
		"a case that does not end":          {append(bytes.Clone(text), bytes.Repeat([]byte("# a comment\n"), store.MaxCaseBytes/10)...), "longer than"},
		"another version":                   {[]byte("schema_version: 99\ncases: []\n"), "cases.yaml (document 1):1:17: schema_version: 99"},
		"a case that is there twice":        {append(append(bytes.Clone(text), store.NextCase+"\n"...), text...), "is there already, as document 1"},
		"a case without a name":             {bytes.Replace(text, []byte(first), nil, 1), "name: "},
		"a case of another name":            {bytes.Replace(text, []byte(first), []byte("name: x\n"), 1), "does not have case"},
	} {
		putCases(t, dir, x.text)
		if code, _, err := command(t, "extract", dir, "my girder/1/balanced"); code == process.Done || !strings.Contains(err, x.says) {
			t.Errorf("%s: exit %d, %s", what, code, err)
		}
	}
}

// Every built-in mechanism is the same after being written as a file and read back.
func TestMechanismsSurviveAsFiles(t *testing.T) {
	for _, name := range files.BuiltIns() {
		m, err := files.LoadMechanism(name, ".")
		if err != nil {
			t.Fatal(err)
		}
		file := files.FileOf(&m.Spec)
		text, err := document.Encode(&file)
		if err != nil {
			t.Fatal(err)
		}
		back, _, err := files.ReadMechanism(name, strings.NewReader(string(text)))
		if err != nil {
			t.Errorf("%s: %v\n%s", name, err, text)
			continue
		}
		again := files.FileOf(&back.Spec)
		if twice, _ := document.Encode(&again); string(twice) != string(text) || strings.Join(back.Points, " ") != strings.Join(m.Points, " ") {
			t.Errorf("%s came back as\n%s", name, twice)
		}
	}
}

// Every example concept is the same after being written and read back.
func TestConceptsSurviveAsFiles(t *testing.T) {
	paths, _ := filepath.Glob("examples/*-*.yaml")
	for _, path := range paths {
		f, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		c, _, err := files.ReadConcept(path, f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		text, err := document.Encode(c)
		if err != nil {
			t.Fatal(err)
		}
		back, _, err := files.ReadConcept(path, strings.NewReader(string(text)))
		if err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		if twice, _ := document.Encode(back); string(twice) != string(text) {
			t.Errorf("%s came back as\n%s", path, twice)
		}
	}
	if len(paths) < 5 {
		t.Errorf("%d examples", len(paths))
	}
}

// What a case has decided on its shafts goes along with a candidate: one that lies elsewhere within the
// bounds would decide otherwise.
func TestDeclaredShaftsAreInherited(t *testing.T) {
	job, _, err := files.ReadJob("demo", strings.NewReader(plainDemo()))
	if err != nil {
		t.Fatal(err)
	}
	count := map[fork.ShaftKind]int{}
	for _, c := range cases.Cases(job) {
		across := c.Template.Across.Model(c.Mechanism)
		for i, name := range c.Mechanism.Points {
			if name == "axle" || name == "root" {
				continue
			}
			count[across.Shafts[i]]++
			if across.Shafts[i] != c.Across.Shafts[i] {
				t.Errorf("%s, %s: %v goes along, %v was decided", c.Name, name, across.Shafts[i], c.Across.Shafts[i])
			}
		}
	}
	if count[fork.ShaftThrough] == 0 || count[fork.ShaftStub] == 0 || len(count) != 2 {
		t.Errorf("kinds of shafts: %v", count)
	}
}

// Only a line of its own parts two cases, wherever the reader's buffer ends.
func TestCasesAreSeparatedByLines(t *testing.T) {
	const buffer = 64
	for before := range 2 * buffer {
		first := strings.Repeat("x", before) + store.NextCase + "\n"
		lines := bufio.NewReaderSize(strings.NewReader(first+store.NextCase+"\nlast\n"), buffer)
		document, more, err := store.UntilNextCase(lines)
		want := first
		if before == 0 {
			want = ""
		}
		if string(document) != want || !more || err != nil {
			t.Fatalf("%d before: %q, %t, %v", before, document, more, err)
		}
	}
}
