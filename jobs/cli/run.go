package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/run"
	"forkfront/jobs/shards"
	"forkfront/jobs/store"
)

func VerbRun(env *process.Env) *cobra.Command {
	var out, planName, shard string
	var replace bool
	var w run.Work
	c := &cobra.Command{
		Use:   "run [JOB | --plan PLAN] --out DIR",
		Short: "Search and write the fronts; without JOB, search the built-in demo",
		Args:  cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if out == "" {
				return process.BadInput(errors.New("--out DIR is required: the folder for the results"))
			}
			if err := check(&w); err != nil {
				return err
			}
			switch {
			case planName != "" && len(args) > 0:
				return process.BadInput(fmt.Errorf("--plan %s contains its own job; omit %s", planName, args[0]))
			case planName != "" && w.Prefer != nil:
				return process.BadInput(errors.New("--prefer ranks merged results: give the job the key prefer, or use report --prefer after merge"))
			case planName != "":
				return shards.RunShard(cmd.Context(), env, planName, shard, out, &w)
			case shard != "":
				return process.BadInput(errors.New("--shard requires --plan PLAN"))
			}
			return runJob(cmd.Context(), env, args, out, &w, replace)
		},
	}
	c.Flags().StringVar(&out, "out", "", "folder for the results; created if it does not exist")
	c.Flags().StringVar(&planName, "plan", "", "run one shard of this plan")
	c.Flags().StringVar(&shard, "shard", "", "the shard as i/N, counting from 0; by default that of the array task")
	flags(&w, c, "one per processor")
	c.Flags().BoolVar(&replace, "replace", false, "replace the results in the folder, including shards")
	return c
}

func runJob(ctx context.Context, env *process.Env, args []string, out string, w *run.Work, replace bool) error {
	job, text, err := files.Job(env, args)
	if err != nil {
		return err
	}
	if err := job.Fits(); err != nil {
		return err
	}
	name := files.DemoName
	if len(args) > 0 && args[0] != "-" {
		if name, err = filepath.Abs(args[0]); err != nil {
			return fmt.Errorf("find %s: %w", args[0], err)
		}
	}
	if err := job.CheckPrefer(w.Prefer); err != nil {
		return process.BadInput(fmt.Errorf("--prefer: %w", err))
	}
	b, err := store.Pack(job, name, text, w.Workers, time.Now())
	if err != nil {
		return err
	}
	tellStarts(job, env.Err)
	tellUnlimited(job, env.Err)
	folder, err := shards.OpenUnsharded(out, replace)
	if err != nil {
		return err
	}
	defer folder.Close()
	r, err := run.Begin(env, job, b, folder, w)
	if err != nil {
		return err
	}
	return r.Close(r.All(ctx))
}
