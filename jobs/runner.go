package jobs

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"time"

	"golang.org/x/sync/errgroup"

	"forkfront/optimize"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/record"
)

// runner works a job off, case by case, into one results folder.
type runner struct {
	env    *Env
	job    *JobFile
	folder *results.Folder
	saved  *checkpoints
	work   *work
	log    *logbook
	record record.Run
	rows   int // candidates found
}

// newRunner opens what a run writes to. A run that is resumed goes on in the same files.
func newRunner(env *Env, job *JobFile, b *begun, folder *results.Folder, w *work) (*runner, error) {
	saved, err := openCheckpoints(folder, b.Digest)
	if err != nil {
		return nil, err
	}
	log, err := openLog(env, folder.Path(results.LogFile))
	if err != nil {
		return nil, err
	}
	r := &runner{env: env, job: job, folder: folder, saved: saved, work: w, log: log, record: record.New(b.Started)}
	r.record.JobName, r.record.JobSHA256, r.record.Seed, r.record.Workers = job.Job, b.Text, job.firstSeed(), w.processors()
	return r, nil
}

// begin leaves what a resume needs before the search starts.
func (r *runner) begin(b *begun) error {
	if err := seal(r.saved.jobPath(), b); err != nil {
		return err
	}
	r.log.start(&r.record, "run started")
	return r.folder.WriteRun(&r.record)
}

// all searches every case that is not done and writes what was found.
func (r *runner) all(ctx context.Context) error {
	cases := r.job.Cases()
	done := make([]found, len(cases))
	which := make([]int, len(cases))
	for i, c := range cases {
		which[i] = i
		done[i] = found{c, func() (*doneCase, error) { return r.saved.mustLoadCase(i) }, r.saved.journalPath(i)}
	}
	if err := r.searchAll(ctx, cases, which); err != nil {
		return r.stopped(ctx, err)
	}
	if err := r.finish(done); err != nil {
		return err
	}
	return r.saved.clear()
}

// stopped is an end before all is done. What was interrupted can be continued.
func (r *runner) stopped(ctx context.Context, err error) error {
	if ctx.Err() == nil {
		return err
	}
	return &exit{exitUnfinished, fmt.Errorf("interrupted; go on with `forkfront resume %s`", display.ShellWord(r.folder.Dir))}
}

// generation is a line of the history.
func generation(c *Case, g optimize.Generation) results.HistoryRow {
	row := results.HistoryRow{Case: c.Name, Generation: g.Number, Evaluations: g.Evaluations, Front: g.ArchiveSize}
	if g.Evaluations > 0 {
		row.FeasibleShare = float64(g.Feasible) / float64(g.Evaluations)
	}
	if g.ArchiveSize > 0 {
		row.Hypervolume = &g.Hypervolume
	}
	return row
}

// finish writes the results and sums the run up.
func (r *runner) finish(done []found) error {
	s, err := surveyAll(done)
	if err != nil {
		return err
	}
	if err := writeAll(r.folder, r.job.Keep, done, s, r.work.processors()); err != nil {
		return err
	}
	r.rows = s.rows
	for i := range s.records {
		s.records[i].Constraints = r.job.kept(done[i].c)
	}
	r.record.Cases = s.records
	if r.record.Finished.IsZero() { // merge knows it of its shards
		r.record.Finished = time.Now().UTC()
	}
	r.record.Exit = record.Exit{Summary: fmt.Sprintf("%s of %s, %d on the front of their bike", counted(s.rows, "candidate"), plural(len(done), "search", "searches"), len(s.best))}
	if s.rows == 0 {
		r.record.Exit.Code = exitNothing
	}
	if err := r.folder.WriteRun(&r.record); err != nil {
		return err
	}
	var picks bytes.Buffer
	var last errgroup.Group
	last.SetLimit(r.work.processors())
	last.Go(func() error { return writeReport(r.folder, r.work.processors()) })
	last.Go(func() error { return r.folder.WritePicks(&picks) })
	if err := last.Wait(); err != nil {
		r.record.Exit = record.Exit{Code: exitOutside, Summary: err.Error()}
		return errors.Join(err, r.folder.WriteRun(&r.record))
	}
	fmt.Fprintf(r.env.Out, "%s: %s\n", r.folder.Path(results.FrontFile), r.record.Exit.Summary)
	if _, err := picks.WriteTo(r.env.Out); err != nil {
		return fmt.Errorf("print the candidates: %w", err)
	}
	if r.log != nil { // merge has those of its shards
		r.log.summary(s.records)
	}
	fmt.Fprintf(r.env.Err, "\n%s\n", caution)
	return nil
}

// close ends the log with how the run ended; one that found nothing feasible says so by its exit
// code.
func (r *runner) close(err error) error {
	if err == nil && r.rows == 0 {
		err = errNothing
	}
	r.log.end(err)
	if closing := r.log.close(); err == nil && closing != nil {
		return fmt.Errorf("close the log: %w", closing)
	}
	return err
}

func (j *JobFile) settings(c *Case, workers int) optimize.Settings {
	cases, _ := j.size()
	s := optimize.Settings{Seed: c.seed(), Evaluations: optimize.Unlimited, Workers: workers, GradientShare: j.GradientShare, FrontSize: j.FrontSize}
	if c.first != nil {
		s.Start = [][]float64{c.first}
	}
	if e := j.Budget.caseEvaluations(cases); e > 0 {
		s.Evaluations = e
	}
	s.MaxWall = j.Budget.caseWall(cases, workers)
	if g := j.Budget.StagnationGenerations; g != nil {
		s.StagnationGenerations = *g
	}
	return s
}

// seed of a case's search follows from the job's seed and the case's name, so that a case finds
// the same front alone or among others.
func (c *Case) seed() uint64 {
	h := fnv.New64a()
	fmt.Fprintf(h, "%d %s", c.Seed, c.Name)
	return h.Sum64()
}

// caseEvaluations is how many evaluations a case gets; 0: no limit.
func (b *Budget) caseEvaluations(cases int) int {
	n := 0
	if b.Evaluations != nil {
		n = *b.Evaluations
	}
	if b.TotalEvaluations != nil {
		if share := max(1, *b.TotalEvaluations/cases); n == 0 || share < n {
			n = share
		}
	}
	return n
}

// caseWall is how long a case may take, so many of them running side by side; 0: no limit.
func (b *Budget) caseWall(cases, lanes int) time.Duration {
	var d time.Duration
	if b.MaxWall != nil {
		d = b.MaxWall.Duration
	}
	if b.TotalWall != nil {
		if share := time.Duration(float64(b.TotalWall.Duration) * float64(min(lanes, cases)) / float64(cases)); d == 0 || share < d {
			d = max(share, time.Millisecond)
		}
	}
	return d
}
