package jobs

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"forkfront/jobs/cli"
	"forkfront/jobs/process"
	"forkfront/results/display"
)

// Main runs one command line and returns its exit code.
func Main(ctx context.Context, env process.Env) int {
	root := &cobra.Command{
		Use:           "forkfront",
		Short:         "Searches the design space of linkage suspension forks for Pareto fronts",
		Long:          "Searches the design space of linkage suspension forks and returns Pareto fronts.\n\n" + display.Caution,
		Version:       cli.Version(),
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	out := &process.Output{To: env.Out}
	env.Out = out
	root.SetArgs(env.Args)
	root.SetIn(env.In)
	root.SetOut(env.Out)
	root.SetErr(env.Err)
	started := false // what goes wrong before a verb runs is usage
	root.PersistentPreRun = func(*cobra.Command, []string) { started = true }
	root.AddCommand(cli.VerbRun(&env), cli.VerbResume(&env), cli.VerbPlan(&env), cli.VerbMerge(&env), cli.VerbScore(&env), cli.VerbNew(&env), cli.VerbTopologies(&env), cli.VerbCheck(&env), cli.VerbSchema(&env), cli.VerbExtract(&env), cli.VerbConcept(&env), cli.VerbTune(&env), cli.VerbReport(&env), cli.VerbSensitivity(&env), cli.VerbVersion(&env), cli.TopicMeasures())
	root.SetHelpCommand(cli.VerbHelp())
	root.SetVersionTemplate("{{.Version}}\n")
	err := out.Lost(root.ExecuteContext(ctx))
	if err == nil {
		return process.Done
	}
	fmt.Fprintln(env.Err, err)
	var e *process.Error
	switch {
	case errors.As(err, &e):
		return e.Code
	case !started:
		return process.Input
	}
	return process.Outside
}
