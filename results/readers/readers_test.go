package readers

import (
	"database/sql"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"testing"
)

// folder is the results folder to read; a test that has none says so and is skipped.
func folder(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("FORKFRONT_RESULTS")
	if dir == "" {
		t.Skip("FORKFRONT_RESULTS names no results folder")
	}
	dir, err := filepath.Abs(dir)
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

func openDuckDB(t *testing.T) *sql.DB {
	t.Helper()
	db, err := sql.Open("duckdb", "")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	return db
}

func tables(t *testing.T, dir string) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(dir, "*.parquet"))
	if err != nil || len(paths) < 4 {
		t.Fatalf("%d tables in %s: %v", len(paths), dir, err)
	}
	return paths
}

// DuckDB, arrow-go and hyparquet agree on every table: rows, NULLs and a hash of every column.
func TestReadersAgree(t *testing.T) {
	paths := tables(t, folder(t))
	db := openDuckDB(t)
	third := byHyparquet(t, paths)
	for _, path := range paths {
		duck, err := ByDuckDB(db, path)
		if err != nil {
			t.Errorf("DuckDB: %s: %v", path, err)
			continue
		}
		arrows, err := ByArrow(path)
		if err != nil {
			t.Errorf("arrow-go: %s: %v", path, err)
			continue
		}
		if duck.Rows == 0 || len(duck.Columns) < 5 {
			t.Errorf("%s: %d rows, %d columns", path, duck.Rows, len(duck.Columns))
		}
		differ(t, path+": DuckDB and arrow-go", duck, arrows)
		if third != nil {
			differ(t, path+": DuckDB and hyparquet", duck, third[path])
		}
	}
}

func differ(t *testing.T, what string, a, b *Summary) {
	t.Helper()
	if b == nil || a.Rows != b.Rows || len(a.Columns) != len(b.Columns) {
		t.Errorf("%s: %+v and %+v", what, a, b)
		return
	}
	for name, c := range a.Columns {
		if b.Columns[name] != c {
			t.Errorf("%s: column %s %+v and %+v", what, name, c, b.Columns[name])
		}
	}
}

// byHyparquet is nil, with a word in the log, where Node or the packages are not there.
func byHyparquet(t *testing.T, paths []string) map[string]*Summary {
	t.Helper()
	if _, err := os.Stat("node/node_modules/hyparquet"); err != nil {
		t.Log("hyparquet is not installed (npm ci in results/readers/node); two readers are compared")
		return nil
	}
	out, err := exec.Command("node", append([]string{"node/summary.mjs"}, paths...)...).Output()
	if err != nil {
		t.Fatalf("hyparquet: %v", err)
	}
	var all map[string]*Summary
	if err := json.Unmarshal(out, &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// The hash against the published FNV-1a test vectors (Noll): "" and "a" in 64 bits, read with the
// leading byte that marks a value; and a changed value, a swapped pair and a NULL change it.
func TestTallyTellsTablesApart(t *testing.T) {
	sum := func(values ...any) Column {
		c := newTally([]string{"x"})
		for _, v := range values {
			if err := c.add(0, v); err != nil {
				t.Fatal(err)
			}
		}
		return c.summary().Columns["x"]
	}
	if empty := sum(); empty.Sum != "cbf29ce484222325" {
		t.Errorf("nothing hashes to %s", empty.Sum)
	}
	seen := map[Column]bool{}
	for _, values := range [][]any{{1.0, 2.0}, {2.0, 1.0}, {1.0, 2.0000000000000004}, {1.0, nil}, {nil, 1.0}, {int64(1), 2.0}, {"1", 2.0}, {0.0, 2.0}, {nil, 2.0}} {
		if s := sum(values...); seen[s] {
			t.Errorf("%v hashes as another list", values)
		} else {
			seen[s] = true
		}
	}
	if err := newTally([]string{"x"}).add(0, int32(1)); err == nil {
		t.Error("a value of an unknown kind was taken")
	}
	if reflect.DeepEqual(sum(1.0), sum(1.0, nil)) {
		t.Error("a further NULL changes nothing")
	}
}
