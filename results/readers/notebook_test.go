package readers

import (
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const notebook = "../notebooks/front.ipynb"

// view has every table of a folder under its name, as the notebook has.
func view(t *testing.T, db *sql.DB, dir string) {
	t.Helper()
	for _, path := range tables(t, dir) {
		name := strings.TrimSuffix(filepath.Base(path), ".parquet")
		if _, err := db.Exec(fmt.Sprintf("CREATE VIEW %s AS SELECT * FROM read_parquet('%s')", name, path)); err != nil {
			t.Fatal(err)
		}
	}
}

// Every query of the notebook answers, each under the name by which the cells after it know it.
func TestNotebookQueries(t *testing.T) {
	dir := folder(t)
	db := openDuckDB(t)
	view(t, db, dir)
	queries, err := notebookQueries(notebook)
	if err != nil {
		t.Fatal(err)
	}
	answers := map[string]*Answer{}
	for _, q := range queries {
		a, err := Ask(db, q.text)
		if err != nil {
			t.Errorf("%s: %v", q.name, err)
			continue
		}
		if len(a.Rows) == 0 {
			t.Errorf("%s has no rows", q.name)
		}
		answers[q.name] = a
	}
	for _, name := range []string{"ran", "lightest", "champions", "three", "curves", "reasons", "drive", "trades"} {
		if answers[name] == nil {
			t.Fatalf("no query %s among %d", name, len(queries))
		}
	}
	checkThree(t, db, answers["three"])
	checkCurves(t, db, answers["curves"])
}

// The front of three objectives against comparing all pairs here.
func checkThree(t *testing.T, db *sql.DB, three *Answer) {
	t.Helper()
	all, err := Ask(db, "SELECT candidate, bike, path_straightness_mm, trail_variation_mm, mass_g FROM front")
	if err != nil {
		t.Fatal(err)
	}
	beats := func(a, b []any) bool {
		better := false
		for k := 2; k < 5; k++ {
			if a[k].(float64) > b[k].(float64) {
				return false
			}
			better = better || a[k].(float64) < b[k].(float64)
		}
		return better && a[1] == b[1]
	}
	listed := map[any]bool{}
	for _, row := range three.Rows {
		listed[row[0]] = true
	}
	for _, a := range all.Rows {
		beaten := false
		for _, b := range all.Rows {
			beaten = beaten || beats(b, a)
		}
		if beaten == listed[a[0]] {
			t.Errorf("%v is beaten: %v, listed: %v", a[0], beaten, listed[a[0]])
		}
	}
}

// The balanced candidate of each mechanism, whatever its seeds: the join loses no travel step, and each stands beside the telescopic fork's at the same travel.
func checkCurves(t *testing.T, db *sql.DB, curves *Answer) {
	t.Helper()
	cases, err := Ask(db, `SELECT count(*) FROM (SELECT DISTINCT bike, mechanism FROM front)`)
	if err != nil {
		t.Fatal(err)
	}
	if want := 33 * int(cases.Rows[0][0].(int64)); len(curves.Rows) != want {
		t.Errorf("%d rows of curves, want %d", len(curves.Rows), want)
	}
	for _, row := range curves.Rows {
		for i, v := range row {
			if v == nil {
				t.Fatalf("%s is NULL beside %v", curves.Columns[i], row)
			}
		}
	}
}

// A cell that is not exactly one query, or one that hides a query, is not passed over.
func TestWrongCellsAreDetected(t *testing.T) {
	for name, c := range map[string]string{
		"two names": `{"cell_type": "code", "metadata": {"tags": ["sql"]}, "source": ["a = sql(\"\"\"\n", "SELECT 1\n", "\"\"\")\n", "b"]}`,
		"no name":   `{"cell_type": "code", "metadata": {"tags": ["sql"]}, "source": ["sql(\"\"\"\n", "SELECT 1\n", "\"\"\")"]}`,
		"more":      `{"cell_type": "code", "metadata": {"tags": ["sql"]}, "source": ["a = sql(\"\"\"\n", "SELECT 1\n", "\"\"\")\n", "a\n", "print(a)"]}`,
		"hidden":    `{"cell_type": "code", "metadata": {}, "source": ["a = sql(\"\"\"\n", "SELECT 1\n", "\"\"\")\n", "a"]}`,
	} {
		path := filepath.Join(t.TempDir(), "book.ipynb")
		if err := os.WriteFile(path, []byte(`{"cells": [`+c+`]}`), 0o600); err != nil {
			t.Fatal(err)
		}
		if q, err := notebookQueries(path); err == nil {
			t.Errorf("%s passed as %v", name, q)
		}
	}
}
