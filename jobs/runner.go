package jobs

import (
	"context"
	"fmt"
	"hash/fnv"
	"time"

	"forkfront/optimize"
	"forkfront/results"
)

// runner works a job off, case by case, into one results folder.
type runner struct {
	env     *Env
	job     *JobFile
	folder  *results.Folder
	workers int
	log     *logbook
	record  results.RunRecord
	history []results.HistoryRow
	found   []found
}

// found is what the search of one case came to.
type found struct {
	c      *Case
	result *optimize.Result
}

func newRunner(env *Env, job *JobFile, digest string, folder *results.Folder, workers int) (*runner, error) {
	log, err := openLog(env, folder.Path(results.LogFile))
	if err != nil {
		return nil, err
	}
	r := &runner{env: env, job: job, folder: folder, workers: workers, log: log, record: results.NewRunRecord(time.Now())}
	r.record.JobName, r.record.JobSHA256, r.record.Workers = job.Job, digest, workers
	if len(job.Seeds) > 0 {
		r.record.Seed = job.Seeds[0]
	}
	log.start(&r.record)
	return r, nil
}

// all searches every case and writes what was found.
func (r *runner) all(ctx context.Context) error {
	cases := r.job.Cases()
	for i, c := range cases {
		if err := r.one(ctx, c, i, len(cases)); err != nil {
			return err
		}
	}
	if err := r.write(); err != nil {
		return err
	}
	return r.finish()
}

// one searches a case, the i-th of so many.
func (r *runner) one(ctx context.Context, c *Case, i, of int) error {
	settings := r.job.settings(c, r.workers)
	began := time.Now()
	settings.Progress = func(g optimize.Generation) {
		r.history = append(r.history, generation(c, g))
		r.log.generation(c, g, progress{i, of, began, settings.Evaluations})
	}
	result, err := optimize.Search(ctx, c.Problem(), settings)
	if err != nil {
		return fmt.Errorf("case %s: %w", c.Name, err)
	}
	r.found = append(r.found, found{c, result})
	entry := results.CaseRecord{
		Name: c.Name, Stop: result.Stop, Evaluations: result.Evaluations,
		Feasible: result.FeasibleEvaluations, Front: len(result.Front), Seconds: time.Since(began).Seconds(),
	}
	r.record.Cases = append(r.record.Cases, entry)
	r.log.finished(&entry, result.GradientEvaluations)
	return nil
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

func (r *runner) write() error {
	if err := writeCases(r.folder, r.found); err != nil {
		return err
	}
	meta := map[string]string{"forkfront.caution": caution}
	if err := writeFront(r.folder.Path(results.FrontFile), r.found, meta); err != nil {
		return err
	}
	if err := writeCurves(r.folder.Path(results.CurvesFile), r.found, meta); err != nil {
		return err
	}
	if err := r.folder.WriteHistory(r.history, meta); err != nil {
		return fmt.Errorf("write the history: %w", err)
	}
	return nil
}

// finish sums the run up; one that found nothing feasible says so by its exit code.
func (r *runner) finish() error {
	rows := 0
	for _, f := range r.found {
		rows += len(f.result.Front)
	}
	r.record.Finished = time.Now().UTC()
	r.record.Exit = results.ExitRecord{Summary: fmt.Sprintf("%d candidates of %d searches", rows, len(r.found))}
	if rows == 0 {
		r.record.Exit.Code = exitNothing
	}
	if err := r.folder.WriteRun(&r.record); err != nil {
		return err
	}
	fmt.Fprintf(r.env.Out, "%s: %s\n", r.folder.Path(results.FrontFile), r.record.Exit.Summary)
	fmt.Fprintf(r.env.Err, "\n%s\n", caution)
	if rows == 0 {
		return errNothing
	}
	return nil
}

// close ends the log with how the run ended.
func (r *runner) close(err error) error {
	r.log.end(err)
	if closing := r.log.close(); err == nil && closing != nil {
		return fmt.Errorf("close the log: %w", closing)
	}
	return err
}

// everMany bounds a search that only time or stagnation ends.
const everMany = 1 << 50

func (j *JobFile) settings(c *Case, workers int) optimize.Settings {
	s := optimize.Settings{Seed: c.seed(), Evaluations: everMany, Workers: workers, GradientShare: j.GradientShare, FrontSize: j.FrontSize}
	if e := j.Budget.Evaluations; e != nil {
		s.Evaluations = *e
	}
	if w := j.Budget.MaxWall; w != nil {
		s.MaxWall = w.Duration
	}
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
