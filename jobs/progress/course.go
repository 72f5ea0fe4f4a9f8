package progress

import (
	"fmt"
	"sync"
	"time"

	"forkfront/jobs/words"
)

// Tracker tracks the progress of a run of several cases, which report to it while they run side by side.
type Tracker struct {
	mu    sync.Mutex
	of    int             // cases
	done  int             // of them
	parts map[int]float64 // of the running cases, 0 to 1
	given float64         // in cases, done before this process began
	began time.Time
}

func NewTracker(of int, now time.Time) *Tracker {
	return &Tracker{of: of, parts: map[int]float64{}, began: now}
}

// Before records how much of a case was done before this process began.
func (c *Tracker) Before(at int, part float64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.given += part
	c.parts[at] = part
}

// at records how much of a case is done.
func (c *Tracker) at(at int, part float64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.parts[at] = part
}

// Finished records a case as done, whatever is left of its budget.
func (c *Tracker) Finished(at int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	delete(c.parts, at)
	c.done++
}

// summary is how many cases are done and, where known, how much of the whole and about how long the rest takes. A
// single case reports it itself.
func (c *Tracker) summary(now time.Time) string {
	if c.of < 2 {
		return ""
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	come := float64(c.done)
	for _, part := range c.parts {
		come += part
	}
	return fmt.Sprintf("%d of %s done%s; ", c.done, words.Counted(c.of, "case"), left(come/float64(c.of), c.given/float64(c.of), now.Sub(c.began)))
}

// left is the share done and about how long the rest takes, given how long the progress from one share to another
// took; empty where nothing was done.
func left(share, from float64, took time.Duration) string {
	if share <= from {
		return ""
	}
	rest := time.Duration(min(float64(took)*(1-share)/(share-from), float64(Longest)))
	return fmt.Sprintf(" (%.0f %%, about %s left)", 100*share, rest.Round(time.Second))
}

// CaseProgress is the progress of a case in a run: its number, when its search began, and what ends it.
type CaseProgress struct {
	Tracker *Tracker
	At      int
	Began   time.Time     // less the time spent before a resume
	Budget  int           // of evaluations
	Wall    time.Duration // 0: no limit
}

// Part is how much of its budget a case has spent, 0 to 1, by the limit that it is nearest to; 0 where neither
// evaluations nor time end it.
func (p *CaseProgress) Part(evaluations int, now time.Time) float64 {
	part := 0.
	if p.Budget != neverBudget {
		part = float64(evaluations) / float64(p.Budget)
	}
	if p.Wall > 0 {
		part = max(part, now.Sub(p.Began).Seconds()/p.Wall.Seconds())
	}
	return min(part, 1)
}

// Longest is longer than any useful estimate, and shorter than the longest duration.
const Longest = 1e6 * time.Hour
