package jobs

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"
)

// Env is all that comes from outside, so that a test runs a whole command in process. Results go
// to Out, everything else to Err.
type Env struct {
	Args     []string
	In       io.Reader
	Out, Err io.Writer
	Getenv   func(string) string // nil: nothing is set
}

func (env *Env) getenv(name string) string {
	if env.Getenv == nil {
		return ""
	}
	return env.Getenv(name)
}

// Exit codes.
const (
	exitDone       = 0
	exitOutside    = 1  // disk, permission
	exitInput      = 2  // bad input or usage
	exitNothing    = 3  // finished, but nothing feasible was found
	exitUnfinished = 75 // can be continued
)

// exit is an error that knows its exit code.
type exit struct {
	code int
	err  error
}

func (e *exit) Error() string { return e.err.Error() }
func (e *exit) Unwrap() error { return e.err }

func badInput(err error) error { return &exit{exitInput, err} }

// inputOr is bad input when err is faults of a file, and something outside otherwise.
func inputOr(err error) error {
	var faults Faults
	if errors.As(err, &faults) {
		return badInput(err)
	}
	return err
}

// errNothing ends a command that finished but found nothing that works; its output says all.
var errNothing = &exit{exitNothing, errors.New("nothing feasible was found")}

// output remembers the first failure to write results, so that no verb has to ask after each line.
type output struct {
	to  io.Writer
	err error
}

func (o *output) Write(b []byte) (int, error) {
	n, err := o.to.Write(b)
	if o.err == nil {
		o.err = err
	}
	return n, err
}

// lost is how a command ended: one that came to its end but whose results were lost has failed.
func (o *output) lost(err error) error {
	var e *exit
	if o.err == nil || err != nil && (!errors.As(err, &e) || e.code != exitNothing) {
		return err
	}
	return &exit{exitOutside, fmt.Errorf("write the results to standard output: %w", o.err)}
}

// Main runs one command line and returns its exit code.
func Main(ctx context.Context, env Env) int {
	root := &cobra.Command{
		Use:           "forkfront",
		Short:         "Searches the design space of linkage suspension forks for Pareto fronts",
		Long:          "Searches the design space of linkage suspension forks and hands back Pareto fronts.\n\n" + caution,
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	out := &output{to: env.Out}
	env.Out = out
	root.SetArgs(env.Args)
	root.SetIn(env.In)
	root.SetOut(env.Out)
	root.SetErr(env.Err)
	started := false // what goes wrong before a verb runs is usage
	root.PersistentPreRun = func(*cobra.Command, []string) { started = true }
	root.AddCommand(verbRun(&env), verbResume(&env), verbPlan(&env), verbMerge(&env), verbScore(&env), verbCheck(&env), verbSchema(&env), verbExtract(&env), verbReport(&env), topicMeasures())
	err := out.lost(root.ExecuteContext(ctx))
	if err == nil {
		return exitDone
	}
	fmt.Fprintln(env.Err, err)
	var e *exit
	switch {
	case errors.As(err, &e):
		return e.code
	case !started:
		return exitInput
	}
	return exitOutside
}
