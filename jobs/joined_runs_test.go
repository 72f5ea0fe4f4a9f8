package jobs

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/picks"
	"forkfront/results/record"
	"forkfront/results/table"
)

// Runs of different jobs name some candidates alike. With the run beside it each name is unique over several folders,
// and every table has it.
func TestTablesOfSeveralRunsCanBeJoined(t *testing.T) {
	t.Parallel()
	text := strings.Replace(fileText(t, "examples/short/girder.yaml"), "budget: {evaluations: 3000}", "keep: all\nbudget: {evaluations: 600}", 1)
	runs, alone, together := map[string]bool{}, map[string]bool{}, map[string]bool{}
	rows := 0
	for _, job := range []string{text, text + "gradient_share: 0.1\n", strings.Replace(text, "sag_pct: 25", "sag_pct: 26", 1)} {
		dir := filepath.Join(t.TempDir(), "out")
		if code, _, errs := command(t, "run", jobFile(t, job), "--out", dir); code != process.Done && code != process.Nothing {
			t.Fatalf("exit %d: %s", code, errs)
		}
		done, err := record.Read(filepath.Join(dir, results.RunFile))
		if err != nil || done.Name == "" {
			t.Fatalf("%v: run %q", err, done.Name)
		}
		runs[done.Name] = true
		for _, file := range []string{results.FrontFile, results.CurvesFile, results.HistoryFile, results.TelescopicFile, results.AllFile, results.ShortlistFile} {
			of, err := table.Read(filepath.Join(dir, file))
			if err != nil {
				t.Fatal(err)
			}
			for row := range of.Rows {
				if name := of.Series[of.Index("run")].Texts[row]; name != done.Name {
					t.Fatalf("%s is of run %q in row %d, not %q", file, name, row, done.Name)
				}
			}
			if file == results.AllFile {
				rows += of.Rows
				for _, id := range of.Series[of.Index("candidate")].Texts {
					alone[id], together[done.Name+" "+id] = true, true
				}
			}
		}
	}
	if len(runs) != 3 || len(together) != rows || len(alone) == rows {
		t.Errorf("%d runs, %d rows, %d ids, %d with the run: the ids are to collide, and with the run they are not", len(runs), rows, len(alone), len(together))
	}
}

// shortlist.parquet has the candidates that the list of suggestions has, under the names that extract takes.
func TestTheShortlistIsThatOfTheFront(t *testing.T) {
	t.Parallel()
	dir := doneExample(t, "examples/short/girder.yaml")
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	list, err := table.Read(filepath.Join(dir, results.ShortlistFile))
	if err != nil {
		t.Fatal(err)
	}
	text := func(of *table.Table, column string, row int) string { return of.Series[of.Index(column)].Texts[row] }
	named := picks.Named(front, nil)
	if list.Rows != len(named) || list.Rows < 5 {
		t.Errorf("%d rows, %d names", list.Rows, len(named))
	}
	for row := range list.Rows {
		name := text(list, "name", row)
		at, known := named[name]
		if !known || text(front, "candidate", at) != text(list, "candidate", row) || text(front, "case", at) != text(list, "case", row) {
			t.Errorf("%s is %s, and row %d of the front (%v)", name, text(list, "candidate", row), at, known)
		}
		if code, concept, errs := command(t, "extract", dir, name); code != process.Done || !strings.Contains(concept, fmt.Sprintf("concept: %s", text(list, "candidate", row))) {
			t.Errorf("extract %s: exit %d: %s", name, code, errs)
		}
	}
}
