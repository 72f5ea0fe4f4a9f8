package cli

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/race"
	"forkfront/jobs/run"
	"forkfront/jobs/words"
)

func VerbCheck(env *process.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "check JOB",
		Short: "Report every error in a job, or describe what it would search and about how long that takes",
		Long: "Reports every error in a job, or describes what it would search: its constraints and which of them are\n" +
			"defaults, its cases, how each mechanism moves, and about how long that takes. `forkfront help measures`\n" +
			"lists the measures for objectives and constraints. Each case is also tried with up to 1500 forks, always\n" +
			"the same ones; where none is feasible, it says which constraints none meets and what stops the nearest.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			job, _, err := files.Job(env, args)
			if err != nil {
				return err
			}
			if err := job.Fits(); err != nil {
				return err
			}
			all := cases.Cases(job)
			describe(job, env, all)
			tellStarts(job, env.Err)
			tellUnlimited(job, env.Err)
			run.Estimate(job, env, all)
			return tellTrials(cmd.Context(), job, env.Err, all)
		},
	}
}

// warned is the largest number of cases with few feasible forks that are listed one by one.
const warned = 4

// tellTrials tries each case briefly and warns of those that find nothing, first of those that meet some constraint
// never.
func tellTrials(ctx context.Context, j *files.JobFile, w io.Writer, cases []*cases.Case) error {
	attempts, of, err := run.Try(ctx, j, cases)
	if err != nil {
		return err
	}
	for _, hopeless := range []bool{true, false} {
		most, more := listed, 0
		if !hopeless {
			most = warned
		}
		for i := range attempts {
			warning := attempts[i].Warn()
			switch {
			case warning == "" || attempts[i].Hopeless() != hopeless:
			case most > 0:
				fmt.Fprint(w, warning)
				most--
			default:
				more++
			}
		}
		if more > 0 {
			fmt.Fprintf(w, "and %s of which the same is true\n", words.Plural(more, "more case", "more cases"))
		}
	}
	if len(attempts) < of {
		fmt.Fprintf(w, "%d of %d cases were tried, spread over all of them\n", len(attempts), of)
	}
	return nil
}

// describe prints how many searches a job has, what each mechanism consists of, and how its motion is solved.
func describe(j *files.JobFile, env *process.Env, all []*cases.Case) {
	_, of := j.Size()
	fmt.Fprintf(env.Out, "%s: %s (%s)", j.Job, words.Counted(len(all), "case"), of)
	if rounds := j.Rounds(); rounds != nil {
		fmt.Fprintf(env.Out, ", %s\nrace: %s", words.Counted(race.Evaluations(rounds), "evaluation"), j.RaceInWords())
	} else if e := j.Budget.CaseEvaluations(len(all)); e > 0 {
		fmt.Fprintf(env.Out, ", %s", words.Counted(len(all)*e, "evaluation"))
	}
	fmt.Fprintln(env.Out)
	tellConstraints(j, env.Out)
	tellCases(j, env.Out, all)
}

// listed is how many cases are listed one by one, and how many mechanisms are described: a job may search hundreds of linkages.
const listed = 20

// tellCases lists cases, with the solution of each mechanism at its first case. After the first few, a case is listed
// only if it has something to report that no case before it had.
func tellCases(j *files.JobFile, w io.Writer, all []*cases.Case) {
	told := map[string]bool{"": true}
	described, more, last := 0, 0, ""
	for i, c := range all {
		var exempt, moves strings.Builder
		tellExempt(j, &exempt, c)
		for _, line := range slices.Concat(c.Mechanism.Structure(), c.Mechanism.Solution()) {
			fmt.Fprintf(&moves, "  %s\n", line)
		}
		known := told[moves.String()] || described == listed
		if i >= listed && told[exempt.String()] && known {
			more, last = more+1, c.Name
			continue
		}
		fmt.Fprintf(w, "%s: %s, %s, %s\n%s", c.Name, words.Counted(len(c.Free), "variable"), words.Counted(len(c.Goals), "objective"), words.Counted(len(c.Limits), "constraint"), &exempt)
		if !known {
			described++
			fmt.Fprint(w, &moves)
		}
		told[exempt.String()], told[moves.String()] = true, true
	}
	if more > 0 {
		fmt.Fprintf(w, "and %d more, the last being %s\n", more, last)
	}
}

func VerbSchema(env *process.Env) *cobra.Command {
	return &cobra.Command{
		Use:       "schema job|concept|mechanism",
		Short:     "Print the JSON Schema of a kind of file, for editors",
		ValidArgs: []string{"job", "concept", "mechanism"},
		Args:      cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			text, err := files.Schema(args[0])
			if err != nil {
				return process.BadInput(err)
			}
			_, err = fmt.Fprintf(env.Out, "%s\n", text)
			return err
		},
	}
}
