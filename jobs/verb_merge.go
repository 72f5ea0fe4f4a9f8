package jobs

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"forkfront/results"
	"forkfront/results/record"
)

func verbMerge(env *Env) *cobra.Command {
	var planName, out string
	c := &cobra.Command{
		Use:   "merge --plan PLAN --out DIR",
		Short: "Join the shards of a plan into one results folder",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			if planName == "" || out == "" {
				return badInput(errors.New("--plan PLAN and --out DIR are needed: the plan, and the folder that its shards went to"))
			}
			return merge(env, planName, out)
		},
	}
	c.Flags().StringVar(&planName, "plan", "", "the plan that the shards were run with")
	c.Flags().StringVar(&out, "out", "", "folder that the shards went to; the results go there too")
	return c
}

// merge joins all shards case by case. It may be run as often as one likes: the same shards give
// the same files.
func merge(env *Env, planName, out string) error {
	in, err := env.input(planName)
	if err != nil {
		return err
	}
	defer in.Close()
	p, job, err := readPlan(planName, in)
	if err != nil {
		return err
	}
	if err := p.place(out); err != nil {
		return err
	}
	missing, err := p.missing(env, job, out)
	switch {
	case err != nil:
		return err
	case len(missing) > 0:
		return &exit{exitUnfinished, fmt.Errorf("%d of %s missing; run again: --array=%s", len(missing), plural(p.Shards, "shard is", "shards are"), ranges(missing, p.IndexBase))}
	}
	folder, err := mergeFolder(out)
	if err != nil {
		return occupied(err)
	}
	defer folder.Close()
	r := &runner{env: env, job: job, folder: folder, work: &work{}}
	if r.record, err = p.record(job, out); err != nil {
		return err
	}
	if err := r.finish(p.found(job, out)); err != nil {
		return err
	}
	if err := p.mergeLogs(folder, out); err != nil {
		return err
	}
	if r.rows == 0 {
		return errNothing
	}
	return nil
}

// record is that of the run that the shards are: from when the first of them began to when the last ended.
func (p *plan) record(job *JobFile, out string) (record.Run, error) {
	var first, last time.Time
	for shard := range p.Shards {
		m, err := readManifest(shardDir(out, shard))
		if err != nil {
			return record.Run{}, fmt.Errorf("shard %d: %w", shard, err)
		}
		if first.IsZero() || m.Started.Before(first) {
			first = m.Started
		}
		if m.Ended.After(last) {
			last = m.Ended
		}
	}
	r := record.New(first)
	r.Finished, r.Plan, r.JobName, r.JobSHA256, r.Seed = last, p.Digest, job.Job, p.JobSHA256, job.firstSeed()
	return r, nil
}

// mergeFolder opens the folder that the merged results go to: a new one, or one with what a merge of the same
// plan left there, which is written over file by file.
func mergeFolder(out string) (*results.Folder, error) {
	folder, err := results.Reopen(out)
	if errors.Is(err, fs.ErrNotExist) {
		return results.Open(out, false)
	}
	return folder, err
}

// missing lists the shards that are not whole, and says what is wrong with those that are there. Those of
// another plan are an error.
func (p *plan) missing(env *Env, job *JobFile, out string) (missing []int, err error) {
	cases := job.journalled()
	for shard := range p.Shards {
		if err := p.own(out, shard); err != nil {
			return nil, err
		}
		if why := p.trouble(cases, out, shard); why != nil {
			missing = append(missing, shard)
			fmt.Fprintf(env.Err, "shard %d: %v\n", shard, why)
		}
	}
	return missing, nil
}

// journalled are the cases of a job that keeps all candidates; none of another.
func (j *JobFile) journalled() []*Case {
	if j.Keep != keepAll {
		return nil
	}
	return j.Cases()
}

// trouble tells why a shard cannot be merged; nil when it can. cases are those that journals are looked
// through for.
func (p *plan) trouble(cases []*Case, out string, shard int) error {
	dir := shardDir(out, shard)
	if _, err := readManifest(dir); err != nil {
		return fmt.Errorf("not published: %w", err)
	}
	saved := checkpoints{dir: dir, digest: p.Digest}
	for _, i := range p.casesOf(shard) {
		d, err := saved.mustLoadCase(i)
		if err == nil && cases != nil {
			err = readJournal(saved.journalPath(i), cases[i], d.Result.Candidates, look)
		}
		if err != nil {
			return fmt.Errorf("case %s: %w", p.Cases[i], err)
		}
	}
	return nil
}

// found are the cases of the plan, each read from its shard when it is needed.
func (p *plan) found(job *JobFile, out string) []found {
	all := make([]found, len(p.Cases))
	for i, c := range job.Cases() {
		saved := checkpoints{dir: shardDir(out, i%p.Shards), digest: p.Digest}
		all[i] = found{c, func() (*doneCase, error) { return saved.mustLoadCase(i) }, saved.journalPath(i)}
	}
	return all
}

// ranges writes numbers the way array engines take them: 0-2,5.
func ranges(numbers []int, base int) string {
	var parts []string
	numbers = slices.Sorted(slices.Values(numbers))
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		if i == j {
			parts = append(parts, fmt.Sprint(numbers[i]+base))
		} else {
			parts = append(parts, fmt.Sprintf("%d-%d", numbers[i]+base, numbers[j]+base))
		}
		i = j + 1
	}
	return strings.Join(parts, ",")
}
