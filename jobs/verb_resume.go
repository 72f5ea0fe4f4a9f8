package jobs

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/record"
)

func verbResume(env *Env) *cobra.Command {
	var asBegun bool
	var w work
	c := &cobra.Command{
		Use:   "resume DIR",
		Short: "Go on with a run that was stopped, to the same front as if it never was",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(); err != nil {
				return err
			}
			return resume(cmd.Context(), env, args[0], &w, asBegun)
		},
	}
	c.Flags().BoolVar(&asBegun, "as-begun", false, "go on even if the job's file has changed, with the job as it was")
	w.flags(c, "as many as before")
	return c
}

func resume(ctx context.Context, env *Env, dir string, w *work, asBegun bool) error {
	folder, err := results.Reopen(dir)
	var locked *results.ErrLocked
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return badInput(err)
	case errors.As(err, &locked):
		return occupied(err)
	case err != nil: // a disk that is read alone is enough to see that there is nothing to do
		if run := finished(dir); run != nil {
			return sayDone(env, dir, run)
		}
		return err
	}
	defer folder.Close()
	if run := finished(dir); run != nil {
		saved := checkpoints{dir: folder.Path(results.CheckpointDir)}
		if err := saved.clear(); err != nil {
			fmt.Fprintln(env.Err, err)
		}
		return sayDone(env, dir, run)
	}
	b, job, err := loadBegun(folder)
	if err != nil {
		return err
	}
	if !asBegun {
		if err := b.unchanged(env); err != nil {
			return err
		}
	}
	if w.workers == 0 {
		w.workers = b.Workers
	}
	r, err := newRunner(env, job, b, folder, w)
	if err != nil {
		return err
	}
	r.log.start(&r.record, "run resumed")
	return r.close(r.all(ctx))
}

// finished is the record of a run that is done; nil where there is something to go on with.
func finished(dir string) *record.Run {
	run, err := record.Read(filepath.Join(dir, results.RunFile))
	saved := checkpoints{dir: filepath.Join(dir, results.CheckpointDir)}
	if err != nil || run.Finished.IsZero() || saved.open() {
		return nil
	}
	return run
}

func sayDone(env *Env, dir string, run *record.Run) error {
	fmt.Fprintf(env.Out, "%s is done: %s\n", dir, display.Printable(run.Exit.Summary))
	if run.Exit.Code == exitNothing {
		return errNothing
	}
	return nil
}

// loadBegun reads the job as the run began with it.
func loadBegun(folder *results.Folder) (*begun, *JobFile, error) {
	b := new(begun)
	saved := checkpoints{dir: folder.Path(results.CheckpointDir)}
	if err := unseal(saved.jobPath(), b); err != nil {
		return nil, nil, badInput(fmt.Errorf("%s cannot be resumed: %w; start anew with run --replace", folder.Dir, err))
	}
	job, err := b.unpack()
	if err != nil {
		return nil, nil, badInput(fmt.Errorf("%s cannot be resumed: %w", folder.Dir, err))
	}
	if again, err := pack(job, "", "", 0, time.Time{}); err != nil || again.Digest != b.Digest {
		return nil, nil, badInput(fmt.Errorf("%s cannot be resumed: its job is not the one that it began with; start anew with run --replace", folder.Dir))
	}
	return b, job, nil
}

// unchanged compares the job's file, where it is still there, with what the run began with.
func (b *begun) unchanged(env *Env) error {
	if b.Name == demoName {
		return nil
	}
	job, _, err := env.job([]string{b.Name})
	if err != nil {
		return nil // gone or broken since: the run goes on with what it began with
	}
	now, err := pack(job, b.Name, "", 0, time.Time{})
	if err != nil {
		return err
	}
	if now.Digest != b.Digest {
		return badInput(fmt.Errorf("%s has changed since the run began; go on with the job as it was: resume --as-begun, or search the new one: run --replace", b.Name))
	}
	return nil
}
