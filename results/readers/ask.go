package readers

import (
	"database/sql"
	"fmt"
	"math"
	"strings"
	"text/tabwriter"
)

// Answer is what a query gives: a list of values a row, nil for NULL.
type Answer struct {
	Columns []string `json:"columns"`
	Rows    [][]any  `json:"rows"`
}

// Ask runs a query.
func Ask(db *sql.DB, query string) (*Answer, error) {
	rows, err := db.Query(query)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	a := &Answer{Rows: [][]any{}}
	if a.Columns, err = rows.Columns(); err != nil {
		return nil, err
	}
	for rows.Next() {
		values, into := make([]any, len(a.Columns)), make([]any, len(a.Columns))
		for i := range values {
			into[i] = &values[i]
		}
		if err := rows.Scan(into...); err != nil {
			return nil, err
		}
		a.Rows = append(a.Rows, values)
	}
	return a, rows.Err()
}

// String is the answer as the documents show it: columns in line, numbers to four digits.
func (a *Answer) String() string {
	var text strings.Builder
	w := tabwriter.NewWriter(&text, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, strings.Join(a.Columns, "\t"))
	for _, row := range a.Rows {
		cells := make([]string, len(row))
		for i, v := range row {
			cells[i] = cell(v)
		}
		fmt.Fprintln(w, strings.Join(cells, "\t"))
	}
	w.Flush()
	lines := strings.Split(text.String(), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

func cell(v any) string {
	switch v := v.(type) {
	case nil:
		return "NULL"
	case float64:
		if v == math.Trunc(v) && math.Abs(v) < 1e6 {
			return fmt.Sprintf("%.0f", v)
		}
		return fmt.Sprintf("%.4g", v)
	}
	return fmt.Sprint(v)
}
