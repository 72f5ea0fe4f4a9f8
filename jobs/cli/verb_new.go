package cli

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"forkfront/jobs/draft"
	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/jobs/process"
)

// VerbNew writes a job from a few numbers about a bike.
func VerbNew(env *process.Env) *cobra.Command {
	b := draft.Assumed
	var wheel string
	c := &cobra.Command{
		Use:   "new MECHANISM... --wheel SIZE --travel MM --head-angle DEG --axle-to-crown MM",
		Short: "Write a job file for built-in mechanisms from a few numbers about a bike",
		Long: "Prints a job file with comments that searches built-in mechanisms for a bike, each by itself. What is not given is assumed\n" +
			"and marked in the file. The bounds of the pivots are placed around wheel, crown and frame, so that they contain\n" +
			"feasible forks; `forkfront check` tries the job.\n\n" +
			"MECHANISM is one of:\n  " + strings.Join(draft.Mechanisms(), "\n  "),
		Example: "  " + newExample,
		Args:    cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := required(cmd); err != nil {
				return process.BadInput(err)
			}
			for _, name := range args {
				if !slices.Contains(draft.Mechanisms(), name) {
					return process.BadInput(fmt.Errorf("%q is not a built-in mechanism; allowed are %s; for one of your own see jobs/docs/own-mechanism.md",
						name, strings.Join(draft.Mechanisms(), ", ")))
				}
			}
			var err error
			if b.Wheel, err = draft.ParseWheel(wheel); err != nil {
				return process.BadInput(fmt.Errorf("--wheel %w", err))
			}
			if err := b.Check(); err != nil {
				return process.BadInput(err)
			}
			if err := draft.Together(args, &b); err != nil {
				return process.BadInput(err)
			}
			return writeNew(env, cmd, args, &b)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&wheel, "wheel", "", "front tyre by ISO 5775, width-bead seat diameter (61-406), or outside diameter of the wheel in mm")
	f.Float64Var(&b.TravelMM, "travel", 0, "travel of the axle along the steering axis, mm")
	f.Float64Var(&b.HeadAngleDeg, "head-angle", 0, "angle between the steering axis and the ground, degrees")
	f.Float64Var(&b.AxleToCrownMM, "axle-to-crown", 0, "from the crown race to the front axle along the steering axis, at top-out, mm")
	f.Float64Var(&b.OffsetMM, "offset", b.OffsetMM, "of the front axle ahead of the steering axis, mm")
	f.Float64Var(&b.MassKG, "mass", b.MassKG, "of rider, bike and load, kg")
	f.Float64Var(&b.WheelbaseMM, "wheelbase", b.WheelbaseMM, "from axle to axle, mm")
	f.Float64Var(&b.HubWidthMM, "hub-width", b.HubWidthMM, "between the faces of the front hub that legs are clamped to, mm")
	f.Float64Var(&b.LockDeg, "lock", b.LockDeg, "steering angle to either side, degrees")
	return c
}

const newExample = "forkfront new girder --wheel 61-406 --travel 80 --head-angle 71 --axle-to-crown 395 > job.yaml"

// required reports the numbers that nothing can be assumed about, and are missing.
func required(cmd *cobra.Command) error {
	var missing []string
	for _, name := range []string{"wheel", "travel", "head-angle", "axle-to-crown"} {
		if !cmd.Flags().Changed(name) {
			missing = append(missing, "--"+name)
		}
	}
	if missing == nil {
		return nil
	}
	return errors.New("missing: " + strings.Join(missing, ", ") + "; such as " + newExample)
}

// writeNew prints the job. It must pass what every job file is checked for.
func writeNew(env *process.Env, cmd *cobra.Command, mechanisms []string, b *draft.Bike) error {
	command := "forkfront new " + strings.Join(mechanisms, " ")
	cmd.Flags().Visit(func(f *pflag.Flag) { command += fmt.Sprintf(" --%s %s", f.Name, f.Value) })
	text, err := draft.Job(mechanisms, b, command, cmd.Flags().Changed)
	if err != nil {
		return err
	}
	if _, _, err := files.ReadJob("(new job)", bytes.NewReader(text)); err != nil {
		return document.InputOr(err)
	}
	_, err = env.Out.Write(text)
	return err
}
