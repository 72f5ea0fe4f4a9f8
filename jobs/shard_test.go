package jobs

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"forkfront/jobs/process"
	"forkfront/jobs/shards"
	"forkfront/jobs/words"
	"forkfront/results"
)

// twelve is the demo as a sweep of twelve small cases: two mechanisms and six seeds.
func twelve(t *testing.T) string {
	t.Helper()
	text := shortDemo("400", "seeds: [1]", "seeds: [1, 2, 3, 4, 5, 6]") + "keep: all\n"
	path := filepath.Join(t.TempDir(), "twelve.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func planned(t *testing.T, job string, shards int) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "plan.json")
	code, out, said := command(t, "plan", job, "--shards", fmt.Sprint(shards), "--out", path)
	if code != process.Done || !strings.Contains(out, "12 cases in "+words.Counted(shards, "shard")) || !strings.Contains(out, "sbatch") {
		t.Fatalf("exit %d: %s%s", code, out, said)
	}
	return path
}

// One, two or four shards, in any order and some of them twice: the same files as one process.
func TestShardsJoinToTheFrontOfOneProcess(t *testing.T) {
	t.Parallel()
	job := twelve(t)
	whole := undisturbed(t, job)
	for _, shards := range []int{1, 2, 4} {
		plan, dir := planned(t, job, shards), filepath.Join(t.TempDir(), "out")
		for i := shards - 1; i >= 0; i-- {
			if code, _, said := command(t, "merge", "--plan", plan, "--out", dir); code != process.Unfinished || !strings.Contains(said, "--array=") {
				t.Fatalf("merging too early: exit %d: %s", code, said)
			}
			for range max(1, shards/2) { // a shard that is run again changes nothing
				want(t, process.Done, "run", "--plan", plan, "--shard", fmt.Sprintf("%d/%d", i, shards), "--out", dir)
			}
		}
		for range max(1, shards/2) {
			want(t, process.Done, "merge", "--plan", plan, "--out", dir)
			sameResults(t, whole, dir)
		}
	}
}

// Two copies of a shard at once, one of them stopped and run again: nothing is mixed up.
func TestAShardMayRunTwiceAtOnce(t *testing.T) {
	t.Parallel()
	job := twelve(t)
	whole := undisturbed(t, job)
	plan, dir := planned(t, job, 2), filepath.Join(t.TempDir(), "out")
	both := make(chan int)
	for _, after := range []time.Duration{time.Hour, 100 * time.Millisecond} {
		go func() {
			ctx, cancel := context.WithTimeout(context.Background(), after)
			defer cancel()
			var o, e strings.Builder
			both <- Main(ctx, process.Env{Args: []string{"run", "--plan", plan, "--shard", "0/2", "--out", dir, "--checkpoint-every", "0s"}, Out: &o, Err: &e})
		}()
	}
	for range 2 {
		if code := <-both; code != process.Done && code != process.Unfinished {
			t.Errorf("exit %d", code)
		}
	}
	for i := range 2 {
		want(t, process.Done, "run", "--plan", plan, "--shard", fmt.Sprintf("%d/2", i), "--out", dir)
	}
	want(t, process.Done, "merge", "--plan", plan, "--out", dir)
	sameResults(t, whole, dir)
}

func TestMergeNamesWhatIsMissing(t *testing.T) {
	t.Parallel()
	job := twelve(t)
	plan, dir := planned(t, job, 6), filepath.Join(t.TempDir(), "out")
	for _, i := range []int{0, 1, 2, 4} {
		want(t, process.Done, "run", "--plan", plan, "--shard", fmt.Sprintf("%d/6", i), "--out", dir)
	}
	// A case file that was damaged after it was published.
	path := filepath.Join(shards.ShardDir(dir, 1), "case-00001.checkpoint")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, flipped(text, len(text)/2), 0o644); err != nil {
		t.Fatal(err)
	}
	code, _, said := command(t, "merge", "--plan", plan, "--out", dir)
	if code != process.Unfinished || !strings.Contains(said, "--array=1,3,5") || !strings.Contains(said, "damaged") {
		t.Errorf("exit %d: %s", code, said)
	}
	if _, err := os.Stat(filepath.Join(dir, results.FrontFile)); err == nil {
		t.Error("a front of some of the shards was written")
	}
}

