package jobs

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/table"
)

// readText reads a job from its text.
func readText(t *testing.T, text string) *files.JobFile {
	t.Helper()
	job, _, err := files.ReadJob("job.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return job
}

// Swept lists make cases; the others stay a choice of the search.
func TestASweepMakesItsCases(t *testing.T) {
	text := strings.Replace(plainDemo(), "seeds: [1]", "seeds: [1, 2]\nsweep: [shocks, materials]\nmaterials: [7075-T6, 4130]", 1)
	job := readText(t, text)
	listed := cases.Cases(job)
	if n, of := job.Size(); n != 2*2*4*2 || len(listed) != n {
		t.Fatalf("%d cases, %d said (%s)", len(listed), n, of)
	}
	names := map[string]bool{}
	for _, c := range listed {
		if names[c.Name] {
			t.Errorf("two cases are called %s", c.Name)
		}
		names[c.Name] = true
		if len(c.Shocks) != 1 || c.Variable("shock") >= 0 || c.Variable("material") >= 0 {
			t.Errorf("%s still chooses", c.Name)
		}
	}
	if plain := cases.Cases(readText(t, plainDemo())); plain[0].Variable("shock") < 0 {
		t.Error("without a sweep the shock is a variable")
	}
}

// A case finds the same front on its own as in a sweep, whatever precedes it.
func TestCaseDoesNotDependOnTheOthers(t *testing.T) {
	t.Parallel()
	one := shortDemo("2500")
	many := strings.Replace(one, "seeds: [1]", "seeds: [5, 1]", 1)
	alone := filepath.Join(t.TempDir(), "alone")
	among := filepath.Join(t.TempDir(), "among")
	for dir, text := range map[string]string{alone: one, among: many} {
		path := filepath.Join(t.TempDir(), "job.yaml")
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		want(t, process.Done, "run", path, "--out", dir)
	}
	a, b := fronts(t, alone), fronts(t, among)
	if len(a) != 2 || len(b) != 4 {
		t.Fatalf("%d and %d cases", len(a), len(b))
	}
	for name, rows := range a {
		if !bytes.Equal(rows, b[name]) {
			t.Errorf("%s differs", name)
		}
	}
}

func TestASweepPastItsLimitIsRefused(t *testing.T) {
	text := strings.Replace(plainDemo(), "budget: {", "sweep: [shocks]\nbudget: {max_cases: 7, ", 1)
	path := filepath.Join(t.TempDir(), "job.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"check", path}, {"run", path, "--out", filepath.Join(t.TempDir(), "out")}} {
		if code, _, said := command(t, args...); code != process.Input || !strings.Contains(said, "8 cases") || !strings.Contains(said, "max_cases allows 7") {
			t.Errorf("%v: exit %d: %s", args, code, said)
		}
	}
}

func TestABudgetForAllIsSharedEqually(t *testing.T) {
	job := readText(t, strings.Replace(plainDemo(), "budget: {", "budget: {total_evaluations: 4001, total_wall: 10s, ", 1))
	if n := job.Budget.CaseEvaluations(2); n != 2000 {
		t.Errorf("%d evaluations a case", n)
	}
	if d := job.Budget.CaseWall(2, 1); d != 5*time.Second {
		t.Errorf("%s a case", d)
	}
	if d := job.Budget.CaseWall(2, 8); d != 10*time.Second {
		t.Errorf("%s a case, side by side", d)
	}
	plain := readText(t, plainDemo())
	if n := plain.Budget.CaseEvaluations(2); n != 200000 || plain.Budget.CaseWall(2, 1) != 0 {
		t.Errorf("%d evaluations a case without a budget for all", n)
	}
}

// twoRooms is the demo in the open and with a lamp behind the crown that turns with it, in a file.
func twoRooms(t *testing.T, evaluations string) string {
	t.Helper()
	rooms := `packages:
  - {name: bare, tyre_width_mm: 61, lock_deg: 50}
  - name: with lamp
    tyre_width_mm: 61
    lock_deg: 50
    keep_out: [{name: lamp, on: steerer, from_mm: [-60, 130, 0], to_mm: [-60, 170, 0], radius_mm: 30}]
mechanisms:
`
	text := shortDemo(evaluations)
	from, to := strings.Index(text, "package:\n"), strings.Index(text, "mechanisms:\n")
	text = text[:from] + rooms + text[to+len("mechanisms:\n"):]
	return jobFile(t, text)
}

// jobFile puts a job's text into a file.
func jobFile(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "job.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// Each package makes cases of its own, by its name; its room is that of the candidates found in it,
// and of the concepts taken out.
func TestEachPackageHasItsCases(t *testing.T) {
	t.Parallel()
	path, dir := twoRooms(t, "3000"), filepath.Join(t.TempDir(), "out")
	code, out, said := command(t, "check", path)
	if code != process.Done || !strings.Contains(out, "4 cases (1 bike × 2 mechanisms × 1 seed × 2 packages), 12000 evaluations") {
		t.Fatalf("exit %d: %s%s", code, out, said)
	}
	want(t, process.Done, "run", path, "--out", dir)
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	text := func(column string, row int) string { return front.Series[front.Index(column)].Texts[row] }
	gap := front.Series[front.Index("clearance_mm")].Floats
	rooms := map[string]int{}
	for _, row := range firstOfEachCase(front, 3) {
		room := text("package", row)
		rooms[room]++
		if !strings.Contains(text("case", row), "/"+room+"/") {
			t.Errorf("%s is said to be in %q", text("case", row), room)
		}
		code, concept, said := command(t, "extract", dir, text("candidate", row))
		if code != process.Done || strings.Contains(concept, "name: lamp") != (room == "with lamp") {
			t.Fatalf("%s: exit %d: %s%s", text("candidate", row), code, said, concept)
		}
		if got := clearanceOf(t, concept); got != gap[row] {
			t.Errorf("%s: the concept has %g mm, the front %g", text("candidate", row), got, gap[row])
		}
		other := strings.Replace(concept, "radius_mm: 30", "radius_mm: 90", 1)
		if room == "with lamp" && strings.Contains(text("case", row), "girder") && clearanceOf(t, other) == gap[row] {
			t.Errorf("%s: a larger lamp changes nothing", text("candidate", row))
		}
	}
	if rooms["bare"] < 2 || rooms["with lamp"] < 2 {
		t.Errorf("candidates looked at: %v", rooms)
	}
}

// clearanceOf scores a concept.
func clearanceOf(t *testing.T, concept string) float64 {
	t.Helper()
	gap := scoredWithoutEvents(t, jobFile(t, concept)).Measures["clearance_mm"]
	if gap == nil {
		t.Fatalf("no clearance\n%s", concept)
	}
	return *gap
}

// A concept taken out is of the material and with the shock that its candidate chose.
func TestExtractedConceptKeepsItsChoices(t *testing.T) {
	t.Parallel()
	text := shortDemo("3000", "seeds: [1]", "seeds: [1]\nmaterials: [4130, 7075-T6]",
		"stroke_mm: 40}", "stroke_mm: 40, mass_g: 900}", "stroke_mm: 45}", "stroke_mm: 45, mass_g: 700}")
	dir := filepath.Join(t.TempDir(), "out")
	want(t, process.Done, "run", jobFile(t, text), "--out", dir)
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	mass, seen := front.Series[front.Index("mass_g")].Floats, map[string]bool{}
	for row := range front.Rows {
		chosen := front.Series[front.Index("shock_size")].Texts[row] + front.Series[front.Index("material")].Texts[row]
		if seen[chosen] {
			continue
		}
		seen[chosen] = true
		_, concept, said := command(t, "extract", dir, front.Series[front.Index("candidate")].Texts[row])
		if got := scoredWithoutEvents(t, jobFile(t, concept)).Measures["mass_g"]; got == nil || *got != mass[row] {
			t.Errorf("%s: %v g, in the front %g: %s", chosen, got, mass[row], said)
		}
	}
	if len(seen) < 3 {
		t.Errorf("only %v were chosen", seen)
	}
}

// A single package in the list is as good as a package; it adds nothing to the cases' names.
func TestOnePackageIsNoSweep(t *testing.T) {
	text := strings.Replace(plainDemo(), "package:\n  tyre_width_mm", "packages:\n  - name: bare\n    tyre_width_mm", 1)
	text = strings.NewReplacer("\n  hub_width_mm", "\n    hub_width_mm", "\n  lock_deg", "\n    lock_deg", "\n  head_tube", "\n    head_tube", "\n  down_tube", "\n    down_tube").Replace(text)
	listed, plain := cases.Cases(readText(t, text)), cases.Cases(readText(t, plainDemo()))
	for i := range plain {
		if listed[i].Name != plain[i].Name || listed[i].SearchSeed() != plain[i].SearchSeed() || listed[i].Package != "bare" {
			t.Errorf("%s became %s in package %q", plain[i].Name, listed[i].Name, listed[i].Package)
		}
	}
}

// Several concepts to start from, and mechanisms beside them, each have cases.
func TestEachConceptToStartFromHasItsCases(t *testing.T) {
	text, err := os.ReadFile("examples/refine.yaml")
	if err != nil {
		t.Fatal(err)
	}
	here, err := filepath.Abs("examples")
	if err != nil {
		t.Fatal(err)
	}
	list := "start:\n  - {concept: " + here + "/cargo-arm-floating.yaml, within_mm: 5}\n  - concept: " + here + "/cargo-girder.yaml\n"
	job := readText(t, strings.Replace(string(text), "start:\n  - concept: cargo-girder.yaml\n", list, 1)+"seeds: [3, 4]\n")
	cases := cases.Cases(job)
	if n, of := job.Size(); n != 4 || len(cases) != n || of != "1 bike × 2 concepts × 2 seeds" {
		t.Fatalf("%d cases, %d said (%s)", len(cases), n, of)
	}
	names := map[string]int{}
	for _, c := range cases {
		names[c.Mechanism.Name+c.Name]++
		if len(c.First) != len(c.Free) {
			t.Errorf("%s does not start at its concept", c.Name)
		}
	}
	if len(names) != 4 {
		t.Errorf("cases: %v", names)
	}
}
