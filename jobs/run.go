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
	var out string
	var workers int
	var replace bool
	c := &cobra.Command{
		Use:   "run [JOB] --out DIR",
		Short: "Search and write the fronts; without JOB the built-in demo",
		Args:  cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if out == "" {
				return badInput(errors.New("--out DIR is needed: the folder that the results go to"))
			}
			if workers < 0 {
				return badInput(fmt.Errorf("--workers %d; 0 (one per processor) or more is allowed", workers))
			}
			return run(cmd.Context(), env, args, out, workers, replace)
		},
	}
	c.Flags().StringVar(&out, "out", "", "folder for the results; created when it does not exist")
	c.Flags().IntVar(&workers, "workers", 0, "candidates evaluated at once; 0: one per processor")
	c.Flags().BoolVar(&replace, "replace", false, "replace the results that the folder holds")
	return c
}

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

func run(ctx context.Context, env *Env, args []string, out string, workers int, replace bool) error {
	job, text, err := env.job(args)
	if err != nil {
		return err
	}
	name := demoName
	if len(args) > 0 && args[0] != "-" {
		if name, err = filepath.Abs(args[0]); err != nil {
			return fmt.Errorf("find %s: %w", args[0], err)
		}
	}
	b, err := pack(job, name, text, workers, time.Now())
	if err != nil {
		return err
	}
	folder, err := results.Open(out, replace)
	if err != nil {
		return occupied(err)
	}
	defer folder.Close()
	r, err := newRunner(env, job, b, folder, workers)
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
