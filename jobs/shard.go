package jobs

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
	"github.com/spf13/cobra"

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

const manifestFile = "manifest.json"

// shardRunner runs one shard. A second copy of the same shard, even at the same time, finds the
// same fronts; whoever publishes first is kept.
type shardRunner struct {
	runner
	plan    *plan
	shard   int
	started time.Time // the first time, in UTC
}

// runShard searches the cases of one shard and publishes them below out.
func runShard(ctx context.Context, env *Env, planName, named, out string, w *work) error {
	in, err := env.input(planName)
	if err != nil {
		return err
	}
	defer in.Close()
	p, job, err := readPlan(planName, in)
	if err != nil {
		return err
	}
	shard, err := shardOf(named, p, env.getenv)
	if err != nil {
		return err
	}
	if err := p.unmixed(out, shard); err != nil {
		return err
	}
	dir := shardDir(out, shard)
	if m, err := readManifest(dir); err == nil && p.trouble(job.journalled(), out, shard) == nil {
		fmt.Fprintf(env.Out, "shard %d/%d: %s, published before\n", shard, p.Shards, counted(m.Rows, "candidate"))
		return nil
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("make the shard's folder: %w", err)
	}
	now := time.Now().UTC()
	s := &shardRunner{plan: p, shard: shard, started: firstStart(filepath.Join(dir, results.LogFile), now)}
	log, err := openLog(env, filepath.Join(dir, results.LogFile))
	if err != nil {
		return err
	}
	s.runner = runner{
		env: env, job: job, work: w, log: log, record: record.New(now),
		saved: &checkpoints{dir: dir, digest: p.Digest, shared: true},
	}
	s.record.JobName, s.record.JobSHA256, s.record.Seed, s.record.Workers = job.Job, p.JobSHA256, job.firstSeed(), w.processors()
	log.start(&s.record, fmt.Sprintf("shard %d/%d started", shard, p.Shards))
	return s.close(s.all(ctx, dir))
}

// firstStart is when a shard first was at work, by the first line of its log; now where it has none that says so.
func firstStart(log string, now time.Time) time.Time {
	f, err := os.Open(log)
	if err != nil {
		return now
	}
	defer f.Close()
	var line struct{ Time time.Time }
	if err := json.NewDecoder(io.LimitReader(f, longestLine)).Decode(&line); err != nil || line.Time.IsZero() || line.Time.After(now) {
		return now
	}
	return line.Time.UTC()
}

// firstSeed is the seed that a run record states.
func (j *JobFile) firstSeed() uint64 {
	if len(j.Seeds) == 0 {
		return 0
	}
	return j.Seeds[0]
}

func (s *shardRunner) all(ctx context.Context, dir string) error {
	cases := s.job.Cases()
	mine := s.plan.casesOf(s.shard)
	m := manifest{Plan: s.plan.Digest, Shard: s.shard, Started: s.started, Host: s.record.Host, Version: s.record.Version}
	if err := s.searchAll(ctx, cases, mine); err != nil {
		if ctx.Err() != nil {
			return &exit{exitUnfinished, errors.New("interrupted; run the shard again to go on")}
		}
		return err
	}
	for _, i := range mine {
		d, err := s.saved.mustLoadCase(i)
		if err != nil {
			return fmt.Errorf("case %s: %w", cases[i].Name, err)
		}
		m.Cases, m.Rows = append(m.Cases, cases[i].Name), m.Rows+len(d.Result.Front)
	}
	m.Ended = time.Now().UTC()
	if err := m.publish(dir, s.record.Started); err != nil {
		return err
	}
	s.rows = 1 // a shard without a feasible candidate is whole all the same; merge tells
	fmt.Fprintf(s.env.Out, "shard %d/%d: %s of %s\n", s.shard, s.plan.Shards, counted(m.Rows, "candidate"), counted(len(mine), "case"))
	return nil
}

// publish leaves alone what another copy of the shard has published since this one began: what was joined
// once says when the first of them ended.
func (m *manifest) publish(dir string, began time.Time) error {
	if there, err := readManifest(dir); err == nil && there.Plan == m.Plan && there.Ended.After(began) {
		return nil
	}
	text, err := json.MarshalIndent(m, "", "  ")
	if err == nil {
		err = renameio.WriteFile(filepath.Join(dir, manifestFile), append(text, '\n'), 0o644, renameio.WithTempDir(dir))
	}
	if err != nil {
		return fmt.Errorf("publish the shard: %w", err)
	}
	return nil
}

func readManifest(dir string) (*manifest, error) {
	text, err := os.ReadFile(filepath.Join(dir, manifestFile))
	if err != nil {
		return nil, err
	}
	m := new(manifest)
	return m, json.Unmarshal(text, m)
}

func verbPlan(env *Env) *cobra.Command {
	var shards, base int
	var out string
	c := &cobra.Command{
		Use:   "plan JOB --shards N --out PLAN",
		Short: "Spread a job over the tasks of an array engine",
		Args:  cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return makePlan(env, args, shards, base, out)
		},
	}
	c.Flags().IntVar(&shards, "shards", 0, "tasks of the array; at most one a case")
	c.Flags().IntVar(&base, "index-base", 0, "index of the first task, as the engine counts: 1 for LSF, Grid Engine and PBS unless told otherwise")
	c.Flags().StringVar(&out, "out", "", "file to write the plan to")
	return c
}

func makePlan(env *Env, args []string, shards, base int, out string) error {
	job, text, err := env.job(args)
	if err != nil {
		return err
	}
	cases := len(job.Cases())
	switch {
	case out == "":
		return badInput(errors.New("--out PLAN is needed: the file that the plan goes to"))
	case shards < 1 || shards > cases:
		return badInput(fmt.Errorf("--shards %d; the job has %s, so 1 to %d is allowed", shards, counted(cases, "case"), cases))
	case base < 0:
		return badInput(fmt.Errorf("--index-base %d; 0 or more is allowed", base))
	}
	b, err := pack(job, args[0], text, 0, time.Now())
	if err != nil {
		return err
	}
	if _, err := os.Stat(out); err == nil {
		return badInput(fmt.Errorf("%s is there already; a plan never changes, write another", out))
	}
	p, err := newPlan(job, b, shards, base, record.New(time.Now()).Version)
	if err != nil {
		return err
	}
	if err := p.write(out); err != nil {
		return err
	}
	fmt.Fprintf(env.Out, "%s: %s in %s\n\n", out, counted(cases, "case"), counted(shards, "shard"))
	return submission(env.Out, p, out)
}
