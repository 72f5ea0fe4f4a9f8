package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/score"
	"forkfront/jobs/tables"
	"forkfront/objectives"
	"forkfront/results/display"
)

func VerbScore(env *process.Env) *cobra.Command {
	var asJSON bool
	var job, before, traces string
	c := &cobra.Command{
		Use:   "score CONCEPT",
		Short: "Score one fork and compare it with the telescopic one",
		Long: "Scores the fork of a concept file and compares it with the telescopic one that it would replace. The output\n" +
			"ends with the default limits that the fork violates and the parts that overlap; with --job, with the values of\n" +
			"the job's objectives and the constraints that the fork violates.",
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if before != "" && (asJSON || job != "" || traces != "") {
				return process.BadInput(errors.New("--before compares two forks in a table; omit --json, --job and --traces"))
			}
			if before != "" {
				return score.Compare(env, before, args[0])
			}
			return scoreConcept(env, args[0], job, traces, asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON with all measures and curves")
	c.Flags().StringVar(&before, "before", "", "compare with this concept: what improved, and what it cost")
	c.Flags().StringVar(&traces, "traces", "", "also write the events over time to this Parquet file, for a concept with a ride section")
	c.Flags().StringVar(&job, "job", "", "also evaluate the fork against the bands, objectives and constraints of this job")
	return c
}

// scoreConcept prints the measures of one concept. A fork that stops short still prints everything it has.
func scoreConcept(env *process.Env, name, jobName, traces string, asJSON bool) error {
	file, design, err := cases.ReadFork(env, name)
	if err != nil {
		return err
	}
	conditions := cases.Conditions(file)
	if traces != "" {
		if conditions.Events == nil {
			return process.BadInput(fmt.Errorf("--traces %s: %s has no ride section, such as ride: {kind: trail}, and nothing is simulated", display.ShellWord(traces), name))
		}
		if err := writeTraces(traces, file, conditions, design); err != nil {
			return err
		}
	}
	var judge *cases.Case
	if jobName != "" {
		if judge, err = readJudge(env, jobName, file, conditions, design); err != nil {
			return err
		}
	}
	out, result := score.Examine(file.Concept, conditions, design)
	if judge != nil {
		out.Judge(judge, result)
	} else {
		out.AddLimits(cases.Expected(file, conditions, design), result)
	}
	write := out.WriteTable
	if asJSON {
		write = out.WriteJSON
	}
	if err := write(env.Out); err != nil {
		return err
	}
	if result.Fault != "" {
		return process.FoundNothing(fmt.Errorf("%s: %s", file.Concept, result.Missing[0]))
	}
	return nil
}

// writeTraces writes the events of a concept over time, after those of the telescopic fork. Nothing is searched, so there is no run.
func writeTraces(path string, file *files.ConceptFile, c *objectives.Conditions, d *objectives.Design) error {
	fork, telescopic := score.Traces(c, d)
	w, err := tables.CreateTraces(path, "score")
	if err != nil {
		return err
	}
	defer w.Abort()
	if err := errors.Join(w.Add(file.Bike.Name, "", telescopic), w.Add(file.Bike.Name, file.Concept, fork)); err != nil {
		return err
	}
	return w.Close()
}

// readJudge reads the goals and limits of a job, for a fork of any mechanism, and has its bands and coils
// replace those of the fork's own file.
func readJudge(env *process.Env, name string, file *files.ConceptFile, c *objectives.Conditions, d *objectives.Design) (*cases.Case, error) {
	job, _, err := files.Job(env, []string{name})
	if err != nil {
		return nil, err
	}
	if other := job.DifferencesBesidesAims(file); len(other) > 0 {
		fmt.Fprintf(env.Err, "the %s of the fork's file differs from that of the job; the fork is evaluated with its own\n", strings.Join(other, ", "))
	}
	cases.Aim(c, &job.Aims)
	judge := cases.CaseFor(file, c, d)
	judge.Require(job)
	return judge, nil
}
