package shards

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/google/renameio/v2"

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

// manifest says that a shard is whole. It is published last.
type manifest struct {
	Plan    string    `json:"plan_digest"`
	Shard   int       `json:"shard"`
	Cases   []string  `json:"cases"`
	Rows    int       `json:"rows"`
	Started time.Time `json:"started"` // the first time that the shard was at work
	Ended   time.Time `json:"ended"`
	Host    string    `json:"host"`
	Version string    `json:"version"`
}

const ManifestFile = "manifest.json"

// shardRunner runs one shard. A second copy of the same shard, even at the same time, finds the
// same fronts; whoever publishes first is kept.
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
	dir := ShardDir(out, shard)
	if m, err := ReadManifest(dir); err == nil && p.trouble(journalled(job), out, shard) == nil {
		fmt.Fprintf(env.Out, "shard %d/%d: %s, already published\n", shard, p.Shards, words.Counted(m.Rows, "candidate"))
		return nil
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("create the shard's folder: %w", err)
	}
	now := time.Now().UTC()
	s := &shardRunner{plan: p, shard: shard, started: FirstStart(filepath.Join(dir, results.LogFile), now)}
	log, err := progress.OpenLog(env, filepath.Join(dir, results.LogFile))
	if err != nil {
		return err
	}
	s.Runner = run.Runner{
		Env: env, Job: job, Work: w, Log: log, Record: record.New(now),
		Saved: &store.Checkpoints{Dir: dir, Digest: p.Digest, Shared: true},
	}
	s.Record.JobName, s.Record.JobSHA256, s.Record.Seed, s.Record.Workers = job.Job, p.JobSHA256, job.FirstSeed(), w.Processors()
	log.Start(&s.Record, fmt.Sprintf("shard %d/%d started", shard, p.Shards))
	return s.Close(s.all(ctx, dir))
}

// FirstStart is when a shard first was at work, by the first line of its log; now where it has none that says so.
func FirstStart(log string, now time.Time) time.Time {
	f, err := os.Open(log)
	if err != nil {
		return now
	}
	defer f.Close()
	var line struct{ Time time.Time }
	if err := json.NewDecoder(io.LimitReader(f, LongestLine)).Decode(&line); err != nil || line.Time.IsZero() || line.Time.After(now) {
		return now
	}
	return line.Time.UTC()
}

func (s *shardRunner) all(ctx context.Context, dir string) error {
	cases := cases.Cases(s.Job)
	mine := s.plan.casesOf(s.shard)
	m := manifest{Plan: s.plan.Digest, Shard: s.shard, Started: s.started, Host: s.Record.Host, Version: s.Record.Version}
	if err := s.SearchAll(ctx, cases, mine); err != nil {
		if ctx.Err() != nil {
			return process.Interrupted(errors.New("interrupted; run the shard again to continue"))
		}
		return err
	}
	for _, i := range mine {
		d, err := s.Saved.MustLoadCase(i)
		if err != nil {
			return fmt.Errorf("case %s: %w", cases[i].Name, err)
		}
		m.Cases, m.Rows = append(m.Cases, cases[i].Name), m.Rows+len(d.Result.Front)
	}
	m.Ended = time.Now().UTC()
	if err := m.publish(dir, s.Record.Started); err != nil {
		return err
	}
	s.Rows = 1 // a shard without a feasible candidate is whole all the same; merge tells
	fmt.Fprintf(s.Env.Out, "shard %d/%d: %s of %s\n", s.shard, s.plan.Shards, words.Counted(m.Rows, "candidate"), words.Counted(len(mine), "case"))
	return nil
}

// publish leaves alone what another copy of the shard has published since this one began: what was joined
// once says when the first of them ended.
func (m *manifest) publish(dir string, began time.Time) error {
	if there, err := ReadManifest(dir); err == nil && there.Plan == m.Plan && there.Ended.After(began) {
		return nil
	}
	text, err := json.MarshalIndent(m, "", "  ")
	if err == nil {
		err = renameio.WriteFile(filepath.Join(dir, ManifestFile), append(text, '\n'), 0o644, renameio.WithTempDir(dir))
	}
	if err != nil {
		return fmt.Errorf("publish the shard: %w", err)
	}
	return nil
}

func ReadManifest(dir string) (*manifest, error) {
	text, err := os.ReadFile(filepath.Join(dir, ManifestFile))
	if err != nil {
		return nil, err
	}
	m := new(manifest)
	return m, json.Unmarshal(text, m)
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
