package forks

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"forkfront/jobs/process"
	"forkfront/jobs/store"
	"forkfront/results"
	"forkfront/results/picks"
	"forkfront/results/table"
)

// mostNamed is how many of the names of candidates to begin with a message lists.
const mostNamed = 8

// place is a row of one of the folder's tables.
type place struct {
	of  *Reader
	row int
}

// nearest reads the near misses of the same folder; nil where it has none.
func (s *Reader) nearest() (*Reader, error) {
	path := filepath.Join(s.dir, results.NearestFile)
	t, err := table.Read(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	case t.Meta[store.CasesSeal] != s.front.Meta[store.CasesSeal]:
		return nil, fmt.Errorf("%s does not belong to %s: the files of two runs are mixed", path, results.FrontFile)
	}
	of := &Reader{dir: s.dir, file: results.NearestFile, front: t, cases: s.cases, rows: map[string]int{}, common: s.common}
	return of, of.index()
}

// Find finds a candidate by its id, by the end of its id behind a slash where no other ends so, or by a name that says
// why to look at it: CASE/balanced, or knee, preferred or best-MEASURE, with the bike before it where there are several, or CASE/nearest for
// a near miss. It is a row of the reader that it returns.
func (s *Reader) Find(id string) (*Reader, int, error) {
	nearest, err := s.nearest()
	if err != nil {
		return nil, 0, err
	}
	ids, named := map[string]place{}, map[string]place{}
	put := func(dst map[string]place, of *Reader, rows map[string]int) {
		for name, row := range rows {
			dst[name] = place{of, row}
		}
	}
	put(ids, s, s.rows)
	put(named, s, picks.Named(s.front, s.prefer))
	if nearest != nil {
		put(ids, nearest, nearest.rows)
		put(named, nearest, picks.NamedMisses(nearest.front))
	}
	found := map[place]string{}
	for _, names := range []map[string]place{ids, named} {
		if at, ok := names[id]; ok {
			return at.of, at.row, nil
		}
		for name, at := range names {
			if strings.HasSuffix(name, "/"+id) {
				found[at] = name
			}
		}
	}
	if len(found) > 1 {
		names := slices.Sorted(maps.Values(found))
		return nil, 0, process.BadInput(fmt.Errorf("%s has %d candidates that end in %q; name one, such as %q or %q", s.dir, len(names), id, names[0], names[1]))
	}
	for at := range found {
		return at.of, at.row, nil
	}
	return nil, 0, s.notFound(id, slices.Sorted(maps.Keys(named)))
}

// notFound is the error for an unknown candidate, with what is known.
func (s *Reader) notFound(id string, choices []string) error {
	example := "none"
	if s.front.Rows > 0 {
		example = fmt.Sprintf("such as %q", s.front.Series[s.front.Index("candidate")].Texts[0])
	}
	shown := strings.Join(choices[:min(len(choices), mostNamed)], ", ")
	if more := len(choices) - mostNamed; more > 0 {
		shown += fmt.Sprintf(" and %d more", more)
	}
	return process.BadInput(fmt.Errorf("%s has no candidate %q; allowed are the %d in column candidate of %s, %s, and %s", s.dir, id, s.front.Rows, results.FrontFile, example, shown))
}
