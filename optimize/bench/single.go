package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"time"

	"forkfront/optimize"
	"forkfront/optimize/testbed"
)

// singles measures the problems with one objective.
func (o *options) singles(out io.Writer) error {
	fmt.Fprintln(out, "| problem | evaluations | least known | median | quartiles | worst | seeds that reach it | µs per evaluation |")
	fmt.Fprintln(out, "| --- | --- | --- | --- | --- | --- | --- | --- |")
	for _, c := range testbed.Singles() {
		if !o.wanted(c.Name) {
			continue
		}
		c.Evaluations = int(float64(c.Evaluations) * o.budget)
		if err := o.singleRow(out, c); err != nil {
			return err
		}
	}
	return nil
}

// singleRow measures one of them and prints its row.
func (o *options) singleRow(out io.Writer, c testbed.Single) error {
	began := time.Now()
	best := make([]float64, o.seeds)
	reached := 0
	for i := range best {
		seed := o.first + i
		r, err := optimize.Search(context.Background(), c.Problem, optimize.Settings{
			Seed: uint64(seed), Evaluations: c.Evaluations, Workers: 1, GradientShare: o.gradients, Plain: o.plain,
		})
		if err != nil {
			return err
		}
		if len(r.Front) == 0 {
			return fmt.Errorf("%s, seed %d: nothing feasible", c.Name, seed)
		}
		best[i] = r.Front[0].F[0]
		if best[i] <= c.Best+c.Close {
			reached++
		}
		if err := o.save(c.Problem, seed, r.Front); err != nil {
			return err
		}
	}
	each := time.Since(began).Seconds() * 1e6 / float64(o.seeds*c.Evaluations)
	slices.Sort(best)
	fmt.Fprintf(out, "| %s | %d | %.6g | %.6g | %.6g–%.6g | %.6g | %d of %d | %.1f |\n", c.Name, c.Evaluations, c.Best,
		best[o.seeds/2], best[o.seeds/4], best[3*o.seeds/4], best[o.seeds-1], reached, o.seeds, each)
	return nil
}
