package progress

import (
	"fmt"
	"sync"
	"time"

	"forkfront/jobs/words"
)

// Tracker is how far a run of several cases has come. Cases at work side by side tell it how far they are.
type Tracker struct {
	mu    sync.Mutex
	of    int             // cases
	done  int             // of them
	parts map[int]float64 // of the cases at work, 0 to 1
	given float64         // cases' worth that was there before this process began
	began time.Time
}

func NewTracker(of int, now time.Time) *Tracker {
	return &Tracker{of: of, parts: map[int]float64{}, began: now}
}

// Before takes what was done before this process began of a case.
func (c *Tracker) Before(at int, part float64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.given += part
	c.parts[at] = part
}

// at takes how far a case is.
func (c *Tracker) at(at int, part float64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.parts[at] = part
}

// Finished takes a case as done, whatever of its budget it left.
func (c *Tracker) Finished(at int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	delete(c.parts, at)
	c.done++
}

// summary is how many cases are done and, where that can be told, how much of the whole and about how long the
// rest takes. A single case says it itself.
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

// left is a share done and about how long the rest takes, where the way from one share to another took so
// long; empty where nothing was done.
func left(share, from float64, took time.Duration) string {
	if share <= from {
		return ""
	}
	rest := time.Duration(min(float64(took)*(1-share)/(share-from), float64(Longest)))
	return fmt.Sprintf(" (%.0f %%, about %s left)", 100*share, rest.Round(time.Second))
}

// CaseProgress is where a case stands in a run: which it is, since when it is searched, and what ends it.
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

// Longest is more than any estimate is good for, and less than a duration can hold.
const Longest = 1e6 * time.Hour
