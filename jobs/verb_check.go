package jobs

import (
	"fmt"

	"github.com/spf13/cobra"
)

func verbCheck(env *Env) *cobra.Command {
	return &cobra.Command{
		Use:   "check JOB",
		Short: "Name every error of a job, or say what it would search",
		Args:  cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			job, _, err := env.job(args)
			if err != nil {
				return err
			}
			return job.describe(env)
		},
	}
}

// describe says how many searches a job comes to, and how each mechanism is solved.
func (j *JobFile) describe(env *Env) error {
	cases := j.Cases()
	fmt.Fprintf(env.Out, "%s: %d cases (%d bikes × %d mechanisms × %d seeds)", j.Job, len(cases), len(j.Bikes), len(j.Mechanisms), len(j.Seeds))
	if e := j.Budget.Evaluations; e != nil {
		fmt.Fprintf(env.Out, ", %d evaluations", len(cases)**e)
	}
	fmt.Fprintln(env.Out)
	for _, c := range cases {
		fmt.Fprintf(env.Out, "%s: %d variables, %d objectives, %d constraints\n", c.Name, len(c.Free), len(c.Goals), len(c.Limits))
		for _, line := range c.Mechanism.Solution() {
			fmt.Fprintf(env.Out, "  %s\n", line)
		}
	}
	return nil
}

func verbSchema(env *Env) *cobra.Command {
	return &cobra.Command{
		Use:       "schema job|concept|mechanism",
		Short:     "Print the JSON Schema of a kind of file, for editors",
		ValidArgs: []string{"job", "concept", "mechanism"},
		Args:      cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			text, err := Schema(args[0])
			if err != nil {
				return badInput(err)
			}
			_, err = fmt.Fprintf(env.Out, "%s\n", text)
			return err
		},
	}
}
