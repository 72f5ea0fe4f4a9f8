package cli

import (
	"fmt"
	"runtime"

	"github.com/spf13/cobra"

	"forkfront/jobs/process"
	"forkfront/optimize/arithmetic"
	"forkfront/results/build"
)

// Version is the program's version in one line, with what tells whether runs can be continued and joined.
func Version() string {
	b := build.This()
	revision := ""
	if b.Revision != "" {
		revision = " (" + b.Revision + ")"
	}
	return fmt.Sprintf("forkfront %s%s, %s, %s/%s, arithmetic %s", b.Version, revision, runtime.Version(), runtime.GOOS, runtime.GOARCH, arithmetic.Kind())
}

// VerbVersion prints it.
func VerbVersion(env *process.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version and the build",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintln(env.Out, Version())
			return err
		},
	}
}