// What the engines' manuals say of a task's environment, and what was seen to go wrong.
func TestWhichShardTheEnvironmentSays(t *testing.T) {
	p := &shards.Plan{Shards: 8}
	one := &shards.Plan{Shards: 8, IndexBase: 1}
	for _, x := range []struct {
		plan  *shards.Plan
		named string
		env   map[string]string
		want  int
		says  string
	}{
		{p, "3/8", nil, 3, ""},
		{p, "3/8", map[string]string{"JOB_COMPLETION_INDEX": "5"}, 3, ""},
		{p, "", map[string]string{"SLURM_ARRAY_TASK_ID": "5", "SLURM_ARRAY_JOB_ID": "77", "SLURM_ARRAY_TASK_COUNT": "2"}, 5, ""},
		{p, "", map[string]string{"JOB_COMPLETION_INDEX": "0"}, 0, ""},
		{p, "", map[string]string{"AWS_BATCH_JOB_ARRAY_INDEX": "7", "AWS_BATCH_JOB_ID": "a:7"}, 7, ""},
		{p, "", map[string]string{"BATCH_TASK_INDEX": "2", "BATCH_TASK_COUNT": "8"}, 2, ""},
		{one, "", map[string]string{"LSB_JOBINDEX": "8", "LSB_JOBID": "9"}, 7, ""},
		{one, "", map[string]string{"SGE_TASK_ID": "1"}, 0, ""},
		{one, "", map[string]string{"PBS_ARRAY_INDEX": "4"}, 3, ""},
		{p, "", nil, 0, "no shard is selected"},
		{p, "", map[string]string{"SLURM_ARRAY_TASK_ID": "5"}, 0, "no shard is selected"}, // left over in a job that is no array
		{p, "", map[string]string{"LSB_JOBINDEX": "0", "LSB_JOBID": "9"}, 0, "no shard is selected"},
		{p, "", map[string]string{"SGE_TASK_ID": "undefined"}, 0, "no shard is selected"},
		{p, "", map[string]string{"JOB_COMPLETION_INDEX": "1", "SLURM_ARRAY_TASK_ID": "1", "SLURM_ARRAY_JOB_ID": "7"}, 0, "two array engines"},
		{p, "", map[string]string{"JOB_COMPLETION_INDEX": "8"}, 0, "0 to 7"},
		{one, "", map[string]string{"PBS_ARRAY_INDEX": "0"}, 0, "1 to 8"},
		{p, "", map[string]string{"JOB_COMPLETION_INDEX": "-1"}, 0, "digits"},
		{p, "", map[string]string{"JOB_COMPLETION_INDEX": "1.0"}, 0, "digits"},
		{p, "8/8", nil, 0, "0/8 to 7/8"},
		{p, "1/4", nil, 0, "8 shards"},
		{p, "x", nil, 0, "i/8"},
		{p, "1/8/2", nil, 0, "i/8"},
	} {
		got, err := shards.ShardOf(x.named, x.plan, func(name string) string { return x.env[name] })
		switch {
		case x.says == "" && (err != nil || got != x.want):
			t.Errorf("%q %v: %d, %v; want %d", x.named, x.env, got, err, x.want)
		case x.says != "" && (err == nil || !strings.Contains(err.Error(), x.says)):
			t.Errorf("%q %v: %d, %v; want an error with %q", x.named, x.env, got, err, x.says)
		}
	}
}

func TestAPlanThatWasChangedIsRefused(t *testing.T) {
	job := twelve(t)
	path := planned(t, job, 3)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range [][2]string{{`"shards":3`, `"shards":4`}, {`"SagPct":25`, `"SagPct":26`}, {`{`, `[`}, {`"shards"`, `"shard"`}} {
		bad := filepath.Join(t.TempDir(), "plan.json")
		if err := os.WriteFile(bad, []byte(strings.Replace(string(text), x[0], x[1], 1)), 0o644); err != nil {
			t.Fatal(err)
		}
		if code, _, said := command(t, "run", "--plan", bad, "--shard", "0/3", "--out", t.TempDir()); code != process.Input || said == "" {
			t.Errorf("%v: exit %d: %s", x, code, said)
		}
	}
	if code, _, said := command(t, "plan", job, "--shards", "3", "--out", path); code != process.Input || !strings.Contains(said, "never overwritten") {
		t.Errorf("writing over a plan: exit %d: %s", code, said)
	}
}

// A shard that was damaged after it was published is named, may be run again, and then merges.
func TestDamagedShardIsRunAgain(t *testing.T) {
	t.Parallel()
	job := twelve(t)
	whole := undisturbed(t, job)
	plan, dir := planned(t, job, 2), filepath.Join(t.TempDir(), "out")
	shard := func(i int) string {
		code, out, said := command(t, "run", "--plan", plan, "--shard", fmt.Sprintf("%d/2", i), "--out", dir)
		if code != process.Done {
			t.Fatalf("shard %d: exit %d: %s", i, code, said)
		}
		return out
	}
	shard(0)
	shard(1)
	for _, name := range []string{"case-00003.checkpoint", "candidates-00005.checkpoint"} {
		path := filepath.Join(shards.ShardDir(dir, 1), name)
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		text[len(text)/3] ^= 4
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
		if code, _, said := command(t, "merge", "--plan", plan, "--out", dir); code != process.Unfinished || !strings.Contains(said, name) {
			t.Errorf("%s damaged: exit %d, %s", name, code, said)
		}
		if out := shard(0); !strings.Contains(out, "already published") {
			t.Errorf("a whole shard says %q", out)
		}
		if out := shard(1); strings.Contains(out, "already published") {
			t.Errorf("a damaged shard says %q", out)
		}
	}
	want(t, process.Done, "merge", "--plan", plan, "--out", dir)
	sameResults(t, whole, dir)
}
