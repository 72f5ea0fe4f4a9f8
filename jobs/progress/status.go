package progress

import (
	"fmt"
	"io"
	"os"
	"time"

	"golang.org/x/term"

	"forkfront/jobs/cases"
	"forkfront/optimize"
)

// status is the one line of progress on a terminal. It is rewritten at most ten times a second, and
// cleared before anything else is written there.
type status struct {
	w     io.Writer
	race  string // which round of a race this is
	shown bool
	last  time.Time
}

const (
	clearLine   = "\r\x1b[K"
	leastPause  = 100 * time.Millisecond
	neverBudget = optimize.Unlimited // a budget that evaluations do not end
)

func (s *status) show(c *cases.Case, g optimize.Generation, p CaseProgress) {
	now := time.Now()
	part := p.Part(g.Evaluations, now)
	p.Tracker.at(p.At, part)
	if now.Sub(s.last) < leastPause {
		return
	}
	s.last = now
	s.put(fmt.Sprintf("%s%s%s: %d evaluations%s, front %d", s.race, p.Tracker.summary(now), c.Name, g.Evaluations, left(part, 0, now.Sub(p.Began)), g.ArchiveSize))
}

// put shows a line.
func (s *status) put(line string) {
	s.shown = true
	fmt.Fprint(s.w, clearLine, cut(line, s.columns()))
}

// cut shortens a line to what a terminal of so many columns shows without wrapping: what wraps is not cleared.
func cut(line string, columns int) string {
	if r := []rune(line); columns > 1 && len(r) >= columns {
		return string(r[:columns-2]) + "…"
	}
	return line
}

// columns is the width of the terminal; 0 where it is unknown.
func (s *status) columns() int {
	f, is := s.w.(*os.File)
	if !is {
		return 0
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return width
}

func (s *status) clear() {
	if s.shown {
		fmt.Fprint(s.w, clearLine)
		s.shown = false
	}
}
