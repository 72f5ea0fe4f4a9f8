package jobs

import (
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/table"
)

// preferred is the candidate that shortlist.parquet has as preferred, and the weights in its footer.
func preferred(t *testing.T, dir string) (id, weights string) {
	t.Helper()
	list, err := table.Read(filepath.Join(dir, results.ShortlistFile))
	if err != nil {
		t.Fatal(err)
	}
	for row := range list.Rows {
		if list.Series[list.Index("reason")].Texts[row] == "preferred" {
			if rank := list.Series[list.Index("rank")].Ints[row]; rank != 1 {
				t.Errorf("the preferred one has rank %d", rank)
			}
			id = list.Series[list.Index("candidate")].Texts[row]
		}
	}
	return id, list.Meta["forkfront.prefer"]
}

// The weights of run are those of shortlist.parquet and of extract, until report is given others; extract's own count
// for that extract only. What the search finds does not depend on them.
func TestPreferredIsTheSameEverywhere(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "out")
	if code, said, err := command(t, "run", tinyJob(t), "--out", out, "--prefer", "mass_g=1"); code != process.Done || !strings.Contains(said, "weights mass_g=1") {
		t.Fatalf("exit %d: %s%s", code, said, err)
	}
	front, err := table.Read(filepath.Join(out, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	least := func(name string) (id string) { // and the first of those that have it
		col, best := front.Index(name), 0
		for row := range front.Rows {
			if front.Number(col, row) < front.Number(col, best) {
				best = row
			}
		}
		return front.Series[front.Index("candidate")].Texts[best]
	}
	light, straight := least("mass_g"), least("path_straightness_mm")
	same := func(want, weights string, flags ...string) {
		t.Helper()
		code, text, err := command(t, append([]string{"extract", out, "preferred"}, flags...)...)
		if code != process.Done || !strings.Contains(text, "concept: "+want+"\n") {
			t.Errorf("exit %d: %s, want %s, got\n%s", code, err, want, text)
		}
		if id, by := preferred(t, out); len(flags) == 0 && (id != want || by != weights) {
			t.Errorf("shortlist has %s by %q, want %s by %q", id, by, want, weights)
		}
	}
	same(light, "mass_g=1")
	same(straight, "mass_g=1", "--prefer", "path_straightness_mm=3")
	same(light, "mass_g=1")
	want(t, process.Done, "report", out, "--prefer", "path_straightness_mm=3")
	same(straight, "path_straightness_mm=3")
	for _, args := range [][]string{
		{"report", out, "--prefer", "weight=1"},
		{"extract", out, "knee", "--prefer", "mass_g=0"},
		{"run", tinyJob(t), "--out", out, "--replace", "--prefer", "leverage_start=1"},
	} {
		if code, _, err := command(t, args...); code != process.Input || !strings.Contains(err, "prefer") {
			t.Errorf("%q: exit %d: %s", args, code, err)
		}
	}
}
