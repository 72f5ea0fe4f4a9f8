package cli

import (
	"github.com/spf13/cobra"

	"forkfront/jobs/process"
	"forkfront/jobs/shards"
)

func VerbPlan(env *process.Env) *cobra.Command {
	var tasks, base int
	var out string
	c := &cobra.Command{
		Use:   "plan JOB --shards N --out PLAN",
		Short: "Split a job into shards for the tasks of an array engine",
		Args:  cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return shards.MakePlan(env, args, tasks, base, out)
		},
	}
	c.Flags().IntVar(&tasks, "shards", 0, "number of array tasks; at most one per case")
	c.Flags().IntVar(&base, "index-base", 0, "index of the first array task; LSF, Grid Engine and PBS count from 1 by default")
	c.Flags().StringVar(&out, "out", "", "file to write the plan to")
	return c
}
