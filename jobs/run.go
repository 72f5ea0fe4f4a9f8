package jobs

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"forkfront/results"
)

func verbRun(env *Env) *cobra.Command {
	var out, planName, shard string
	var replace bool
	var w work
	c := &cobra.Command{
		Use:   "run [JOB | --plan PLAN] --out DIR",
		Short: "Search and write the fronts; without JOB the built-in demo",
		Args:  cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if out == "" {
				return badInput(errors.New("--out DIR is needed: the folder that the results go to"))
			}
			if err := w.check(); err != nil {
				return err
			}
			switch {
			case planName != "" && len(args) > 0:
				return badInput(fmt.Errorf("--plan %s has its job in it; leave %s out", planName, args[0]))
			case planName != "":
				return runShard(cmd.Context(), env, planName, shard, out, &w)
			case shard != "":
				return badInput(errors.New("--shard goes with --plan PLAN"))
			}
			return run(cmd.Context(), env, args, out, &w, replace)
		},
	}
	c.Flags().StringVar(&out, "out", "", "folder for the results; created when it does not exist")
	c.Flags().StringVar(&planName, "plan", "", "run one shard of this plan")
	c.Flags().StringVar(&shard, "shard", "", "the shard, as i/N from 0; else the array engine says")
	w.flags(c, "one per processor")
	c.Flags().BoolVar(&replace, "replace", false, "replace the results that the folder holds, shards among them")
	return c
}

// work is how a run goes about it; none of it changes what is found.
type work struct {
	workers int
	every   time.Duration
}

func (w *work) flags(c *cobra.Command, zero string) {
	c.Flags().IntVar(&w.workers, "workers", 0, "candidates evaluated at once; 0: "+zero)
	c.Flags().DurationVar(&w.every, "checkpoint-every", between, "least time between two checkpoints of a case")
}

func (w *work) check() error {
	switch {
	case w.workers < 0:
		return badInput(fmt.Errorf("--workers %d; 0 or more is allowed", w.workers))
	case w.every < 0:
		return badInput(fmt.Errorf("--checkpoint-every %s; 0s (every generation) or more is allowed", w.every))
	}
	return nil
}

// between is the least time between two states of a case, unless told. At 0.1 s a state and a
// failure an hour the best is about sqrt(2 · 0.1 s · 1 h) (Young's rule, from memory); half of it
// loses little more.
const between = 15 * time.Second

// job reads the named job, or the demo, and the SHA-256 of its text.
func (env *Env) job(args []string) (*JobFile, string, error) {
	name, text := demoName, Demo()
	if len(args) > 0 {
		name = args[0]
		in, err := env.input(name)
		if err != nil {
			return nil, "", err
		}
		defer in.Close()
		if text, err = io.ReadAll(io.LimitReader(in, tooLong)); err != nil {
			return nil, "", fmt.Errorf("read %s: %w", name, err)
		}
	}
	j, _, err := ReadJob(name, bytes.NewReader(text), knownMeasure, measureNames())
	if err != nil {
		return nil, "", inputOr(err)
	}
	return j, fmt.Sprintf("%x", sha256.Sum256(text)), nil
}

// demoName stands for the built-in job in messages.
const demoName = "the built-in demo"

// tooLong is past the size that the decoder refuses.
const tooLong = MaxFileBytes + 1

func run(ctx context.Context, env *Env, args []string, out string, w *work, replace bool) error {
	job, text, err := env.job(args)
	if err != nil {
		return err
	}
	if err := job.fits(); err != nil {
		return err
	}
	name := demoName
	if len(args) > 0 && args[0] != "-" {
		if name, err = filepath.Abs(args[0]); err != nil {
			return fmt.Errorf("find %s: %w", args[0], err)
		}
	}
	b, err := pack(job, name, text, w.workers, time.Now())
	if err != nil {
		return err
	}
	job.tellStarts(env.Err)
	job.tellUnlimited(env.Err)
	folder, err := openUnsharded(out, replace)
	if err != nil {
		return err
	}
	defer folder.Close()
	r, err := newRunner(env, job, b, folder, w)
	if err != nil {
		return err
	}
	if err := r.begin(b); err != nil {
		return r.close(err)
	}
	return r.close(r.all(ctx))
}

// occupied is bad usage when the folder holds results or another run is at work in it.
func occupied(err error) error {
	var held *results.ErrOccupied
	var locked *results.ErrLocked
	if errors.As(err, &held) || errors.As(err, &locked) {
		return badInput(err)
	}
	return err
}
