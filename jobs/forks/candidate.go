package forks

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"sync"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/jobs/process"
	"forkfront/jobs/store"
	"forkfront/kinematics/mechanism"
	"forkfront/objectives"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/picks"
	"forkfront/results/record"
	"forkfront/results/report"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

// Reader is a results folder from which candidates can be rebuilt.
type Reader struct {
	dir    string
	file   string // of the table
	front  *table.Table
	cases  *store.CasesIndex
	rows   map[string]int // of candidates
	prefer picks.Preference
	mu     sync.Mutex
	common map[*store.CaseFile]*common // made on first use
}

// common is what all candidates of a case have in common, computed once.
type common struct {
	mechanism  *mechanism.Mechanism
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
	s := &Reader{dir: dir, file: results.FrontFile, front: front, rows: map[string]int{}, common: map[*store.CaseFile]*common{}}
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
	return s, s.index()
}

// Prefer has the preferred candidates be those of other weights than the run's.
func (s *Reader) Prefer(p picks.Preference) error {
	s.prefer = p
	return p.Fits(s.front)
}

// index finds the rows of candidates.
func (s *Reader) index() error {
	for _, name := range []string{"candidate", "case"} {
		if col := s.front.Index(name); col < 0 || s.front.Columns[col].Kind != table.Text {
			return fmt.Errorf("%s has no text column %s: not written by this version of forkfront", filepath.Join(s.dir, s.file), name)
		}
	}
	for row, id := range s.front.Series[s.front.Index("candidate")].Texts {
		s.rows[id] = row
	}
	return nil
}

// CaseOf is the case of a row.
func (s *Reader) CaseOf(row int) (*store.CaseFile, error) {
	name := s.front.Series[s.front.Index("case")].Texts[row]
	c, err := s.cases.Case(name)
	if err == nil && c == nil {
		err = fmt.Errorf("%s does not have case %q, which %s names", results.CasesFile, name, s.file)
	}
	return c, err
}

// Concept is the candidate of a row as a concept: what its case shares, with the points, the members and the
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
		if err := errors.Join(s.number(&at[0], cases.ColumnAlong(b), row, -document.Largest), s.number(&at[1], cases.ColumnAhead(b), row, -document.Largest)); err != nil {
			return nil, err
		}
		c.PointsMM[b] = at
	}
	c.Across.HalfWidthMM = maps.Clone(c.Across.HalfWidthMM)
	for _, body := range c.Spec.Bodies {
		half := -1.0
		if err := s.number(&half, cases.ColumnHalfWidth(body), row, 0); err != nil {
			return nil, err
		}
		if half >= 0 {
			if c.Across.HalfWidthMM == nil {
				c.Across.HalfWidthMM = map[string]float64{}
			}
			c.Across.HalfWidthMM[body] = half
		}
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
	if m := s.commonOf(shared).mechanism; m.Least() {
		c.Spec = m.At(c.Layout(m)).Spec
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
	if !(v >= least && v <= document.Largest) {
		return fmt.Errorf("%s: %s of %q is %g; allowed is %g to %g", filepath.Join(s.dir, s.file), column,
			s.front.Series[s.front.Index("candidate")].Texts[row], v, least, document.Largest)
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
	d, err := cases.DesignOf(c, k.mechanism, k.conditions, &document.Source{File: results.CasesFile}, io.Discard)
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
	nearest, err := s.nearest()
	if err != nil {
		return err
	}
	forks := report.Forks{Front: s.Fork}
	if nearest != nil {
		forks.Nearest = nearest.Fork
	}
	return folder.WriteReport(forks, processors)
}
