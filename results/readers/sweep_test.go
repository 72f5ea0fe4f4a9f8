package readers

import (
	"os"
	"os/exec"
	"strings"
	"testing"
)

// In a sweep over two bikes the notebook shows, as balanced, the candidates that the shortlist names so and that the
// program extracts by that name, each with the telescopic fork of its own bike; it ranks within a bike.
func TestNotebookAgreesOnASweep(t *testing.T) {
	dir, program := os.Getenv("FORKFRONT_SWEEP"), os.Getenv("FORKFRONT_PROGRAM")
	if dir == "" || program == "" {
		t.Skip("FORKFRONT_SWEEP names no results folder, or FORKFRONT_PROGRAM no program")
	}
	db := openDuckDB(t)
	view(t, db, dir)
	queries, err := notebookQueries(notebook)
	if err != nil {
		t.Fatal(err)
	}
	text := map[string]string{}
	for _, q := range queries {
		text[q.name] = strings.TrimSuffix(strings.TrimSpace(q.text), ";")
	}
	ask := func(query string) [][]any {
		t.Helper()
		a, err := Ask(db, query)
		if err != nil {
			t.Fatal(err)
		}
		return a.Rows
	}
	listed := ask(`SELECT bike, "case", candidate FROM shortlist WHERE reason = 'balanced' ORDER BY ALL`)
	drawn := ask(`SELECT DISTINCT q.bike, f."case", q.candidate FROM (` + text["curves"] + `) AS q JOIN front AS f USING (candidate) ORDER BY ALL`)
	if len(listed) < 12 || len(drawn) != len(listed) {
		t.Fatalf("the shortlist has %d balanced candidates, the notebook %d", len(listed), len(drawn))
	}
	bikes := map[any]bool{}
	for i, row := range listed {
		bikes[row[0]] = true
		if row[2] != drawn[i][2] || row[0] != drawn[i][0] {
			t.Errorf("the notebook draws %v, the shortlist names %v", drawn[i], row)
		}
		concept, err := exec.Command(program, "extract", dir, row[1].(string)+"/balanced").Output()
		if err != nil || !strings.Contains(string(concept), "concept: "+row[2].(string)+"\n") {
			t.Errorf("extract %s/balanced is not %s (%v)", row[1], row[2], err)
		}
	}
	if len(bikes) != 2 {
		t.Errorf("%d bikes", len(bikes))
	}
	if lines := ask(`SELECT bike, count(DISTINCT telescopic_trail_mm) FROM (` + text["curves"] + `) WHERE travel_mm = 0 GROUP BY bike`); len(lines) != 2 || lines[0][1] != int64(1) || lines[1][1] != int64(1) {
		t.Errorf("telescopic forks of the bikes: %v", lines)
	}
	best := ask(`SELECT q.bike, q.steadiest, q.trail_variation_mm, (SELECT min(f.trail_variation_mm) FROM front AS f WHERE f.bike = q.bike AND f.mechanism = q.mechanism) FROM (` + text["champions"] + `) AS q`)
	of := map[any]bool{}
	for _, row := range best {
		of[row[0]] = true
		if row[2] != row[3] || !strings.HasPrefix(row[1].(string), row[0].(string)+"/") {
			t.Errorf("the best of %v is %v with %v, not %v", row[0], row[1], row[2], row[3])
		}
	}
	if len(of) != 2 {
		t.Errorf("the best candidates are of %d bikes", len(of))
	}
}
