package run

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/objectives"
	"forkfront/optimize"
)

const (
	tries      = 1500 // evaluations of a trial
	triedKinds = 24   // most cases that are tried
	lookedAt   = 40   // forks of a trial whose parts are looked at one by one
)

// Attempt is what a short search of a case found.
type Attempt struct {
	Case     string
	Count    int      // cases that differ from it only in their seed, itself included
	Tried    int      // forks
	Feasible int      // of them
	Works    bool     // whether one of them moves through the whole travel with parts that can be built
	Unmet    []string // limits that none of those meets
	Nearest  []string // what keeps the nearest one from being feasible
	Same     []string // pairs of bodies that overlap in most forks, at half widths that are defaults
}

// Try searches each case of a job briefly, always in the same way, at most triedKinds of them; those that differ
// only in their seed count as one. It also returns the number of kinds.
func Try(ctx context.Context, j *files.JobFile, all []*cases.Case) (attempts []Attempt, of int, err error) {
	each := kinds(all)
	n := min(len(each), triedKinds)
	attempts = make([]Attempt, n)
	most := tries
	if e := j.Budget.CaseEvaluations(len(all)); e > 0 {
		most = min(most, e)
	}
	group, together := errgroup.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i := range n {
		k := each[i*len(each)/n]
		group.Go(func() error {
			a, err := try(together, k.c, most)
			if err == nil {
				a.Count = k.count
				attempts[i] = *a
			}
			return err
		})
	}
	return attempts, len(each), group.Wait()
}

func try(ctx context.Context, c *cases.Case, most int) (*Attempt, error) {
	problem := c.Worker() // without events, which take too long
	met := make([]int, len(problem.Constraints()))
	var works [][]float64
	s := optimize.Settings{Seed: 1, Evaluations: most, Workers: 1, Observe: func(seen *optimize.Candidate) error {
		for i, g := range seen.G {
			if g <= 0 {
				met[i]++
			}
		}
		if seen.G[0] <= 0 && len(works) < lookedAt {
			works = append(works, slices.Clone(seen.X))
		}
		return nil
	}}
	r, err := optimize.Search(ctx, problem, s)
	if err != nil {
		return nil, fmt.Errorf("try case %s: %w", c.Name, err)
	}
	a := &Attempt{Case: c.Name, Tried: r.Candidates, Feasible: r.FeasibleEvaluations, Same: overlapping(c, works)}
	a.Works = met[0] > 0
	for i := range c.Limits {
		if met[i+1] == 0 && a.Works {
			a.Unmet = append(a.Unmet, objectives.At(c.Limits[i].Measure).Named())
		}
	}
	if len(r.Nearest) > 0 {
		a.Nearest = judged(c, r.Nearest[0].X)
	}
	return a, nil
}

// judged is what keeps a fork from being feasible.
func judged(c *cases.Case, x []float64) []string {
	var d objectives.Design
	var s objectives.Score
	c.Design(&d, x)
	study := objectives.NewScorer(c.Conditions).Score(&s, &d)
	study.Complete(&s)
	return c.Violated(&s, d.Shock.Air != nil, study.Gaps())
}

// overlapping are the pairs of bodies that are in each other's place in most of some forks that work, and stand at one
// half width by default.
func overlapping(c *cases.Case, forks [][]float64) []string {
	var d objectives.Design
	var s objectives.Score
	sc := objectives.NewScorer(c.Conditions)
	in, looked := map[[2]int]int{}, 0
	for _, x := range forks {
		c.Design(&d, x)
		gaps := sc.Score(&s, &d).Gaps()
		if gaps == nil {
			continue
		}
		looked++
		seen := map[[2]int]bool{}
		for _, g := range gaps {
			if pair, ok := c.BodiesOf(g.Pair); ok && g.GapMM < 0 && !seen[pair] {
				seen[pair] = true
				in[pair]++
			}
		}
	}
	var all []string
	for a := range c.Mechanism.Bodies {
		for b := range c.Mechanism.Bodies[:a] {
			if pair := [2]int{b, a}; 2*in[pair] > looked && c.SameByDefault(b, a) {
				all = append(all, fmt.Sprintf("%s and %s, both %.4g mm beside the mid-plane by default, overlap in %d of %d forks tried",
					c.Mechanism.Bodies[b], c.Mechanism.Bodies[a], c.Across.HalfWidthMM[a], in[pair], looked))
			}
		}
	}
	return all
}

// Hopeless tells whether some constraint is met by none of the forks.
func (a *Attempt) Hopeless() bool { return a.Feasible == 0 && (!a.Works || len(a.Unmet) > 0) }

// Warn puts an attempt into words; it is empty where nothing speaks against a search.
func (a *Attempt) Warn() string {
	var text strings.Builder
	name := a.Case
	if a.Count > 1 {
		name = fmt.Sprintf("%s and the other seeds", name)
	}
	for _, pair := range a.Same {
		fmt.Fprintf(&text, "%s: %s; move one of them, such as with across: {half_width_mm: {BODY: 90}}\n", name, pair)
	}
	switch {
	case a.Feasible > 0:
	case !a.Hopeless():
		fmt.Fprintf(&text, "%s: none of %d forks tried is feasible, though each constraint is met by some; the nearest: %s\n", name, a.Tried, strings.Join(a.Nearest, "; "))
	case !a.Works:
		fmt.Fprintf(&text, "%s: none of %d forks tried moves through the whole travel with parts that can be built; the nearest:\n", name, a.Tried)
	default:
		fmt.Fprintf(&text, "%s: none of %d forks tried meets %s; the nearest:\n", name, a.Tried, strings.Join(a.Unmet, ", "))
	}
	if a.Hopeless() {
		for _, why := range a.Nearest {
			fmt.Fprintf(&text, "  %s\n", why)
		}
	}
	return text.String()
}
