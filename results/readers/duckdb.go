package readers

import (
	"database/sql"
	"fmt"

	_ "github.com/duckdb/duckdb-go/v2" // the driver
)

// ByDuckDB reads a table with DuckDB.
func ByDuckDB(db *sql.DB, path string) (*Summary, error) {
	rows, err := db.Query("SELECT * FROM read_parquet(?)", path)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	names, err := rows.Columns()
	if err != nil {
		return nil, err
	}
	t := newTally(names)
	values, into := make([]any, len(names)), make([]any, len(names))
	for i := range values {
		into[i] = &values[i]
	}
	for rows.Next() {
		if err := rows.Scan(into...); err != nil {
			return nil, err
		}
		for i, v := range values {
			if err := t.add(i, v); err != nil {
				return nil, fmt.Errorf("row %d: %w", t.rows, err)
			}
		}
		t.rows++
	}
	return t.summary(), rows.Err()
}
