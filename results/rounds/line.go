package rounds

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2"

	"forkfront/results/sealed"
)

// Line is a line of race.jsonl: what a case came to in a round of a race, and whether it goes on. Fronts are compared by
// sample points of a box of objectives.
type Line struct {
	Round       int      `json:"round"` // from 1
	Rounds      int      `json:"rounds"`
	Case        string   `json:"case"`
	Evaluations int      `json:"evaluations"` // spent so far
	Feasible    int      `json:"feasible"`    // of them
	Front       int      `json:"front"`       // candidates
	Place       int      `json:"place"`       // from 1
	Adds        int      `json:"adds"`        // sample points that its front covers beyond those of the places before it
	Own         int      `json:"own"`         // sample points that its front covers
	Joint       int      `json:"joint"`       // sample points that the fronts of all cases cover together, those that were cut included
	Samples     int      `json:"samples"`     // all of them
	Violation   *float64 `json:"violation,omitempty"`
	Unmet       []string `json:"unmet,omitempty"`      // constraints that its nearest miss violates, where nothing was found feasible
	CoveredBy   string   `json:"covered_by,omitempty"` // of a case that is cut: the one that goes on and covers most of what it covers
	Covered     int      `json:"covered,omitempty"`    // sample points of its own that this one covers
	Outcome     string   `json:"outcome"`
}

// Outcomes of a case in a round.
const (
	GoesOn   = "goes on"
	Cut      = "cut"
	Finished = "finished" // the last round
)

// Write writes race.jsonl, whole or not at all. Each line carries a checksum.
func Write(path string, lines []Line) error {
	var text []byte
	for i := range lines {
		object, err := json.Marshal(&lines[i])
		if err != nil {
			return fmt.Errorf("write the race: %w", err)
		}
		text = sealed.Line(text, object)
	}
	if err := renameio.WriteFile(path, text, 0o644, renameio.WithTempDir(filepath.Dir(path))); err != nil {
		return fmt.Errorf("write the race: %w", err)
	}
	return nil
}

// Read reads race.jsonl; a line that is damaged is an error that names it.
func Read(path string) ([]Line, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var all []Line
	for n, line := range bytes.Split(bytes.TrimSuffix(text, []byte("\n")), []byte("\n")) {
		if len(line) == 0 && len(text) == 0 {
			break
		}
		object, whole := sealed.Unline(line)
		if !whole {
			return nil, fmt.Errorf("%s:%d: damaged: its content does not match its checksum", path, n+1)
		}
		var one Line
		d := json.NewDecoder(bytes.NewReader(object))
		d.DisallowUnknownFields()
		if err := d.Decode(&one); err != nil {
			return nil, fmt.Errorf("%s:%d: %w", path, n+1, err)
		}
		all = append(all, one)
	}
	return all, nil
}
