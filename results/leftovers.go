package results

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"forkfront/results/figures"
	"forkfront/results/table"
)

// Leftovers lists the files in a folder, by name, that would have been given a name that matches the pattern if their
// writer had not been killed: until they are whole, files are called like .run.json123. A folder that is not there has
// none.
func Leftovers(dir, pattern string) ([]string, error) {
	return leftovers(dir, func(name string) bool {
		whole, _ := filepath.Match(pattern, name)
		return whole
	})
}

// RemoveLeftovers removes what killed writers of one file have left. Nobody else may be writing it.
func RemoveLeftovers(path string) error {
	dir := filepath.Dir(path)
	left, err := leftovers(dir, func(name string) bool { return name == filepath.Base(path) })
	for _, name := range left {
		err = errors.Join(err, os.Remove(filepath.Join(dir, name)))
	}
	return err
}

func leftovers(dir string, of func(name string) bool) ([]string, error) {
	return matching(dir, ".", func(name string) bool {
		base := strings.TrimRight(name, "0123456789")
		return strings.HasPrefix(base, ".") && len(base) < len(name) && of(strings.TrimPrefix(base, "."))
	})
}

// unfinished lists what runs that were killed have left under temporary names.
func (f *Folder) unfinished() ([]string, error) {
	left, err := f.matching(".", table.TemporaryPrefix+"*.parquet-*")
	if err != nil {
		return nil, err
	}
	for sub, patterns := range map[string][]string{".": {RunFile, CasesFile, ReportFile, LogFile}, CheckpointDir: {CheckpointFiles}, FiguresDir: {figures.Files}} {
		for _, pattern := range patterns {
			found, err := Leftovers(f.Path(sub), pattern)
			if err != nil {
				return nil, err
			}
			for _, name := range found {
				left = append(left, filepath.Join(sub, name))
			}
		}
	}
	return left, nil
}

// matching lists the regular files in a subfolder that match a pattern, relative to the folder.
// A path is not made into a pattern: the folder's own name may hold stars.
func (f *Folder) matching(sub, pattern string) ([]string, error) {
	return matching(f.Dir, sub, func(name string) bool {
		ok, _ := filepath.Match(pattern, name)
		return ok
	})
}

func matching(dir, sub string, fits func(name string) bool) ([]string, error) {
	entries, err := os.ReadDir(filepath.Join(dir, sub))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("look into the folder: %w", err)
	}
	var found []string
	for _, e := range entries {
		if e.Type().IsRegular() && fits(e.Name()) {
			found = append(found, filepath.Join(sub, e.Name()))
		}
	}
	return found, nil
}
