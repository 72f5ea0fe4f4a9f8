package jobs

import (
	"fmt"
	"io"
	"time"

	"forkfront/optimize"
)

// status is the one line of progress on a terminal. It is rewritten at most ten times a second, and
// cleared before anything else is written there.
type status struct {
	w     io.Writer
	shown bool
	last  time.Time
}

// progress is where a run stands: the case it is at of so many, since when, and its budget.
type progress struct {
	at, of int
	began  time.Time
	budget int
}

const (
	clearLine   = "\r\x1b[K"
	leastPause  = 100 * time.Millisecond
	neverBudget = optimize.Unlimited // a budget that evaluations do not end
)

func (s *status) show(c *Case, g optimize.Generation, p progress) {
	if time.Since(s.last) < leastPause {
		return
	}
	s.last, s.shown = time.Now(), true
	fmt.Fprintf(s.w, "%scase %d of %d, %s: %d evaluations%s, front %d", clearLine, p.at+1, p.of, c.Name, g.Evaluations, p.left(g.Evaluations), g.ArchiveSize)
}

// left is how much of the budget is spent and about how long the rest of the case takes.
func (p *progress) left(evaluations int) string {
	if p.budget == neverBudget || evaluations == 0 {
		return ""
	}
	done := float64(evaluations) / float64(p.budget)
	rest := time.Duration(float64(time.Since(p.began)) * (1 - done) / done)
	return fmt.Sprintf(" (%.0f %%, about %s left)", 100*done, rest.Round(time.Second))
}

func (s *status) clear() {
	if s.shown {
		fmt.Fprint(s.w, clearLine)
		s.shown = false
	}
}
