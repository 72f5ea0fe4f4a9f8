package jobs

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"forkfront/optimize"
)

func verbCheck(env *Env) *cobra.Command {
	return &cobra.Command{
		Use:   "check JOB",
		Short: "Name every error of a job, or say what it would search and about how long that takes",
		Long: "Names every error of a job, or says what it would search: its constraints and which of them hold by\n" +
			"default, its cases, how each mechanism moves, and about how long that takes. `forkfront help measures`\n" +
			"lists what objectives and constraints can speak of.",
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			job, _, err := env.job(args)
			if err != nil {
				return err
			}
			if err := job.fits(); err != nil {
				return err
			}
			cases := job.Cases()
			job.describe(env, cases)
			job.tellStarts(env.Err)
			job.tellUnlimited(env.Err)
			job.estimate(env, cases)
			return nil
		},
	}
}

// describe says how many searches a job comes to, what each mechanism is made of, and how its motion
// is solved.
func (j *JobFile) describe(env *Env, cases []*Case) {
	_, of := j.size()
	fmt.Fprintf(env.Out, "%s: %s (%s)", j.Job, counted(len(cases), "case"), of)
	if e := j.Budget.caseEvaluations(len(cases)); e > 0 {
		fmt.Fprintf(env.Out, ", %s", counted(len(cases)*e, "evaluation"))
	}
	fmt.Fprintln(env.Out)
	j.tellConstraints(env.Out)
	for _, c := range cases {
		fmt.Fprintf(env.Out, "%s: %s, %s, %s\n", c.Name, counted(len(c.Free), "variable"), counted(len(c.Goals), "objective"), counted(len(c.Limits), "constraint"))
		j.tellExempt(env.Out, c)
		for _, line := range slices.Concat(c.Mechanism.Structure(), c.Mechanism.Solution()) {
			fmt.Fprintf(env.Out, "  %s\n", line)
		}
	}
}

// estimate says about how long a job takes on this machine, from a short trial of each case, and
// how much disk. It goes to standard error: the same job does not print it twice alike.
func (j *JobFile) estimate(env *Env, cases []*Case) {
	var total time.Duration
	disk := 0
	for _, c := range cases {
		disk += j.FrontSize * (bytesOfCandidate + c.Conditions.Samples*bytesOfStep)
		wall, each := j.Budget.caseWall(len(cases), 1), c.trial()/time.Duration(runtime.GOMAXPROCS(0))
		disk += j.keptBytes(c, j.Budget.caseEvaluations(len(cases)), wall, each)
		if e := j.Budget.caseEvaluations(len(cases)); e > 0 {
			took := time.Duration(e) * each
			if wall > 0 {
				took = min(took, wall)
			}
			total += took
		} else {
			total += wall
		}
	}
	switch {
	case total > time.Second/2:
		fmt.Fprintf(env.Err, "about %s on the %d processors of this machine", total.Round(time.Second), runtime.GOMAXPROCS(0))
	case total > 0:
		fmt.Fprintf(env.Err, "less than a second on the %d processors of this machine", runtime.GOMAXPROCS(0))
	default:
		fmt.Fprint(env.Err, "until the fronts grow no more")
	}
	fmt.Fprintf(env.Err, ", up to about %d MB of results\n", disk>>20+1)
}

// keptBytes is what keeping every candidate of a case takes, at most: while it is written,
// candidates.parquet stands beside the records that it is made of.
func (j *JobFile) keptBytes(c *Case, evaluations int, wall, each time.Duration) int {
	if j.Keep != keepAll {
		return 0
	}
	if n := int(wall / max(each, 1)); n > 0 && (evaluations == 0 || n < evaluations) {
		evaluations = n
	}
	return 2 * evaluations * c.recordBytes()
}

// What a candidate takes on the disk, from fronts of the demo: about 400 bytes a row of
// front.parquet and 60 a travel step of curves.parquet.
const (
	bytesOfCandidate = 400
	bytesOfStep      = 60
)

// trialTime is how long a case is tried for.
const trialTime = 50 * time.Millisecond

// overhead is what a search takes beyond the evaluations themselves, as a part of them, from the
// demo's cases.
const overhead = 2

// trial measures what an evaluation of a case takes on one processor, search included: random
// designs, half of which stop short as they do early in a search.
func (c *Case) trial() time.Duration {
	p := c.worker()
	o := &optimize.Outcome{F: make([]float64, len(c.Goals)), G: make([]float64, 1+len(c.Limits))}
	r := rand.New(rand.NewPCG(1, 1))
	x := make([]float64, len(c.Free))
	began, n := time.Now(), 0
	for ; time.Since(began) < trialTime; n++ {
		for i, f := range c.Free {
			v := &f.Variable
			x[i] = v.Low + r.Float64()*(v.High-v.Low)
			if v.Levels > 0 {
				x[i] = float64(r.IntN(v.Levels))
			}
		}
		p.Evaluate(o, x)
	}
	return overhead * time.Since(began) / time.Duration(n)
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
