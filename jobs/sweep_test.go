package jobs

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// readText reads a job from its text.
func readText(t *testing.T, text string) *JobFile {
	t.Helper()
	job, _, err := ReadJob("job.yaml", strings.NewReader(text), knownMeasure, measureNames())
	if err != nil {
		t.Fatal(err)
	}
	return job
}

// Swept lists make cases; the others stay a choice of the search.
func TestASweepMakesItsCases(t *testing.T) {
	text := strings.Replace(string(Demo()), "seeds: [1]", "seeds: [1, 2]\nsweep: [shocks, materials]\nmaterials: [7075-T6, 4130]", 1)
	job := readText(t, text)
	cases := job.Cases()
	if n, of := job.size(); n != 2*2*4*2 || len(cases) != n {
		t.Fatalf("%d cases, %d said (%s)", len(cases), n, of)
	}
	names := map[string]bool{}
	for _, c := range cases {
		if names[c.Name] {
			t.Errorf("two cases are called %s", c.Name)
		}
		names[c.Name] = true
		if len(c.Shocks) != 1 || c.variable("shock") >= 0 || c.variable("material") >= 0 {
			t.Errorf("%s still chooses", c.Name)
		}
	}
	if plain := readText(t, string(Demo())).Cases(); plain[0].variable("shock") < 0 {
		t.Error("without a sweep the shock is a variable")
	}
}

// A case finds the same front alone as in a sweep, whatever comes before it.
func TestACaseDoesNotDependOnTheOthers(t *testing.T) {
	one := strings.Replace(string(Demo()), "evaluations: 24000", "evaluations: 4000", 1)
	many := strings.Replace(one, "seeds: [1]", "seeds: [5, 1]", 1)
	alone := filepath.Join(t.TempDir(), "alone")
	among := filepath.Join(t.TempDir(), "among")
	for dir, text := range map[string]string{alone: one, among: many} {
		path := filepath.Join(t.TempDir(), "job.yaml")
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if code, _, said := command(t, "run", path, "--out", dir); code != exitDone {
			t.Fatalf("exit %d: %s", code, said)
		}
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
	text := strings.Replace(string(Demo()), "budget: {", "sweep: [shocks]\nbudget: {max_cases: 7, ", 1)
	path := filepath.Join(t.TempDir(), "job.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"check", path}, {"run", path, "--out", filepath.Join(t.TempDir(), "out")}} {
		if code, _, said := command(t, args...); code != exitInput || !strings.Contains(said, "8 cases") || !strings.Contains(said, "max_cases allows 7") {
			t.Errorf("%v: exit %d: %s", args, code, said)
		}
	}
}

func TestABudgetForAllIsSharedEqually(t *testing.T) {
	job := readText(t, strings.Replace(string(Demo()), "budget: {", "budget: {total_evaluations: 4001, total_wall: 10s, ", 1))
	if n := job.Budget.caseEvaluations(2); n != 2000 {
		t.Errorf("%d evaluations a case", n)
	}
	if d := job.Budget.caseWall(2, 1); d != 5*time.Second {
		t.Errorf("%s a case", d)
	}
	if d := job.Budget.caseWall(2, 8); d != 10*time.Second {
		t.Errorf("%s a case, side by side", d)
	}
	plain := readText(t, string(Demo()))
	if n := plain.Budget.caseEvaluations(2); n != 24000 || plain.Budget.caseWall(2, 1) != 0 {
		t.Errorf("%d evaluations a case without a budget for all", n)
	}
}
