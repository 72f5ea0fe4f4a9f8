package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"github.com/spf13/cobra"

	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/run"
	"forkfront/jobs/store"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/record"
)

func VerbResume(env *process.Env) *cobra.Command {
	var asBegun bool
	var w run.Work
	c := &cobra.Command{
		Use:   "resume DIR",
		Short: "Resume a stopped run; its front is the same as without the stop",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := check(&w); err != nil {
				return err
			}
			return resume(cmd.Context(), env, args[0], &w, asBegun)
		},
	}
	c.Flags().BoolVar(&asBegun, "as-begun", false, "resume with the job as it was when the run began, even if its file has changed")
	flags(&w, c, "as many as before")
	return c
}

func resume(ctx context.Context, env *process.Env, dir string, w *run.Work, asBegun bool) error {
	if err := process.CheckFolder(dir); err != nil {
		return err
	}
	folder, err := results.Reopen(dir)
	var locked *results.ErrLocked
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return process.BadInput(err)
	case errors.As(err, &locked):
		return store.Occupied(err)
	case err != nil: // a read-only disk is enough to see that there is nothing to do
		if record, _ := finished(dir); record != nil {
			return sayDone(env, dir, record)
		}
		return err
	}
	defer folder.Close()
	if record, err := finished(dir); err != nil {
		return err
	} else if record != nil {
		saved := store.Checkpoints{Dir: folder.Path(results.CheckpointDir)}
		if err := saved.Clear(); err != nil {
			fmt.Fprintln(env.Err, err)
		}
		return sayDone(env, dir, record)
	}
	b, job, err := loadBegun(folder)
	if err != nil {
		return err
	}
	if !asBegun {
		if err := unchanged(b, env); err != nil {
			return err
		}
	}
	if w.Workers == 0 {
		w.Workers = b.Workers
	}
	if err := job.CheckPrefer(w.Prefer); err != nil {
		return process.BadInput(fmt.Errorf("--prefer: %w", err))
	}
	r, err := run.Resume(env, job, b, folder, w)
	if err != nil {
		return err
	}
	return r.Close(r.All(ctx))
}

func sayDone(env *process.Env, dir string, record *record.Run) error {
	fmt.Fprintf(env.Out, "%s has finished: %s\n", dir, display.Printable(record.Exit.Summary))
	if record.Exit.Code == process.Nothing {
		return process.ErrNothing
	}
	return nil
}

// unchanged compares the job's file, if it still exists, with what the run began with.
func unchanged(b *store.Begun, env *process.Env) error {
	if b.Name == files.DemoName {
		return nil
	}
	job, _, err := files.Job(env, []string{b.Name})
	if err != nil {
		return nil // missing or invalid by now: the run continues with what it began with
	}
	now, err := store.Pack(job, b.Name, "", 0, time.Time{})
	if err != nil {
		return err
	}
	if now.Digest != b.Digest {
		return process.BadInput(fmt.Errorf("%s has changed since the run began; continue with the job as it was: resume --as-begun, or search the new one: run --replace", b.Name))
	}
	return nil
}
