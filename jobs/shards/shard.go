package shards

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/progress"
	"forkfront/jobs/run"
	"forkfront/jobs/store"
	"forkfront/jobs/words"
	"forkfront/results"
	"forkfront/results/record"
)

// shardRunner runs one shard. A second copy of the same shard, even at the same time, finds the same fronts; the
// first to publish is kept.
type shardRunner struct {
	run.Runner
	plan    *Plan
	shard   int
	started time.Time // the first time, in UTC
}

// RunShard searches the cases of one shard and publishes them below out.
func RunShard(ctx context.Context, env *process.Env, planName, named, out string, w *run.Work) error {
	p, job, err := openPlan(env, planName)
	if err != nil {
		return err
	}
	shard, err := ShardOf(named, p, env.Variable)
	if err != nil {
		return err
	}
	if err := p.unmixed(out, shard); err != nil {
		return err
	}
	dir := p.saved(out, shard).Dir
	if m, err := ReadManifest(dir); err == nil && p.fault(journalled(job), out, shard) == nil {
		fmt.Fprintf(env.Out, "shard %d/%d: %s, already published\n", shard, p.Shards, words.Counted(m.Rows, "candidate"))
		return nil
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("create the shard's folder: %w", err)
	}
	if err := removeStale(dir, time.Now()); err != nil {
		return err
	}
	now := time.Now().UTC()
	started, err := FirstStart(dir, p.Digest, now)
	if err != nil {
		return err
	}
	s := &shardRunner{plan: p, shard: shard, started: started}
	log, err := progress.OpenLog(env, filepath.Join(dir, results.LogFile))
	if err != nil {
		return err
	}
	s.Runner = run.Runner{
		Env: env, Job: job, Work: w, Log: log, Record: record.New(now),
		Saved: p.saved(out, shard),
	}
	s.Record.JobName, s.Record.JobSHA256, s.Record.Seed, s.Record.Workers = job.Job, p.JobSHA256, job.FirstSeed(), w.Processors()
	log.Start(&s.Record, fmt.Sprintf("shard %d/%d started", shard, p.Shards))
	if round := len(p.Race) - 1; round >= 0 {
		s.InRaceRound(job.Rounds(), round, func(i int) (*store.AtWork, error) { return p.paused(out, i) })
	}
	return s.Close(s.all(ctx, dir))
}

func (s *shardRunner) all(ctx context.Context, dir string) error {
	cases := cases.Cases(s.Job)
	mine := s.plan.casesOf(s.shard)
	m := manifest{Plan: s.plan.Digest, Shard: s.shard, Started: s.started, Host: s.Record.Host, Version: s.Record.Version}
	for _, i := range mine {
		if s.plan.goesOn(s.Saved, i) != nil {
			if err := s.Saved.Undo(i); err != nil {
				return err
			}
		}
	}
	if err := s.SearchAll(ctx, cases, mine); err != nil {
		if ctx.Err() != nil {
			return process.Interrupted(errors.New("interrupted; run the shard again to continue"))
		}
		return err
	}
	for _, i := range mine {
		d, err := s.Saved.MustLoadCase(i, cases[i].Name)
		if err != nil {
			return fmt.Errorf("case %s: %w", cases[i].Name, err)
		}
		m.Cases, m.Rows = append(m.Cases, cases[i].Name), m.Rows+len(d.Result.Front)
	}
	m.Ended = time.Now().UTC()
	if err := m.publish(dir, s.Record.Started); err != nil {
		return err
	}
	s.Rows = 1 // a shard without a feasible candidate is complete too; merge reports it
	fmt.Fprintf(s.Env.Out, "shard %d/%d: %s of %s\n", s.shard, s.plan.Shards, words.Counted(m.Rows, "candidate"), words.Counted(len(mine), "case"))
	return nil
}

func MakePlan(env *process.Env, args []string, shards, base int, out string) error {
	job, text, err := files.Job(env, args)
	if err != nil {
		return err
	}
	cases := len(cases.Cases(job))
	switch {
	case out == "":
		return process.BadInput(errors.New("--out PLAN is required: the file for the plan"))
	case shards < 1 || shards > cases:
		return process.BadInput(fmt.Errorf("--shards %d; the job has %s, so it must be 1 to %d", shards, words.Counted(cases, "case"), cases))
	case base < 0:
		return process.BadInput(fmt.Errorf("--index-base %d; must be 0 or more", base))
	}
	if err := refusesRace(job); err != nil {
		return err
	}
	b, err := store.Pack(job, args[0], text, 0, time.Now())
	if err != nil {
		return err
	}
	if _, err := os.Stat(out); err == nil {
		return process.BadInput(fmt.Errorf("%s already exists; a plan is never overwritten, choose another name", out))
	}
	p, err := NewPlan(job, b, shards, base, record.New(time.Now()).Version)
	if err != nil {
		return err
	}
	if err := p.Write(out); err != nil {
		return err
	}
	fmt.Fprintf(env.Out, "%s: %s in %s\n\n", out, words.Counted(cases, "case"), words.Counted(shards, "shard"))
	return submission(env.Out, p, out)
}
