package main

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strconv"
	"time"

	"golang.org/x/sync/errgroup"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/race"
	"forkfront/jobs/run"
	"forkfront/jobs/store"
	"forkfront/optimize"
	"forkfront/optimize/dominance"
)

// staged is a case that is searched in stages.
type staged struct {
	c     *cases.Case
	state []byte
	r     *optimize.Result
}

// goOn continues the searches of some cases side by side, each up to a number of evaluations. Where these are all that it gets, it starts afresh.
func (o *options) goOn(job *files.JobFile, some []*staged, until int, all bool) error {
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for _, x := range some {
		group.Go(func() (err error) {
			s := o.settings(job, x.c, until)
			if !all {
				s.Evaluations, s.Until, s.Resume = optimize.Unlimited, until, x.state
				s.CheckpointEvery = time.Hour // only at the end
				s.Checkpoint = func(state []byte) error { x.state = state; return nil }
			}
			x.r, err = optimize.Search(context.Background(), x.c.Problem(), s)
			return err
		})
	}
	return group.Wait()
}

func stagedCases(job *files.JobFile) (all []*staged) {
	for _, c := range cases.Cases(job) {
		all = append(all, &staged{c: c})
	}
	return all
}

// frontsOf are the fronts of some cases, and how many have one.
func frontsOf(all []*staged) (fronts [][][]float64, feasible int) {
	for _, x := range all {
		came := run.CameTo(x.c, &store.DoneCase{Result: *x.r})
		fronts = append(fronts, came.Front)
		if len(came.Front) > 0 {
			feasible++
		}
	}
	return fronts, feasible
}

// raceRow compares the race of a job with an even split of its evaluations, or of several times as many, by the volume that the fronts of all its cases
// dominate together: beyond the range of the joint front of both, and in the range in which a race compares, without the worst few.
func (o *options) raceRow(job *files.JobFile, seed uint64) error {
	job.Seeds = []uint64{seed}
	schedule := job.Rounds()
	all := stagedCases(job)
	left := all
	course := race.NewCourse(schedule, seed)
	began := time.Now()
	for _, h := range schedule {
		if err := o.goOn(job, left, h.Until, false); err != nil {
			return err
		}
		var came []race.Came
		for _, x := range left {
			came = append(came, run.CameTo(x.c, &store.DoneCase{Result: *x.r}))
		}
		on := map[string]bool{}
		for _, name := range course.Finish(came) {
			on[name] = true
		}
		var next []*staged
		for _, x := range left {
			if on[x.c.Name] {
				next = append(next, x)
			}
		}
		left = next
	}
	took := time.Since(began)
	raced, found := frontsOf(all)
	even := stagedCases(job)
	if err := o.goOn(job, even, o.even*race.Evaluations(schedule)/len(even), true); err != nil {
		return err
	}
	split, foundEven := frontsOf(even)
	a, b := jointOf(raced, split), jointOf(split, raced)
	within := 0.
	if box := race.NewBox(slices.Concat(raced, split), seed); box != nil {
		within = float64(box.Covered(slices.Concat(raced...)).Count())/float64(box.Covered(slices.Concat(split...)).Count()) - 1
	}
	fmt.Printf("| %d | %d | %d | %.3f | %.3f | %+.1f %% | %+.1f %% | %d | %d | %.0f | %.0f |\n", seed, len(all), race.Evaluations(schedule), a, b, 100*(a/b-1), 100*within, found, foundEven, took.Seconds(), time.Since(began).Seconds()-took.Seconds())
	return nil
}

// jointOf is which part the first of two sets of fronts has of the volume that both dominate, with objectives divided by the range of those
// points that none of them dominates.
func jointOf(fronts, others [][][]float64) float64 {
	var all [][]float64
	for _, set := range [][][][]float64{fronts, others} {
		for _, front := range set {
			all = append(all, front...)
		}
	}
	scale := newScorer(&reference{points: unique(dominance.Nondominated(all))})
	c := scale.none()
	for _, front := range fronts {
		for _, f := range front {
			scale.add(c, f)
		}
	}
	return scale.share(c)
}

// record writes the fronts that every case has after each of some stages, and after an even split of what a race with these stages
// spends: a line per point, with case, evaluations, 1 in the even split, and objectives; a case without a front has
// one line, with its least violation. The races that a test simulates with it need no search.
func (o *options) record(job *files.JobFile, path string) error {
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	defer file.Close()
	w := bufio.NewWriter(file)
	all := stagedCases(job)
	write := func(some []*staged, until, split int) {
		for i, x := range some {
			came := run.CameTo(x.c, &store.DoneCase{Result: *x.r})
			if len(came.Front) == 0 {
				fmt.Fprintf(w, "%d,%d,%d,violation,%s\n", i, until, split, strconv.FormatFloat(came.Violation, 'g', 5, 64))
			}
			for _, p := range came.Front {
				fmt.Fprintf(w, "%d,%d,%d", i, until, split)
				for _, v := range p {
					fmt.Fprintf(w, ",%s", strconv.FormatFloat(v, 'g', 4, 64))
				}
				fmt.Fprintln(w)
			}
		}
	}
	schedule := job.Rounds()
	fmt.Fprintf(w, "# %s: seed %d, %d cases, %d evaluations in %d rounds\n", job.Job, job.FirstSeed(), len(all), race.Evaluations(schedule), len(schedule))
	for _, h := range schedule {
		if err := o.goOn(job, all, h.Until, false); err != nil {
			return err
		}
		write(all, h.Until, 0)
	}
	even := stagedCases(job)
	each := race.Evaluations(schedule) / len(even)
	if err := o.goOn(job, even, each, true); err != nil {
		return err
	}
	write(even, each, 1)
	return w.Flush()
}
