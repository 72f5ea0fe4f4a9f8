// Command sql answers one query with DuckDB, for Python where DuckDB's own package is not available: it
// reads statements from standard input, one to a NUL byte, and prints the answer of the last as JSON.
package main

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"

	"forkfront/results/readers"
)

func main() {
	text, err := io.ReadAll(os.Stdin)
	if err == nil {
		err = run(strings.Split(strings.TrimSuffix(string(text), "\x00"), "\x00"))
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(statements []string) error {
	db, err := sql.Open("duckdb", "")
	if err != nil {
		return err
	}
	defer db.Close()
	last := len(statements) - 1
	for _, s := range statements[:last] {
		if _, err := db.Exec(s); err != nil {
			return fmt.Errorf("%s: %w", s, err)
		}
	}
	a, err := readers.Ask(db, statements[last])
	if err != nil {
		return err
	}
	return json.NewEncoder(os.Stdout).Encode(a)
}
