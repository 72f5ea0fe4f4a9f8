package jobs

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/constraints"
	"forkfront/jobs/cases"
	"forkfront/jobs/store"
	"forkfront/kinematics/mechanism"
	"forkfront/objectives"
	"forkfront/optimize"
	"forkfront/results"
	"forkfront/results/record"
	"forkfront/results/table"
)

func readAll(t *testing.T, dir, name string) *table.Table {
	t.Helper()
	front, err := table.Read(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return front
}

// Every candidate is there once, in order; those of the front as they stand in the front; and as many
// are feasible as the run says.
func TestAllCandidatesAreKept(t *testing.T) {
	t.Parallel()
	dir := undisturbed(t, shortJob(t))
	all, front := readAll(t, dir, results.AllFile), readAll(t, dir, results.FrontFile)
	run, err := record.Read(filepath.Join(dir, results.RunFile))
	if err != nil {
		t.Fatal(err)
	}
	rows, next, feasible := map[string]int{}, map[string]int{}, map[string]int{}
	for row := range all.Rows {
		id, of := all.Series[all.Index("candidate")].Texts[row], all.Series[all.Index("case")].Texts[row]
		if want := fmt.Sprintf("%s/%d", of, next[of]); id != want {
			t.Fatalf("row %d is %s, not %s", row, id, want)
		}
		next[of]++
		rows[id] = row
		if all.Series[all.Index("status")].Texts[row] == "feasible" {
			feasible[of]++
		}
	}
	for _, c := range run.Cases {
		if feasible[c.Name] != c.Feasible || next[c.Name] < c.Evaluations/2 || next[c.Name] > c.Evaluations {
			t.Errorf("%s: %d of %d candidates feasible; the run says %d, of %d evaluations", c.Name, feasible[c.Name], next[c.Name], c.Feasible, c.Evaluations)
		}
	}
	compared := 0
	for row := range front.Rows {
		at, there := rows[front.Series[front.Index("candidate")].Texts[row]]
		if !there || all.Series[all.Index("status")].Texts[at] != "feasible" {
			t.Fatalf("row %d of the front is not among the feasible candidates", row)
		}
		for i, c := range all.Columns {
			if c.Kind != table.Float {
				continue
			}
			compared++
			if k := front.Index(c.Name); all.Null(i, at) != front.Null(k, row) || all.Series[i].Floats[at] != front.Series[k].Floats[row] {
				t.Errorf("row %d: %s is %v, in the front %v", row, c.Name, all.Series[i].Floats[at], front.Series[k].Floats[row])
			}
		}
	}
	if compared < 1000 {
		t.Errorf("%d values compared", compared)
	}
	checkStatus(t, all)
}

// What is broken is what lies outside; what fails has no value that it could not have.
func checkStatus(t *testing.T, all *table.Table) {
	t.Helper()
	count := map[string]int{}
	for row := range all.Rows {
		status := all.Series[all.Index("status")].Texts[row]
		count[status]++
		why := ""
		if col := all.Index("reason"); !all.Null(col, row) {
			why = all.Series[col].Texts[row]
		}
		for i, c := range all.Columns {
			measure, is := strings.CutPrefix(c.Name, "outside_")
			if !is {
				continue
			}
			broken := all.Null(i, row) || all.Series[i].Floats[row] > 0
			if broken != strings.Contains("; "+why+"; ", "; "+measure+"; ") {
				t.Fatalf("row %d: %s %v, NULL %v; reason %q", row, c.Name, all.Series[i].Floats[row], all.Null(i, row), why)
			}
		}
		if (status == "feasible") != (why == "") && status != "fails" {
			t.Fatalf("row %d is %s for %q", row, status, why)
		}
	}
	for _, status := range []string{"feasible", "outside", "fails"} {
		if count[status] == 0 {
			t.Errorf("no candidate is %s: %v", status, count)
		}
	}
}

// A journal returns what was written to the bit, and refuses to continue beyond its end.
func TestJournal(t *testing.T) {
	c := &cases.Case{Free: make([]cases.Free, 2), Goals: make([]objectives.Goal, 1), Limits: make([]constraints.Limit, 1), Mechanism: &mechanism.Mechanism{}}
	saved := store.Checkpoints{Dir: t.TempDir(), Digest: "d"}
	file := saved.Journal(0, c)
	write := func(from, to int) error {
		j, err := file.Open()
		if err != nil {
			t.Fatal(err)
		}
		defer j.Close()
		for n := from; n < to; n++ {
			f := []float64{math.Inf(1)}
			if n%3 > 0 {
				f[0] = float64(n) / 3
			}
			if err := j.Add(&optimize.Candidate{Number: n, X: []float64{float64(n), -0.1}, Outcome: optimize.Outcome{F: f, G: []float64{0, math.Copysign(0, -1)}}}); err != nil {
				return err
			}
		}
		return j.Finish(to, false)
	}
	if err := write(1, 2); err == nil {
		t.Error("an empty journal continues at 1")
	}
	for _, span := range [][2]int{{0, 20_000}, {15_000, 20_000}, {100, 12_000}} {
		if err := write(span[0], span[1]); err != nil {
			t.Fatal(err)
		}
		n := 0
		err := file.Read(span[1], func(x *optimize.Candidate) error {
			if x.Number != n || x.X[0] != float64(n) || x.X[1] != -0.1 || math.IsInf(x.F[0], 1) != (n%3 == 0) || !math.Signbit(x.G[1]) {
				t.Fatalf("candidate %d reads as %+v", n, x)
			}
			n++
			return nil
		})
		if err != nil || n != span[1] {
			t.Fatalf("%d of %d: %v", n, span[1], err)
		}
	}
	if err := file.Read(12_001, store.Skip); err == nil {
		t.Error("more was read than was kept")
	}
	renamed := *c
	renamed.Name = "other"
	elsewhere := store.Checkpoints{Dir: saved.Dir, Digest: "e"}
	for what, other := range map[string]store.JournalFile{"another case": saved.Journal(0, &renamed), "another job": elsewhere.Journal(0, c)} {
		if err := other.Read(1, store.Skip); err == nil || !strings.Contains(err.Error(), "candidate 0 is damaged") {
			t.Errorf("the journal of %s was taken: %v", what, err)
		}
	}
}
