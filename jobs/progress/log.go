package progress

import (
	"fmt"
	"io"
	"os"
	"sync"
	"text/tabwriter"
	"time"

	"github.com/rs/zerolog"
	"golang.org/x/term"

	"forkfront/jobs/cases"
	"forkfront/jobs/process"
	"forkfront/jobs/words"
	"forkfront/optimize"
	"forkfront/results/record"
	"forkfront/results/rounds"
)

// Log reports what happens: every event as a line of JSON in the results folder, the main ones in words on standard
// error, and on a terminal a line of progress.
type Log struct {
	mu     sync.Mutex // cases that run side by side write here
	file   *lines
	lines  zerolog.Logger // JSON
	words  io.Writer
	status *status // nil unless standard error is a terminal
}

func OpenLog(env *process.Env, path string) (*Log, error) {
	f, err := openLines(path)
	if err != nil {
		return nil, fmt.Errorf("open the log: %w", err)
	}
	l := &Log{file: f, lines: zerolog.New(f), words: env.Err}
	if onTerminal(env.Err) {
		l.status = &status{w: env.Err}
	}
	return l, nil
}

// onTerminal tells whether a person watches.
func onTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// line starts a JSON line with the time in UTC to the millisecond.
func (l *Log) line(level zerolog.Level) *zerolog.Event {
	return l.lines.WithLevel(level).Str("time", time.Now().UTC().Format("2006-01-02T15:04:05.000Z"))
}

func (l *Log) say(format string, args ...any) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.status != nil {
		l.status.clear()
	}
	fmt.Fprintf(l.words, format+"\n", args...)
}

// Trouble reports a problem that did not stop the run.
func (l *Log) Trouble(err error) {
	if err != nil {
		l.line(zerolog.WarnLevel).Msg(err.Error())
		l.say("%v", err)
	}
}

func (l *Log) Resumed(c *cases.Case, generation int) {
	l.line(zerolog.InfoLevel).Str("case", c.Name).Int("generation", generation).Msg("case resumed")
	l.say("%s: continues from generation %d", c.Name, generation)
}

func (l *Log) Start(r *record.Run, what string) {
	l.line(zerolog.InfoLevel).Str("job", r.JobName).Str("job_sha256", r.JobSHA256).Str("version", r.Version).
		Str("go_version", r.GoVersion).Str("host", r.Host).Int("workers", r.Workers).Uint64("seed", r.Seed).Msg(what)
}

// Generation reports one, with how often each constraint was violated since the one before.
func (l *Log) Generation(c *cases.Case, g optimize.Generation, violated map[string]int, p CaseProgress) {
	e := l.line(zerolog.DebugLevel).Str("case", c.Name).Int("generation", g.Number).Str("stage", g.Stage).
		Int("evaluations", g.Evaluations).Int("front_size", g.ArchiveSize)
	if g.Evaluations > 0 {
		e = e.Float64("feasible_share", float64(g.Feasible)/float64(g.Evaluations))
	}
	seconds := time.Since(p.Began).Seconds()
	e.Interface("not_allowed", violated).Float64("hypervolume", g.Hypervolume).Float64("evaluations_per_s", rate(g.Evaluations, seconds)).Msg("generation")
	if l.status != nil {
		l.mu.Lock()
		defer l.mu.Unlock()
		l.status.show(c, g, p)
	}
}

// rate is 0 before there is any time to divide by.
func rate(evaluations int, seconds float64) float64 {
	if seconds <= 0 {
		return 0
	}
	return float64(evaluations) / seconds
}

// BeginsEvents tells that candidates of a case are put through events, some of which have been before.
func (l *Log) BeginsEvents(c *cases.Case, before, of int) {
	l.line(zerolog.InfoLevel).Str("case", c.Name).Int("before", before).Int("of", of).Msg("events begun")
	already := ""
	if before > 0 {
		already = fmt.Sprintf(", %d of them before", before)
	}
	l.say("%s: simulating %s in events%s", c.Name, words.Counted(of, "candidate"), already)
}

// Simulating tells how many candidates of a case have been put through events.
func (l *Log) Simulating(c *cases.Case, done, of int) {
	l.line(zerolog.DebugLevel).Str("case", c.Name).Int("done", done).Int("of", of).Msg("simulating events")
	if l.status != nil {
		l.mu.Lock()
		defer l.mu.Unlock()
		l.status.put(fmt.Sprintf("%s: events of candidate %d of %d", c.Name, done+1, of))
	}
}

