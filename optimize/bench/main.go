// Command bench measures the search on published problems and prints a table as Markdown:
// the share of the true front's volume, over some seeds, and the time an evaluation took.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"forkfront/optimize"
	"forkfront/optimize/testbed"
)

// options are what the command line may set.
type options struct {
	seeds, first int
	only, csv    string
	gradients    float64
	budget       float64
	plain        bool
	further      bool
	single       bool
	verbose      bool
}

func (o *options) parse() error {
	flag.IntVar(&o.seeds, "seeds", 11, "seeds per problem")
	flag.IntVar(&o.first, "first", 1, "the first of the seeds")
	flag.StringVar(&o.only, "only", "", "problems whose name contains this, or one of these, separated by commas")
	flag.StringVar(&o.csv, "csv", "", "folder for the final sets, one file a problem and seed")
	flag.Float64Var(&o.gradients, "gradients", 0, "share of the evaluations for the gradient stage")
	flag.Float64Var(&o.budget, "budget", 1, "factor on the evaluations")
	flag.BoolVar(&o.plain, "plain", false, "the baseline: reference directions and binary crossover only")
	flag.BoolVar(&o.further, "further", false, "the problems that the search was not set on instead of those of the table")
	flag.BoolVar(&o.single, "one", false, "the problems with one objective: the least value found")
	flag.BoolVar(&o.verbose, "v", false, "print the share of every seed")
	flag.Parse()
	if o.seeds < 1 || o.first < 0 || flag.NArg() > 0 {
		return fmt.Errorf("%d seeds from %d, arguments %q; at least one seed, none below 0, no arguments", o.seeds, o.first, flag.Args())
	}
	return nil
}

func main() {
	var o options
	if err := o.parse(); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(2)
	}
	if err := o.table(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

// wanted tells whether the command line asks for a problem.
func (o *options) wanted(name string) bool {
	return slices.ContainsFunc(strings.Split(o.only, ","), func(part string) bool { return strings.Contains(name, part) })
}

// table measures the problems one after the other.
func (o *options) table(out io.Writer) error {
	fmt.Fprintf(out, "%s, commit %s, seeds %d–%d.\n\n", time.Now().Format(time.DateOnly), commit(), o.first, o.first+o.seeds-1)
	if o.single {
		return o.singles(out)
	}
	fmt.Fprintln(out, "| problem | objectives | evaluations | median | quartiles | worst | µs an evaluation |")
	fmt.Fprintln(out, "| --- | --- | --- | --- | --- | --- | --- |")
	cases := testbed.All
	if o.further {
		cases = testbed.Further
	}
	for _, c := range cases() {
		if !o.wanted(c.Name) {
			continue
		}
		c.Evaluations = int(float64(c.Evaluations) * o.budget)
		if err := o.row(out, c); err != nil {
			return err
		}
	}
	return nil
}

// row measures one problem and prints its line.
func (o *options) row(out io.Writer, c testbed.Case) error {
	began := time.Now()
	shares := make([]float64, o.seeds)
	for i := range shares {
		seed := o.first + i
		r, err := optimize.Search(context.Background(), c.Problem, optimize.Settings{
			Seed: uint64(seed), Evaluations: c.Evaluations, FrontSize: c.Points, Workers: 1,
			GradientShare: o.gradients, Plain: o.plain,
		})
		if err != nil {
			return err
		}
		shares[i] = c.Share(r.Front)
		if err := o.save(c.Problem, seed, r.Front); err != nil {
			return err
		}
	}
	each := time.Since(began).Seconds() * 1e6 / float64(o.seeds*c.Evaluations)
	if o.verbose {
		fmt.Fprintf(os.Stderr, "%.4f\n", shares)
	}
	slices.Sort(shares)
	fmt.Fprintf(out, "| %s | %d | %d | %.4f | %.4f–%.4f | %.4f | %.1f |\n", c.Name, c.M, c.Evaluations,
		shares[o.seeds/2], shares[o.seeds/4], shares[3*o.seeds/4], shares[0], each)
	return nil
}
