package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"runtime"
	"time"

	"github.com/spf13/cobra"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/sensitivity"
	"forkfront/jobs/store"
	"forkfront/results"
	"forkfront/results/record"
)

// Bounds of --samples.
const (
	fewestSamples = 100
	mostSamples   = 1_000_000
)

func VerbSensitivity(env *process.Env) *cobra.Command {
	var out string
	var samples, workers int
	var slow bool
	c := &cobra.Command{
		Use:   "sensitivity [JOB] --out DIR",
		Short: "Sample the bounds of a job and tell which variables drive which measures",
		Long: "Samples the bounds of each case evenly and tells which variables drive which measures: Sobol's first-order and\n" +
			"total indices of each measure's rank, on the forks that work. The table sensitivity.parquet has them with their\n" +
			"standard errors, for all measures that do not take long to compute, or with --slow for those too; printed are the\n" +
			"largest total indices of the job's objectives. DIR may hold the results of the same job. Each case takes\n" +
			"(1 + variables / 4) evaluations per sample, and more where few forks work.",
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case out == "":
				return process.BadInput(errors.New("--out DIR is required: the folder for sensitivity.parquet"))
			case samples < fewestSamples || samples > mostSamples:
				return process.BadInput(fmt.Errorf("--samples %d; allowed are %d to %d", samples, fewestSamples, mostSamples))
			case workers < 0:
				return process.BadInput(fmt.Errorf("--workers %d; must be 0 or more", workers))
			}
			return analyse(cmd.Context(), env, args, out, samples, workers, slow)
		},
	}
	c.Flags().StringVar(&out, "out", "", "folder for sensitivity.parquet; created if it does not exist")
	c.Flags().IntVar(&samples, "samples", 4000, "designs that work, for each case; the indices scatter by about 1/sqrt(samples)")
	c.Flags().BoolVar(&slow, "slow", false, "also sample measures that take long, such as lateral stiffness and tolerances")
	c.Flags().IntVar(&workers, "workers", 0, "designs evaluated concurrently; 0: one per processor")
	return c
}

func analyse(ctx context.Context, env *process.Env, args []string, out string, samples, workers int, slow bool) error {
	job, text, err := files.Job(env, args)
	if err != nil {
		return err
	}
	if err := job.Fits(); err != nil {
		return err
	}
	begun, err := store.Pack(job, "", text, workers, time.Now())
	if err != nil {
		return err
	}
	name := record.NameOf(begun.Digest)
	folder, err := ofRun(out, name)
	if err != nil {
		return err
	}
	defer folder.Close()
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	began := time.Now()
	found, err := sensitivity.Analyse(ctx, cases.Cases(job), samples, workers, slow)
	if err != nil {
		return err
	}
	path := folder.Path(results.SensitivityFile)
	if err := sensitivity.Write(path, name, found); err != nil {
		return err
	}
	tried, works := 0, 0.0
	for _, of := range found {
		tried, works = tried+of.Evaluations, max(works, of.Works)
	}
	fmt.Fprintf(env.Err, "%d evaluations in %.3g s\n", tried, time.Since(began).Seconds())
	if works == 0 {
		return process.FoundNothing(errors.New("no design within the bounds works; `forkfront check` says what stops the nearest"))
	}
	fmt.Fprintf(env.Out, "%s: total indices of the variables that drive each objective most, with their standard errors\n", path)
	return sensitivity.Print(env.Out, found)
}

// ofRun is a folder that holds nothing, or the results of a run.
func ofRun(dir, run string) (*results.Folder, error) {
	done, err := record.Read(filepath.Join(dir, results.RunFile))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		folder, err := results.Reuse(dir, results.SensitivityFile)
		if err != nil {
			return nil, store.Occupied(err)
		}
		return folder, nil
	case err != nil:
		return nil, err
	case done.Name != run:
		return nil, process.BadInput(fmt.Errorf("%s holds the results of another job (run %s, not %s); choose another folder", dir, done.Name, run))
	}
	folder, err := results.Reopen(dir)
	if err != nil {
		return nil, store.Occupied(err)
	}
	return folder, nil
}
