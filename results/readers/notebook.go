package readers

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
)

// query is a cell of a notebook that is SQL and nothing else: a name, and what is asked under it.
type query struct{ name, text string }

// cellForm is how a cell tagged sql looks, so that taking the SQL out of it is exact.
var cellForm = regexp.MustCompile("(?s)^([a-z]+) = sql\\(\"\"\"\n(.*)\n\"\"\"\\)\n([a-z]+)$")

// notebookQueries are the cells of a notebook that are tagged sql.
func notebookQueries(path string) ([]query, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var book struct {
		Cells []struct {
			Type     string `json:"cell_type"`
			Metadata struct{ Tags []string }
			Source   []string
		}
	}
	if err := json.Unmarshal(text, &book); err != nil {
		return nil, err
	}
	var all []query
	for i, c := range book.Cells {
		source := strings.Join(c.Source, "")
		if !slices.Contains(c.Metadata.Tags, "sql") {
			if strings.Contains(source, `sql("""`) {
				return nil, fmt.Errorf("cell %d holds SQL and is not tagged sql", i)
			}
			continue
		}
		form := cellForm.FindStringSubmatch(source)
		if form == nil || form[1] != form[3] || strings.Contains(form[2], `"""`) {
			return nil, fmt.Errorf("cell %d is tagged sql and is not one query with its name before and after it", i)
		}
		all = append(all, query{form[1], form[2]})
	}
	return all, nil
}
