package cli

import (
	"errors"

	"github.com/spf13/cobra"

	"forkfront/jobs/process"
	"forkfront/jobs/shards"
)

func VerbMerge(env *process.Env) *cobra.Command {
	var planName, out string
	c := &cobra.Command{
		Use:   "merge --plan PLAN --out DIR",
		Short: "Merge the shards of a plan into one results folder",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if planName == "" || out == "" {
				return process.BadInput(errors.New("--plan PLAN and --out DIR are required: the plan, and the folder with its shards"))
			}
			return shards.Merge(cmd.Context(), env, planName, out)
		},
	}
	c.Flags().StringVar(&planName, "plan", "", "the plan that the shards were run with")
	c.Flags().StringVar(&out, "out", "", "folder with the shards; the results are written there too")
	return c
}
