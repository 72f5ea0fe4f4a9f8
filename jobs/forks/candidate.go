package forks

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/store"
	"forkfront/kinematics"
	"forkfront/objectives"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/picks"
	"forkfront/results/record"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

// Reader is a results folder from which candidates can be rebuilt.
type Reader struct {
	dir    string
	front  *table.Table
	cases  *store.CasesIndex
	rows   map[string]int // of candidates
	prefer picks.Preference
	mu     sync.Mutex
	common map[*store.CaseFile]*common // made when first asked for
}

// common is what all candidates of a case have in common, computed once.
type common struct {
	mechanism  *kinematics.Mechanism
	points     []string // those that a concept must have, and those that it may have
	conditions *objectives.Conditions
}

// Open reads front.parquet of a folder and finds the cases in its cases.yaml. What makes the results less certain than
// others is reported to the user.
func Open(dir string, said io.Writer) (*Reader, error) {
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, process.BadInput(fmt.Errorf("%s is not a folder of finished results; continue an unfinished search with `forkfront resume %s`", dir, display.ShellWord(dir)))
	case err != nil:
		return nil, fmt.Errorf("%s is not a folder of finished results: %w", dir, err)
	}
	s := &Reader{dir: dir, front: front, rows: map[string]int{}, common: map[*store.CaseFile]*common{}}
	path, seal := filepath.Join(dir, results.CasesFile), front.Meta[store.CasesSeal]
	if s.cases, err = store.OpenCases(path, seal); err != nil {
		return nil, err
	}
	if seal == "" {
		fmt.Fprintf(said, "%s has no checksum: an earlier version of forkfront wrote it, and damage to it would go unnoticed\n", path)
	}
	run, err := record.Read(filepath.Join(dir, results.RunFile))
	switch {
	case err == nil:
		s.prefer = run.Prefer
	case !errors.Is(err, fs.ErrNotExist):
		return nil, err
	}
	for _, name := range []string{"candidate", "case"} {
		if col := front.Index(name); col < 0 || front.Columns[col].Kind != table.Text {
			return nil, fmt.Errorf("%s has no text column %s: not a front written by this version of forkfront", filepath.Join(dir, results.FrontFile), name)
		}
	}
	for row, id := range front.Series[front.Index("candidate")].Texts {
		s.rows[id] = row
	}
	return s, nil
}

// mostNamed is how many of the names of candidates to begin with a message lists.
const mostNamed = 8

// Prefer has the preferred candidates be those of other weights than the run's.
func (s *Reader) Prefer(p picks.Preference) error {
	s.prefer = p
	return p.Fits(s.front)
}

// Row finds a candidate by its id, by the part of its id after a slash where that is unique, or by its name in the
// shortlist: CASE/balanced, or knee, preferred or best-MEASURE, with the bike before it where there are several.
func (s *Reader) Row(id string) (int, error) {
	if row, ok := s.rows[id]; ok {
		return row, nil
	}
	named := picks.Named(s.front, s.prefer)
	if row, ok := named[id]; ok {
		return row, nil
	}
	found := map[int]string{}
	for _, names := range []map[string]int{s.rows, named} {
		for name, row := range names {
			if strings.HasSuffix(name, "/"+id) {
				found[row] = name
			}
		}
	}
	if len(found) > 1 {
		names := slices.Sorted(maps.Values(found))
		return 0, process.BadInput(fmt.Errorf("%s has %d candidates that end in %q; name one, such as %q or %q", s.dir, len(names), id, names[0], names[1]))
	}
	for row := range found {
		return row, nil
	}
	example := "none"
	if s.front.Rows > 0 {
		example = fmt.Sprintf("such as %q", s.front.Series[s.front.Index("candidate")].Texts[0])
	}
	choices := slices.Sorted(maps.Keys(named))
	shown := strings.Join(choices[:min(len(choices), mostNamed)], ", ")
	if more := len(choices) - mostNamed; more > 0 {
		shown += fmt.Sprintf(" and %d more", more)
	}
	return 0, process.BadInput(fmt.Errorf("%s has no candidate %q; allowed are the %d in column candidate of %s, %s, and %s", s.dir, id, s.front.Rows, results.FrontFile, example, shown))
}

