package main

import (
	"context"
	"fmt"
	"os"
	"slices"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/objectives"
	"forkfront/optimize"
)

// compared is what one kind of search found, by seed.
type compared struct {
	name      string
	fronts    [][][]float64
	simulated int
	took      time.Duration
	rank, rms []float64 // of what was predicted, by seed
}

// joint compares, for one case of a job with objectives about events, a search for all objectives with one for the others,
// whose front is simulated afterwards, by the volume that their fronts dominate together in all objectives.
func (o *options) joint(job *files.JobFile, k int) error {
	without := *job
	without.Objectives = slices.DeleteFunc(slices.Clone(job.Objectives), func(g files.JobObjective) bool {
		return objectives.At(objectives.Index(g.Measure)).OfEvent()
	})
	if len(without.Objectives) == len(job.Objectives) || len(without.Objectives) == 0 {
		return fmt.Errorf("-plain: %d of %d objectives are about events; at least one must be and one must not", len(job.Objectives)-len(without.Objectives), len(job.Objectives))
	}
	both := []*compared{{name: fmt.Sprintf("all objectives, %d", o.budgets[0])}, {name: fmt.Sprintf("simulated afterwards, %d", o.plain)}}
	var all [][]float64
	for i := range o.seeds {
		seeded := func(j *files.JobFile) *cases.Case {
			j.Seeds = []uint64{uint64(o.first + i)}
			return cases.Cases(j)[k]
		}
		c := seeded(job)
		for side, b := range both {
			searched, budget := c, o.budgets[0]
			if side == 1 {
				searched, budget = seeded(&without), o.plain
			}
			began := time.Now()
			r, err := optimize.Search(context.Background(), searched.Problem(), o.settings(job, searched, budget))
			if err != nil {
				return err
			}
			b.take(c, searched, r)
			b.took += time.Since(began)
			all = append(all, b.fronts[i]...)
			if o.verbose {
				fmt.Fprintf(os.Stderr, "%s, %s, seed %d: %d candidates\n", c.Mechanism.Name, b.name, o.first+i, len(b.fronts[i]))
			}
		}
	}
	if len(all) == 0 {
		return fmt.Errorf("%s: no search found a candidate; give -evaluations and -plain more", cases.Cases(job)[k].Name)
	}
	scale := newScorer(&reference{points: all})
	for _, b := range both {
		b.print(scale, cases.Cases(job)[k].Mechanism.Name)
	}
	return nil
}

// take adds a front, in the objectives of a case, of which another was searched.
func (b *compared) take(c, searched *cases.Case, r *optimize.Result) {
	var front [][]float64
	b.simulated += r.Measured
	for i := range r.Agreements {
		b.rank, b.rms = append(b.rank, r.Agreements[i].RankCorrelation), append(b.rms, r.Agreements[i].RMSError)
	}
	p := c.Problem()
	for i := range r.Front {
		own := &r.Front[i].Outcome
		if searched != c {
			own = &optimize.Outcome{F: make([]float64, len(c.Goals)), G: make([]float64, 1+len(c.Limits))}
			p.Evaluate(own, r.Front[i].X)
			b.simulated++
		}
		if own.Feasible() {
			front = append(front, own.F)
		}
	}
	b.fronts = append(b.fronts, front)
}

func (b *compared) print(scale *scorer, mechanism string) {
	n := len(b.fronts)
	shares := make([]float64, n)
	for i, front := range b.fronts {
		c := scale.none()
		for _, f := range front {
			scale.add(c, f)
		}
		shares[i] = scale.share(c)
	}
	told := "–"
	if len(b.rank) > 0 {
		rank, _, _, _ := spread(b.rank)
		rms, _, _, _ := spread(b.rms)
		told = fmt.Sprintf("%.3f, %.2g", rank, rms)
	}
	median, _, _, least := spread(shares)
	fmt.Printf("| %s | %s | %.3f | %.3f–%.3f | %d | %s | %.0f |\n", mechanism, b.name, median, least, slices.Max(shares), b.simulated/n, told, b.took.Seconds()/float64(n))
}
