package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/google/renameio/v2"
	"github.com/spf13/cobra"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/jobs/process"
	"forkfront/jobs/tuning"
	"forkfront/objectives"
)

// tuneOptions are the flags of tune.
type tuneOptions struct {
	job, out, weights string
	massKG            float64
}

// VerbTune proposes a spring and a damper setting for a concept.
func VerbTune(env *process.Env) *cobra.Command {
	var o tuneOptions
	c := &cobra.Command{
		Use:   "tune CONCEPT",
		Short: "Propose coil, preload and damper setting for a fork, by its quarter model and by its events",
		Long: "Proposes a coil on sale with its preload, and compression and rebound of a damper on sale, for the fork of a\n" +
			"concept file with a ride section: first what its quarter model asks for, then what makes a weighted mean of\n" +
			"quantities of its events least, each over that of the telescopic fork. Settings, events and the telescopic fork,\n" +
			"as it is and tuned in the same way, are printed side by side, with what tuning does not help. The sag stays,\n" +
			"unless no coil gives it with a preload that preload_range_mm allows. Takes 10 to 30 s.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return tune(cmd.Context(), env, args[0], &o) },
	}
	c.Flags().StringVar(&o.job, "job", "", "take coils, preload range and dampers from this job")
	c.Flags().Float64Var(&o.massKG, "mass-kg", 0, "rider and bike, instead of the concept's mass_kg")
	c.Flags().StringVar(&o.weights, "weights", "", "what to make small, instead of the usual, as EVENT.QUANTITY=WEIGHT,... (jobs/docs/tune.md)")
	c.Flags().StringVar(&o.out, "out", "", "also write the tuned concept to this file, which must not exist")
	return c
}

func tune(ctx context.Context, env *process.Env, name string, o *tuneOptions) error {
	aims := tuning.Usual
	if o.weights != "" {
		var err error
		if aims, err = tuning.ParseAims(o.weights); err != nil {
			return process.BadInput(fmt.Errorf("--weights: %w", err))
		}
	}
	if _, err := os.Lstat(o.out); o.out != "" && !errors.Is(err, fs.ErrNotExist) {
		return process.BadInput(fmt.Errorf("--out %s exists; choose another name", process.FileShown(o.out)))
	}
	file, design, err := toTune(env, name, o)
	if err != nil {
		return err
	}
	t, found, err := tuning.New(file, cases.Conditions(file), design, aims)
	if err != nil {
		return process.BadInput(fmt.Errorf("%s: %w", process.FileShown(name), err))
	}
	if err := t.Tune(ctx, found); err != nil {
		if ctx.Err() != nil {
			return err
		}
		return process.FoundNothing(fmt.Errorf("%s: %w", process.FileShown(name), err))
	}
	if o.out != "" {
		if err := writeTuned(env, name, o.out, found.After.Concept(file, design.Shock.StrokeMM)); err != nil {
			return err
		}
	}
	fmt.Fprintf(env.Out, "%s (%s), rider and bike %g kg\n\n", file.Concept, design.Mechanism.Name, file.Bike.MassKG)
	return found.Print(env.Out)
}

// toTune reads the fork to tune, with another rider and what a job has on sale.
func toTune(env *process.Env, name string, o *tuneOptions) (*files.ConceptFile, *objectives.Design, error) {
	file, design, err := cases.ReadFork(env, name)
	if err != nil {
		return nil, nil, err
	}
	if o.job != "" {
		job, _, err := files.Job(env, []string{o.job})
		if err != nil {
			return nil, nil, err
		}
		file.CoilRatesNPerMM, file.PreloadRangeMM, file.Dampers = job.CoilRatesNPerMM, job.PreloadRangeMM, job.Dampers
	}
	if o.massKG != 0 {
		file.Bike.MassKG = o.massKG
	}
	if o.job == "" && o.massKG == 0 {
		return file, design, nil
	}
	return checkConcept(env, filepath.Join(filepath.Dir(name), fmt.Sprintf("(%s with --mass-kg or --job)", filepath.Base(process.FileShown(name)))), file)
}

// checkConcept reads a concept that was changed as a file at a path: it must pass what every concept file is checked for.
func checkConcept(env *process.Env, label string, c *files.ConceptFile) (*files.ConceptFile, *objectives.Design, error) {
	text, err := document.Encode(c)
	if err != nil {
		return nil, nil, err
	}
	file, source, err := files.ReadConcept(label, bytes.NewReader(text))
	if err != nil {
		return nil, nil, document.InputOr(err)
	}
	design, err := cases.Design(file, source, env.Err)
	if err != nil {
		return nil, nil, document.InputOr(err)
	}
	return file, design, nil
}

// writeTuned writes a concept to a file. A mechanism's file, whose path starts in the folder of the concept that it came from, is
// named from that of the new one.
func writeTuned(env *process.Env, from, out string, c *files.ConceptFile) error {
	if strings.HasSuffix(c.Mechanism, ".yaml") && !filepath.IsAbs(c.Mechanism) {
		path, err := filepath.Abs(filepath.Join(filepath.Dir(from), c.Mechanism))
		if err != nil {
			return err
		}
		to, err := filepath.Abs(filepath.Dir(out))
		if err != nil {
			return err
		}
		if c.Mechanism, err = filepath.Rel(to, path); err != nil {
			return err
		}
	}
	text, err := conceptText(fmt.Sprintf("# %s as tuned by `forkfront tune`. `forkfront score` reads it.\n", inOneLine(process.FileShown(from))), c)
	if err != nil {
		return err
	}
	if _, _, err := checkConcept(env, out, c); err != nil {
		return err
	}
	return renameio.WriteFile(out, text, 0o644, renameio.WithTempDir(filepath.Dir(out)))
}
