// Command bench measures the search on published problems and prints a table as Markdown:
// the share of the true front's volume, over some seeds, and the time an evaluation took.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"forkfront/optimize"
	"forkfront/optimize/testbed"
)

func main() {
	seeds := flag.Int("seeds", 11, "seeds per problem, from 1")
	only := flag.String("only", "", "problems whose name contains this")
	share := flag.Float64("gradients", 0, "share of the evaluations for the gradient stage")
	budget := flag.Float64("budget", 1, "factor on the evaluations")
	flag.Parse()
	if *seeds < 1 {
		fmt.Fprintln(os.Stderr, "bench: -seeds must be at least 1")
		os.Exit(2)
	}
	fmt.Println("| problem | objectives | evaluations | median | quartiles | worst | µs an evaluation |")
	fmt.Println("| --- | --- | --- | --- | --- | --- | --- |")
	for _, c := range testbed.All() {
		if !strings.Contains(c.Name, *only) {
			continue
		}
		c.Evaluations = int(float64(c.Evaluations) * *budget)
		if err := row(c, *seeds, *share); err != nil {
			fmt.Fprintln(os.Stderr, "bench:", err)
			os.Exit(1)
		}
	}
}

// row measures one problem and prints its line.
func row(c testbed.Case, seeds int, gradients float64) error {
	began := time.Now()
	shares := make([]float64, seeds)
	for i := range shares {
		r, err := optimize.Search(context.Background(), c.Problem, optimize.Settings{
			Seed: uint64(i + 1), Evaluations: c.Evaluations, FrontSize: c.Points, Workers: 1, GradientShare: gradients,
		})
		if err != nil {
			return err
		}
		shares[i] = c.Share(r.Front)
	}
	each := time.Since(began).Seconds() * 1e6 / float64(seeds*c.Evaluations)
	slices.Sort(shares)
	fmt.Printf("| %s | %d | %d | %.4f | %.4f–%.4f | %.4f | %.1f |\n", c.Name, c.M, c.Evaluations,
		shares[seeds/2], shares[seeds/4], shares[3*seeds/4], shares[0], each)
	return nil
}