// CaseOf is the case of a row.
func (s *Reader) CaseOf(row int) (*store.CaseFile, error) {
	name := s.front.Series[s.front.Index("case")].Texts[row]
	c, err := s.cases.Case(name)
	if err == nil && c == nil {
		err = fmt.Errorf("%s does not have case %q, which %s names", results.CasesFile, name, results.FrontFile)
	}
	return c, err
}

// Concept is the candidate of a row as a concept: what its case shares, with the points and the
// shock of the row.
func (s *Reader) Concept(row int) (*files.ConceptFile, error) {
	shared, err := s.CaseOf(row)
	if err != nil {
		return nil, err
	}
	c := shared.Concept
	c.Concept = s.front.Series[s.front.Index("candidate")].Texts[row]
	c.PointsMM = maps.Clone(c.PointsMM)
	for _, b := range s.commonOf(shared).points {
		at := c.PointsMM[b]
		if err := errors.Join(s.number(&at[0], cases.ColumnAlong(b), row, -files.Largest), s.number(&at[1], cases.ColumnAhead(b), row, -files.Largest)); err != nil {
			return nil, err
		}
		c.PointsMM[b] = at
	}
	if c.Shock != nil {
		shock := *c.Shock
		for i := range shared.Shocks {
			if k := &shared.Shocks[i]; k.Name == s.name(cases.ColumnShock, row) {
				shock = k.Unit(shock.Count)
			}
		}
		if err := errors.Join(s.number(&shock.EyeToEyeMM, cases.ColumnShockLength, row, 0), s.number(&shock.StrokeMM, cases.ColumnShockStroke, row, 0)); err != nil {
			return nil, err
		}
		c.Shock = &shock
	}
	for _, m := range shared.Materials {
		if m.Name == s.name(cases.ColumnMaterial, row) {
			c.Material = m
		}
	}
	return &c, nil
}

// name is a text of a row, empty where the front has no such column.
func (s *Reader) name(column string, row int) string {
	if col := s.front.Index(column); col >= 0 && s.front.Columns[col].Kind == table.Text {
		return s.front.Series[col].Texts[row]
	}
	return ""
}

// commonOf computes what the candidates of a case have in common, the first time that it is needed.
func (s *Reader) commonOf(c *store.CaseFile) *common {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.common[c] == nil {
		m := files.Compile(c.Concept.Spec)
		k := &common{mechanism: m, points: slices.Clone(m.RequiredPoints()), conditions: cases.Conditions(&c.Concept)}
		for name := range c.Concept.PointsMM {
			if !slices.Contains(k.points, name) {
				k.points = append(k.points, name)
			}
		}
		s.common[c] = k
	}
	return s.common[c]
}

// number reads a value from a column, if the front has it. It must be a number that a concept file may have.
func (s *Reader) number(dst *float64, column string, row int, least float64) error {
	col := s.front.Index(column)
	if col < 0 || s.front.Columns[col].Kind != table.Float || s.front.Null(col, row) {
		return nil
	}
	v := s.front.Series[col].Floats[row]
	if !(v >= least && v <= files.Largest) {
		return fmt.Errorf("%s: %s of %q is %g; allowed is %g to %g", filepath.Join(s.dir, results.FrontFile), column,
			s.front.Series[s.front.Index("candidate")].Texts[row], v, least, files.Largest)
	}
	*dst = v
	return nil
}

// Fork is the candidate of a row, ready to be moved through its travel.
func (s *Reader) Fork(row int) (*sideview.Fork, error) {
	shared, err := s.CaseOf(row)
	if err != nil {
		return nil, err
	}
	c, err := s.Concept(row)
	if err != nil {
		return nil, err
	}
	k := s.commonOf(shared)
	d, err := cases.DesignOf(c, k.mechanism, k.conditions, &files.Source{File: results.CasesFile}, io.Discard)
	if err != nil {
		return nil, fmt.Errorf("candidate %s: %w", c.Concept, err)
	}
	return &sideview.Fork{ID: c.Concept, Case: shared.Name, Bike: c.Bike.Name, Conditions: k.conditions, Design: *d}, nil
}

// WriteReport makes the report of what the folder holds, with every candidate in motion, on the given number of
// processors. What makes the results less certain than others is reported to the user.
func WriteReport(folder *results.Folder, processors int, said io.Writer) error {
	s, err := Open(folder.Dir, said)
	if err != nil {
		return err
	}
	return folder.WriteReport(s.Fork, processors)
}
