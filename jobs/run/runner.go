package run

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"time"

	"golang.org/x/sync/errgroup"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/forks"
	"forkfront/jobs/process"
	"forkfront/jobs/progress"
	"forkfront/jobs/race"
	"forkfront/jobs/store"
	"forkfront/jobs/tables"
	"forkfront/jobs/words"
	"forkfront/optimize"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/record"
)

// Runner runs a job, case by case, into one results folder.
type Runner struct {
	Env    *process.Env
	Job    *files.JobFile
	Folder *results.Folder
	Saved  *store.Checkpoints
	Work   *Work
	Log    *progress.Log
	Record record.Run
	Rows   int // candidates found

	Raced     *race.Course // a race that is over; nil: there was none
	raceRound *raceRound   // the round of a race; nil: there is no race
}

// Begin starts a run in a folder of its own. The job is sealed there before anything else, so that resume can
// continue the run however it ended.
func Begin(env *process.Env, job *files.JobFile, b *store.Begun, folder *results.Folder, w *Work) (*Runner, error) {
	saved, err := store.OpenCheckpoints(folder, b.Digest)
	if err != nil {
		return nil, err
	}
	if err := store.Seal(saved.JobPath(), b); err != nil {
		return nil, err
	}
	return open(env, job, b, folder, saved, w, "run started")
}

// Resume continues a run in the same files.
func Resume(env *process.Env, job *files.JobFile, b *store.Begun, folder *results.Folder, w *Work) (*Runner, error) {
	saved, err := store.OpenCheckpoints(folder, b.Digest)
	if err != nil {
		return nil, err
	}
	if before, err := record.Read(folder.Path(results.RunFile)); err == nil && w.Prefer == nil {
		w.Prefer = before.Prefer
	}
	return open(env, job, b, folder, saved, w, "run resumed")
}

// open opens the log and writes the record of the run so far.
func open(env *process.Env, job *files.JobFile, b *store.Begun, folder *results.Folder, saved *store.Checkpoints, w *Work, what string) (*Runner, error) {
	log, err := progress.OpenLog(env, folder.Path(results.LogFile))
	if err != nil {
		return nil, err
	}
	r := &Runner{Env: env, Job: job, Folder: folder, Saved: saved, Work: w, Log: log, Record: record.New(b.Started)}
	r.Record.Name = record.NameOf(b.Digest)
	r.Record.JobName, r.Record.JobSHA256, r.Record.Seed, r.Record.Workers = job.Job, b.Text, job.FirstSeed(), w.Processors()
	if r.Record.Prefer = w.Prefer; w.Prefer == nil {
		r.Record.Prefer = job.Prefer
	}
	r.Log.Start(&r.Record, what)
	if err := r.Folder.WriteRun(&r.Record); err != nil {
		return nil, r.Close(err)
	}
	return r, nil
}

// All searches every case that is not finished and writes the results.
func (r *Runner) All(ctx context.Context) error {
	cases := cases.Cases(r.Job)
	done := make([]store.Found, len(cases))
	which := make([]int, len(cases))
	for i, c := range cases {
		which[i] = i
		done[i] = store.Found{Case: c, Load: func() (*store.DoneCase, error) { return r.Saved.MustLoadCase(i, c.Name) }, Journal: r.Saved.Journal(i, c)}
	}
	var err error
	if r.Job.Race != nil {
		err = r.race(ctx, cases, done)
	} else {
		err = r.SearchAll(ctx, cases, which)
	}
	if err != nil {
		return r.stopped(ctx, err)
	}
	if err := r.Finish(ctx, done); err != nil {
		return r.stopped(ctx, err)
	}
	return r.Saved.Clear()
}

// stopped is an end before everything is done. An interrupted run can be continued.
func (r *Runner) stopped(ctx context.Context, err error) error {
	if ctx.Err() == nil {
		return err
	}
	return process.Interrupted(fmt.Errorf("interrupted; continue with `forkfront resume %s`", display.ShellWord(r.Folder.Dir)))
}

// generation is a line of the history.
func generation(c *cases.Case, g optimize.Generation) results.HistoryRow {
	row := results.HistoryRow{Case: c.Name, Generation: g.Number, Evaluations: g.Evaluations, Front: g.ArchiveSize}
	if g.Evaluations > 0 {
		row.FeasibleShare = float64(g.Feasible) / float64(g.Evaluations)
	}
	if g.ArchiveSize > 0 {
		row.Hypervolume = &g.Hypervolume
	}
	return row
}

