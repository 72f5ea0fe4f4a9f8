package jobs

import (
	"path/filepath"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/table"
)

// What the dictionary says of the history holds of one: generations count from 1, and evaluations are the
// candidates and what gradients took beside them, up to the budget.
func TestTheHistoryIsAsItsDictionarySays(t *testing.T) {
	t.Parallel()
	job := jobFile(t, shortDemo("3000")+"keep: all\n")
	dir := filepath.Join(t.TempDir(), "out")
	want(t, process.Done, "run", job, "--out", dir)
	history, err := table.Read(filepath.Join(dir, results.HistoryFile))
	if err != nil {
		t.Fatal(err)
	}
	all, err := table.Read(filepath.Join(dir, results.AllFile))
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]int64{}
	for _, name := range all.Series[all.Index("case")].Texts {
		rows[name]++
	}
	generation, evaluations := history.Index("generation"), history.Index("evaluations")
	says(t, history.Columns[generation].Doc, "from 1")
	says(t, history.Columns[evaluations].Doc, "the cost of gradients")
	first, last := map[string]int64{}, map[string]int64{}
	for i, name := range history.Series[history.Index("case")].Texts {
		if _, seen := first[name]; !seen {
			first[name] = history.Series[generation].Ints[i]
		}
		last[name] = history.Series[evaluations].Ints[i]
	}
	if len(first) != 2 {
		t.Fatalf("cases: %v", first)
	}
	for name := range first {
		if first[name] != 1 || last[name] <= rows[name] || last[name] != 3000 {
			t.Errorf("%s: from generation %d, %d evaluations of 3000, %d candidates", name, first[name], last[name], rows[name])
		}
	}
}
