package shards

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/race"
	"forkfront/jobs/run"
	"forkfront/jobs/store"
	"forkfront/jobs/tables"
	"forkfront/jobs/words"
	"forkfront/optimize/arithmetic"
	"forkfront/results"
	"forkfront/results/record"
)

// Merge merges all shards case by case. It may be repeated: the same shards give the same files.
func Merge(ctx context.Context, env *process.Env, planName, out string) error {
	p, job, err := openPlan(env, planName)
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
		return process.Interrupted(fmt.Errorf("%d of %s missing; run again: --shard i/%d with i = %s; in an array job: --array=%s", len(missing), words.Plural(p.Shards, "shard is", "shards are"), p.Shards, ranges(missing, 0), ranges(missing, p.IndexBase)))
	}
	if p.now() != nil {
		return p.mergeRound(ctx, env, job, planName, out)
	}
	return p.mergeAll(ctx, env, job, out, p.found(job, out), nil)
}

// mergeAll writes the results of all cases, of a race if they had one.
func (p *Plan) mergeAll(ctx context.Context, env *process.Env, job *files.JobFile, out string, found []store.Found, course *race.Course) error {
	folder, err := mergeFolder(out)
	if err != nil {
		return store.Occupied(err)
	}
	defer folder.Close()
	r := &run.Runner{Env: env, Job: job, Folder: folder, Work: &run.Work{}, Raced: course}
	if r.Record, err = p.record(job, out, env.Err); err != nil {
		return err
	}
	if err := r.Finish(ctx, found); err != nil {
		if ctx.Err() != nil {
			return process.Interrupted(errors.New("interrupted; merge again"))
		}
		return err
	}
	if err := p.mergeLogs(folder, out, env.Err); err != nil {
		return err
	}
	if r.Rows == 0 {
		return process.ErrNothing
	}
	return nil
}

// record is that of the run that the shards make up, from the start of the first to the end of the last.
func (p *Plan) record(job *files.JobFile, out string, said io.Writer) (record.Run, error) {
	var first, last time.Time
	for shard := range p.Shards {
		m, err := p.published(out, shard)
		if err != nil {
			return record.Run{}, fmt.Errorf("shard %d: %w", shard, err)
		}
		if !m.sealed {
			fmt.Fprintf(said, "shard %d: its %s has no checksum: an earlier version of forkfront published it, and damage to it would go unnoticed\n", shard, ManifestFile)
		}
		if first.IsZero() || m.Started.Before(first) {
			first = m.Started
		}
		if m.Ended.After(last) {
			last = m.Ended
		}
	}
	r := record.New(first)
	r.Name, r.Prefer = record.NameOf(p.JobDigest), job.Prefer
	r.Finished, r.Plan, r.JobName, r.JobSHA256, r.Seed = last, p.Digest, job.Job, p.JobSHA256, job.FirstSeed()
	return r, nil
}

// mergeFolder opens the folder for the merged results: a new one, or one with the results of an earlier merge of the
// same plan, which are overwritten file by file.
func mergeFolder(out string) (*results.Folder, error) {
	folder, err := results.Reopen(out)
	if errors.Is(err, fs.ErrNotExist) {
		return results.Reuse(out, results.RaceFile) // which the rounds of a race have left
	}
	return folder, err
}

// missing lists the incomplete shards and reports what is wrong with them. Shards of another plan are an error.
func (p *Plan) missing(env *process.Env, job *files.JobFile, out string) (missing []int, err error) {
	cases := journalled(job)
	for shard := range p.Shards {
		if err := p.own(out, shard); err != nil {
			return nil, err
		}
		var other *arithmetic.Mismatch
		if why := p.fault(cases, out, shard); errors.As(why, &other) {
			return nil, process.BadInput(fmt.Errorf("shard %d: %w", shard, why))
		} else if why != nil {
			missing = append(missing, shard)
			fmt.Fprintf(env.Err, "shard %d: %v\n", shard, why)
		}
	}
	return missing, nil
}

// journalled are the cases of a job that keeps all candidates, otherwise none.
func journalled(j *files.JobFile) []*cases.Case {
	if j.Keep != tables.KeepAll {
		return nil
	}
	return cases.Cases(j)
}

// fault returns why a shard cannot be merged; nil when it can. cases are those whose journals are checked.
func (p *Plan) fault(cases []*cases.Case, out string, shard int) error {
	m, err := p.published(out, shard)
	if err != nil {
		return err
	}
	saved, rows := p.saved(out, shard), 0
	for _, i := range p.casesOf(shard) {
		d, err := saved.MustLoadCase(i, p.Cases[i])
		if err == nil && cases != nil {
			err = saved.Journal(i, cases[i]).Read(d.Result.Candidates, store.Skip)
		}
		if err == nil {
			err = p.goesOn(saved, i)
		}
		if err != nil {
			return fmt.Errorf("case %s: %w", p.Cases[i], err)
		}
		rows += len(d.Result.Front)
	}
	if rows != m.Rows {
		return fmt.Errorf("%d candidates; its %s says %d", rows, ManifestFile, m.Rows)
	}
	return nil
}

// found are the cases of the plan, each read from its shard when needed.
func (p *Plan) found(job *files.JobFile, out string) []store.Found {
	all := make([]store.Found, len(p.Cases))
	for i, c := range cases.Cases(job) {
		saved := store.Checkpoints{Dir: ShardDir(out, i%p.Shards), Digest: p.Digest}
		all[i] = store.Found{Case: c, Load: func() (*store.DoneCase, error) { return saved.MustLoadCase(i, c.Name) }, Journal: saved.Journal(i, c)}
	}
	return all
}

// ranges writes numbers as array engines expect them: 0-2,5.
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