// Finish writes the results and the summary of the run. If the context ends, what it has simulated is kept.
func (r *Runner) Finish(ctx context.Context, done []store.Found) error {
	m, events := r.simulation(done), r.Job.Events
	var dropped *tables.Dropped
	if tables.HasAfter(r.Job) {
		var err error
		if done, dropped, err = m.Drop(ctx, r.Job.Constraints); err != nil {
			return err
		}
		events = tables.EventsFront // the front has been simulated, and what is dropped has to be explained
	}
	s, err := tables.Summarize(done)
	if err != nil {
		return err
	}
	s.Run, s.Dropped = r.Record.Name, dropped
	if err := tables.WriteAll(r.Folder, r.Job.Keep, done, s, r.Work.Processors()); err != nil {
		return err
	}
	if err := tables.WriteDropped(r.Folder, dropped, s.Run, r.Work.Processors()); err != nil {
		return err
	}
	if r.Raced != nil {
		if err := tables.WriteTopologies(r.Folder, s.Run, done, r.Raced); err != nil {
			return err
		}
	}
	if s.Rows+dropped.Count() > 0 {
		suggested, err := tables.ReadSuggested(r.Folder, r.Record.Prefer)
		if err != nil {
			return err
		}
		if err := tables.WriteTradeoffs(r.Folder, done, s.Run, suggested, r.Work.Processors()); err != nil {
			return err
		}
		if err := tables.WriteEvents(ctx, r.Folder, m, s.Run, events, suggested); err != nil {
			return err
		}
		if err := tables.WriteTraces(ctx, r.Folder, done, s.Run, r.Job.Traces, suggested, r.Work.Processors()); err != nil {
			return err
		}
	}
	r.Rows = s.Rows
	for i := range s.Records {
		s.Records[i].Constraints = cases.Kept(r.Job, done[i].Case)
		s.Records[i].Telescopic = done[i].Case.KnownTelescopic()
	}
	r.Record.Cases = s.Records
	if r.Record.Finished.IsZero() { // merge takes it from its shards
		r.Record.Finished = time.Now().UTC()
	}
	r.Record.Exit = record.Exit{Summary: fmt.Sprintf("%s of %s, %d on the front of their bike", words.Counted(s.Rows, "candidate"), words.Plural(len(done), "search", "searches"), len(s.Best))}
	if s.Rows == 0 {
		r.Record.Exit.Code = process.Nothing
	}
	if n := dropped.Count(); n > 0 {
		r.Record.Exit.Summary += fmt.Sprintf("; %s dropped after the search, outside %s", words.Counted(n, "candidate"), record.DroppedInWords(s.Records))
	}
	if err := r.Folder.WriteRun(&r.Record); err != nil {
		return err
	}
	var picks bytes.Buffer
	var last errgroup.Group
	last.SetLimit(r.Work.Processors())
	last.Go(func() error { return forks.WriteReport(r.Folder, r.Work.Processors(), r.Env.Err) })
	last.Go(func() error { return r.Folder.WritePicks(&picks) })
	if err := last.Wait(); err != nil {
		r.Record.Exit = record.Exit{Code: process.Outside, Summary: err.Error()}
		return errors.Join(err, r.Folder.WriteRun(&r.Record))
	}
	fmt.Fprintf(r.Env.Out, "%s: %s\n", r.Folder.Path(results.FrontFile), r.Record.Exit.Summary)
	if _, err := picks.WriteTo(r.Env.Out); err != nil {
		return fmt.Errorf("print the candidates: %w", err)
	}
	if r.Log != nil { // merge has those of its shards
		r.Log.Summary(s.Records)
	}
	fmt.Fprintf(r.Env.Err, "\n%s\n", display.Caution)
	return nil
}

// simulation is what puts candidates through events.
func (r *Runner) simulation(done []store.Found) *tables.Simulation {
	m := &tables.Simulation{All: done, Saved: r.Saved, Every: r.Work.Every, Processors: r.Work.Processors()}
	if r.Log != nil { // merge has none
		m.Watch = r.Log
	}
	return m
}

// Close ends the log with how the run ended; a run that found nothing feasible says so by its exit code.
func (r *Runner) Close(err error) error {
	if err == nil && r.Rows == 0 {
		err = process.ErrNothing
	}
	r.Log.End(err)
	if closing := r.Log.Close(); err == nil && closing != nil {
		return fmt.Errorf("close the log: %w", closing)
	}
	return err
}

func Settings(j *files.JobFile, c *cases.Case, workers int) optimize.Settings {
	cases, _ := j.Size()
	s := optimize.Settings{Seed: c.SearchSeed(), Evaluations: optimize.Unlimited, Workers: workers, GradientShare: j.GradientShare, FrontSize: j.FrontSize}
	if c.First != nil {
		s.Start = [][]float64{c.First}
	}
	if e := j.Budget.CaseEvaluations(cases); e > 0 {
		s.Evaluations = e
	}
	if n := j.Budget.Simulations; n != nil {
		s.Measurements = *n
	}
	s.MaxWall = j.Budget.CaseWall(cases, workers)
	if g := j.Budget.StagnationGenerations; g != nil {
		s.StagnationGenerations = *g
	}
	return s
}