// Finished reports a case whose search has ended; in a race, whose rounds are told as a whole, only in the file.
func (l *Log) Finished(c *record.Case, byGradients int, inRace bool) {
	e := l.line(zerolog.InfoLevel).Str("case", c.Name).Str("stop", c.Stop).Int("evaluations", c.Evaluations).Int("feasible", c.Feasible).
		Int("gradient_evaluations", byGradients).Int("front_size", c.Front)
	if c.Simulated > 0 {
		e = e.Int("simulated", c.Simulated).Interface("predicted", c.Predicted)
	}
	e.Float64("elapsed_s", c.Seconds).Msg("case finished")
	if inRace {
		return
	}
	l.say("%s: %s from %s in %.1f s (%d %% feasible, %d by gradients); stopped by %s",
		c.Name, words.Counted(c.Front, "candidate"), words.Counted(c.Evaluations, "evaluation"), c.Seconds, 100*c.Feasible/max(c.Evaluations, 1), byGradients, c.Stop)
	if told := c.Predictions(); told != "" {
		l.say("%s: %s", c.Name, told)
	}
}

// Racing tells which round of a race begins, and how many of the samples the fronts before it cover together.
func (l *Log) Racing(round, of, joint, samples int) {
	if l.status == nil {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.status.race = fmt.Sprintf("round %d of %d; ", round, of)
	if joint > 0 {
		l.status.race = fmt.Sprintf("round %d of %d, %.1f %% of the box so far; ", round, of, 100*float64(joint)/float64(samples))
	}
}

// Round reports a round of a race that has ended: lines of its cases, in the order of their places.
func (l *Log) Round(lines []rounds.Line) {
	first, feasible, on := &lines[0], 0, 0
	for i := range lines {
		if lines[i].Front > 0 {
			feasible++
		}
		if lines[i].Outcome == rounds.GoesOn {
			on++
		}
	}
	l.line(zerolog.InfoLevel).Int("round", first.Round).Int("rounds", first.Rounds).Int("cases", len(lines)).Int("feasible_cases", feasible).
		Int("go_on", on).Float64("joint", float64(first.Joint)/float64(first.Samples)).Str("first", first.Case).Msg("round finished")
	end := fmt.Sprintf("%s on", words.Plural(on, "goes", "go"))
	if on == 0 {
		end = "the last round"
	}
	l.say("round %d of %d: %s at %s each, %d of them with something feasible; together %.1f %% of the box; %s",
		first.Round, first.Rounds, words.Counted(len(lines), "case"), words.Counted(first.Evaluations, "evaluation"), feasible, 100*float64(first.Joint)/float64(first.Samples), end)
	if first.Round == 1 && 2*feasible < on {
		l.say("most of those that go on have nothing feasible yet and were chosen by the least violation, which tells little: give first_evaluations more")
	}
}

// Summary is the table at the end of a run; of a race, of the cases of its last round.
func (l *Log) Summary(cases []record.Case) {
	cut := 0
	t := tabwriter.NewWriter(l.words, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "\ncase\tcandidates\tevaluations\tfeasible\tseconds\tstopped by\tmost frequent failures")
	for _, c := range cases {
		if c.WasCut() {
			cut++
			continue
		}
		fmt.Fprintf(t, "%s\t%d\t%d\t%d %%\t%.1f\t%s\t%s\n", c.Name, c.Front, c.Evaluations, 100*c.Feasible/max(c.Evaluations, 1), c.Seconds, c.Stop, c.MostViolated(2))
	}
	t.Flush()
	if cut > 0 {
		fmt.Fprintf(l.words, "and %s cut before the last round: the report says when and why\n", words.Counted(cut, "case"))
	}
}

// End writes the last line: how the run ended.
func (l *Log) End(err error) {
	if err == nil {
		l.line(zerolog.InfoLevel).Str("end", "done").Msg("run ended")
		return
	}
	l.line(zerolog.ErrorLevel).Str("end", err.Error()).Msg("run ended")
}

func (l *Log) Close() error {
	if l.status != nil {
		l.status.clear()
	}
	return l.file.Close()
}
