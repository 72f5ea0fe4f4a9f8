package readers

import (
	"database/sql"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var rewrite = flag.Bool("rewrite", false, "put what the queries answer now into the page")

const page = "../../jobs/docs/analyst.md"

// asked is a query of a page and what the page says that it answers.
var asked = regexp.MustCompile("(?s)```sql\n(.*?)\n```\n```text\n(.*?)```\n")

// Every query of the page answers what is said there.
func TestPageListsWhatEachDialogueAnswered(t *testing.T) {
	dir := folder(t)
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	db := openDuckDB(t)
	if _, err := db.Exec("SET file_search_path = '" + filepath.Dir(dir) + "'"); err != nil {
		t.Fatal(err)
	}
	blocks := asked.FindAllStringSubmatch(string(text), -1)
	if len(blocks) < 8 || len(blocks) != strings.Count(string(text), "```sql") {
		t.Fatalf("%d queries with an answer, %d in all", len(blocks), strings.Count(string(text), "```sql"))
	}
	fresh := string(text)
	for _, b := range blocks {
		got := answer(t, db, b[1])
		if got != b[2] && !*rewrite {
			t.Errorf("%s\nanswers\n%s\nthe page says\n%s\nafter a look at the difference: go test -run Page -rewrite", b[1], got, b[2])
		}
		fresh = strings.Replace(fresh, b[0], "```sql\n"+b[1]+"\n```\n```text\n"+got+"```\n", 1)
	}
	if *rewrite && fresh != string(text) {
		if err := os.WriteFile(page, []byte(fresh), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func answer(t *testing.T, db *sql.DB, query string) string {
	t.Helper()
	a, err := Ask(db, query)
	if err != nil {
		t.Errorf("%s\n%v", query, err)
		return ""
	}
	if len(a.Rows) == 0 {
		t.Errorf("%s\nhas no rows", query)
	}
	return a.String()
}
