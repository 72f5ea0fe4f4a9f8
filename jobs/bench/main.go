// Command bench measures the search on the forks of a job, by default that of the reference fronts, and prints a table as
// Markdown: which share of a reference front's volume one run reaches, and what one seed adds to another.
package main

import (
	"flag"
	"fmt"
	"os"
	"strconv"
	"strings"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
)

// options are what the command line may set.
type options struct {
	seeds, first int
	only         string
	budgets      []int
	references   string
	write        bool
	gradients    float64
	front, size  int
	plain        int
	verbose      bool
	settled      bool
	race         bool
	even         int
	recorded     string
}

func (o *options) parse() error {
	var budgets string
	flag.IntVar(&o.seeds, "seeds", 11, "seeds per case and budget")
	flag.IntVar(&o.first, "first", 11, "the first of the seeds")
	flag.StringVar(&o.only, "only", "", "cases whose name contains this")
	flag.StringVar(&budgets, "evaluations", "24000,60000", "budgets, separated by commas")
	flag.StringVar(&o.references, "references", "jobs/bench/references", "folder of the reference fronts")
	flag.BoolVar(&o.write, "write", false, "merge what is found into the reference fronts instead of measuring")
	flag.Float64Var(&o.gradients, "gradients", -1, "share of the evaluations for the gradient stage; below 0: that of the job")
	flag.IntVar(&o.front, "front", 500, "candidates reported")
	flag.IntVar(&o.size, "population", 0, "size of the population; 0: chosen")
	flag.IntVar(&o.plain, "plain", 0, "evaluations of a plain search, without the objectives on events, whose front is simulated afterwards, to compare with the search for all objectives; 0: no comparison")
	flag.BoolVar(&o.settled, "converged", false, "compare what searches tell of their convergence with what more of them find; no reference front is needed")
	flag.BoolVar(&o.race, "race", false, "compare the race of a job, which must have one, with an even split of its evaluations, for seeds from -first")
	flag.IntVar(&o.even, "even", 1, "evaluations of that even split, in those of the race")
	flag.StringVar(&o.recorded, "record", "", "file to write the fronts of all cases after each round of the job's race to")
	flag.BoolVar(&o.verbose, "v", false, "print the share of every seed")
	flag.Parse()
	if o.seeds < 1 || o.first < 0 || o.even < 1 || flag.NArg() > 1 {
		return fmt.Errorf("%d seeds from %d, %d times the evaluations, arguments %q; at least one seed, none below 0, once at least, at most one job", o.seeds, o.first, o.even, flag.Args())
	}
	for _, text := range strings.Split(budgets, ",") {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			return fmt.Errorf("-evaluations %s: %q; allowed are whole numbers from 1, separated by commas", budgets, text)
		}
		o.budgets = append(o.budgets, n)
	}
	return nil
}

func main() {
	var o options
	if err := o.parse(); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(2)
	}
	if err := o.run(); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

// run measures the cases one after the other.
func (o *options) run() error {
	args := flag.Args()
	if len(args) == 0 {
		args = []string{"jobs/bench/six.yaml"}
	}
	job, _, err := files.Job(&process.Env{In: os.Stdin}, args)
	if err != nil {
		return err
	}
	switch {
	case (o.race || o.recorded != "") && job.Race == nil:
		return fmt.Errorf("-race and -record: %s has no race section", args[0])
	case o.recorded != "":
		job.Seeds = []uint64{uint64(o.first)}
		return o.record(job, o.recorded)
	case o.race:
		fmt.Println("| seed | cases | evaluations | race, joint hypervolume | even split | race against it | in the range of a race | cases with a front | in the even split | race, s | even split, s |")
		fmt.Println("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |")
		for i := range o.seeds {
			if err := o.raceRow(job, uint64(o.first+i)); err != nil {
				return err
			}
		}
		return nil
	}
	if o.plain > 0 {
		fmt.Println("| case | search, evaluations | joint hypervolume, median | all seeds | simulated | rank correlation and RMS error of predictions | s |")
		fmt.Println("| --- | --- | --- | --- | --- | --- | --- |")
	} else if o.settled {
		fmt.Println("| case | evaluations | seed | share of all fronts together | last fifth added, % | another seed adds, % | twice the evaluations bring, % |")
		fmt.Println("| --- | --- | --- | --- | --- | --- | --- |")
	} else if !o.write {
		fmt.Println("| case | evaluations | median | quartiles | worst | all feasible candidates, median | one seed adds to another | feasible | µs per evaluation |")
		fmt.Println("| --- | --- | --- | --- | --- | --- | --- | --- | --- |")
	}
	job.Seeds = job.Seeds[:1]
	for k, c := range cases.Cases(job) {
		if !strings.Contains(c.Name, o.only) {
			continue
		}
		if o.plain > 0 {
			if err := o.joint(job, k); err != nil {
				return err
			}
			continue
		}
		of := func(seed int) *cases.Case {
			job.Seeds[0] = uint64(seed)
			return cases.Cases(job)[k]
		}
		if o.settled {
			if err := o.converged(job, of); err != nil {
				return err
			}
			continue
		}
		ref, err := read(o.path(c), c)
		switch {
		case err == nil:
		case o.write && os.IsNotExist(err):
			ref = &reference{objectives: names(c)}
		default:
			return err
		}
		if err := o.one(job, of, ref); err != nil {
			return err
		}
	}
	return nil
}
