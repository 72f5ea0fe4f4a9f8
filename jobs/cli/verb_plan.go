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
		Short: "Spread a job over the tasks of an array engine",
		Args:  cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return shards.MakePlan(env, args, tasks, base, out)
		},
	}
	c.Flags().IntVar(&tasks, "shards", 0, "tasks of the array; at most one a case")
	c.Flags().IntVar(&base, "index-base", 0, "index of the first task, as the engine counts: 1 for LSF, Grid Engine and PBS unless told otherwise")
	c.Flags().StringVar(&out, "out", "", "file to write the plan to")
	return c
}
