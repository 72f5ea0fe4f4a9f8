package jobs

import (
	"fmt"
	"io"
	"os"
	"sync"
	"text/tabwriter"
	"time"

	"github.com/rs/zerolog"
	"golang.org/x/term"

	"forkfront/optimize"
	"forkfront/results/record"
)

// logbook tells what happens: every line as JSON in the results folder for the morning after, the
// main ones in words on standard error, and on a terminal a line of progress.
type logbook struct {
	mu     sync.Mutex // cases at work side by side write here
	file   *os.File
	lines  zerolog.Logger // JSON
	words  io.Writer
	status *status // nil unless standard error is a terminal
}

func openLog(env *Env, path string) (*logbook, error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o644)
	if err != nil {
		return nil, fmt.Errorf("open the log: %w", err)
	}
	l := &logbook{file: f, lines: zerolog.New(f), words: env.Err}
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
func (l *logbook) line(level zerolog.Level) *zerolog.Event {
	return l.lines.WithLevel(level).Str("time", time.Now().UTC().Format("2006-01-02T15:04:05.000Z"))
}

func (l *logbook) say(format string, args ...any) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.status != nil {
		l.status.clear()
	}
	fmt.Fprintf(l.words, format+"\n", args...)
}

// trouble tells of something that was got over.
func (l *logbook) trouble(err error) {
	if err != nil {
		l.line(zerolog.WarnLevel).Msg(err.Error())
		l.say("%v", err)
	}
}

func (l *logbook) resumed(c *Case, generation int) {
	l.line(zerolog.InfoLevel).Str("case", c.Name).Int("generation", generation).Msg("case resumed")
	l.say("%s: goes on from generation %d", c.Name, generation)
}

func (l *logbook) start(r *record.Run, what string) {
	l.line(zerolog.InfoLevel).Str("job", r.JobName).Str("job_sha256", r.JobSHA256).Str("version", r.Version).
		Str("go_version", r.GoVersion).Str("host", r.Host).Int("workers", r.Workers).Uint64("seed", r.Seed).Msg(what)
}

// generation tells of one, with why designs were not allowed, as counts since the one before.
func (l *logbook) generation(c *Case, g optimize.Generation, broken map[string]int, p progress) {
	e := l.line(zerolog.DebugLevel).Str("case", c.Name).Int("generation", g.Number).Str("stage", g.Stage).
		Int("evaluations", g.Evaluations).Int("front_size", g.ArchiveSize)
	if g.Evaluations > 0 {
		e = e.Float64("feasible_share", float64(g.Feasible)/float64(g.Evaluations))
	}
	seconds := time.Since(p.began).Seconds()
	e.Interface("not_allowed", broken).Float64("hypervolume", g.Hypervolume).Float64("evaluations_per_s", rate(g.Evaluations, seconds)).Msg("generation")
	if l.status != nil {
		l.mu.Lock()
		defer l.mu.Unlock()
		l.status.show(c, g, p)
	}
}

// failures are how many evaluations broke each constraint since the last call.
func (c *Case) failures() map[string]int {
	counts := map[string]int{}
	for i, name := range c.Problem().Constraints() {
		if n := c.broken[i].Swap(0); n > 0 {
			counts[name] = int(n)
		}
	}
	return counts
}

// rate is 0 before there is any time to divide by.
func rate(evaluations int, seconds float64) float64 {
	if seconds <= 0 {
		return 0
	}
	return float64(evaluations) / seconds
}

func (l *logbook) finished(c *record.Case, byGradients int) {
	l.line(zerolog.InfoLevel).Str("case", c.Name).Str("stop", c.Stop).Int("evaluations", c.Evaluations).Int("feasible", c.Feasible).
		Int("gradient_evaluations", byGradients).Int("front_size", c.Front).Float64("elapsed_s", c.Seconds).Msg("case finished")
	l.say("%s: %s from %s in %.1f s (%d %% feasible, %d by gradients); stopped by %s",
		c.Name, counted(c.Front, "candidate"), counted(c.Evaluations, "evaluation"), c.Seconds, 100*c.Feasible/max(c.Evaluations, 1), byGradients, c.Stop)
}

// summary is the table that a person reads in the morning.
func (l *logbook) summary(cases []record.Case) {
	t := tabwriter.NewWriter(l.words, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "\ncase\tcandidates\tevaluations\tfeasible\tseconds\tstopped by\tmost failed at")
	for _, c := range cases {
		fmt.Fprintf(t, "%s\t%d\t%d\t%d %%\t%.1f\t%s\t%s\n", c.Name, c.Front, c.Evaluations, 100*c.Feasible/max(c.Evaluations, 1), c.Seconds, c.Stop, c.MostViolated(2))
	}
	t.Flush()
}

// end writes the last line: how the run ended.
func (l *logbook) end(err error) {
	if err == nil {
		l.line(zerolog.InfoLevel).Str("end", "done").Msg("run ended")
		return
	}
	l.line(zerolog.ErrorLevel).Str("end", err.Error()).Msg("run ended")
}

func (l *logbook) close() error {
	if l.status != nil {
		l.status.clear()
	}
	return l.file.Close()
}
