package shards

import (
	"fmt"
	"strconv"
	"strings"

	"forkfront/jobs/process"
)

// engine is an array engine as its tasks see it: the variable that holds the task's index, and one that is set only
// in tasks of an array. The names are those of the engines' own manuals.
type engine struct {
	name   string
	index  string
	proof  string // a variable that must also be set; empty: none is known
	absent string // value of the index in a job that is not an array
}

var engines = []engine{
	{name: "Slurm", index: "SLURM_ARRAY_TASK_ID", proof: "SLURM_ARRAY_JOB_ID"},
	{name: "Kubernetes", index: "JOB_COMPLETION_INDEX"},
	{name: "AWS Batch", index: "AWS_BATCH_JOB_ARRAY_INDEX", proof: "AWS_BATCH_JOB_ID"},
	{name: "Google Batch", index: "BATCH_TASK_INDEX", proof: "BATCH_TASK_COUNT"},
	{name: "PBS", index: "PBS_ARRAY_INDEX"},
	{name: "LSF", index: "LSB_JOBINDEX", proof: "LSB_JOBID", absent: "0"},
	{name: "Grid Engine", index: "SGE_TASK_ID", absent: "undefined"},
}

// present returns the index that the engine has set, and whether there is one.
func (e *engine) present(getenv func(string) string) (string, bool) {
	value := getenv(e.index)
	if value == "" || value == e.absent || e.proof != "" && getenv(e.proof) == "" {
		return "", false
	}
	return value, true
}

// ShardOf finds which shard of a plan this process is: the one named, as i/N, or the index that the only array engine
// present has set. The number of shards is always the plan's, since an engine that runs failed tasks again reports
// another count.
func ShardOf(named string, p *Plan, getenv func(string) string) (int, error) {
	if named != "" {
		return namedShard(named, p.Shards)
	}
	var found []string
	index, by := "", ""
	for i := range engines {
		if value, ok := engines[i].present(getenv); ok {
			found = append(found, fmt.Sprintf("%s (%s=%s)", engines[i].name, engines[i].index, value))
			index, by = value, engines[i].index
		}
	}
	switch {
	case len(found) == 0:
		return 0, process.BadInput(fmt.Errorf("no shard is selected of the %d in the plan: give --shard i/%d, or run as a task of an array engine", p.Shards, p.Shards))
	case len(found) > 1:
		return 0, process.BadInput(fmt.Errorf("two array engines select a shard: %s; give --shard i/%d", strings.Join(found, " and "), p.Shards))
	}
	i, err := wholeNumber(index)
	if err != nil {
		return 0, process.BadInput(fmt.Errorf("%s=%q is not an index; expected digits", by, index))
	}
	if i -= p.IndexBase; i < 0 || i >= p.Shards {
		return 0, process.BadInput(fmt.Errorf("%s=%s; the plan has %d shards, so it must be %d to %d", by, index, p.Shards, p.IndexBase, p.IndexBase+p.Shards-1))
	}
	return i, nil
}

// namedShard reads i/N, i from 0.
func namedShard(named string, shards int) (int, error) {
	first, second, both := strings.Cut(named, "/")
	i, err1 := wholeNumber(first)
	n, err2 := wholeNumber(second)
	if !both || err1 != nil || err2 != nil {
		return 0, process.BadInput(fmt.Errorf("--shard %q; expected i/%d, with i from 0 to %d", named, shards, shards-1))
	}
	if n != shards {
		return 0, process.BadInput(fmt.Errorf("--shard %s; the plan has %d shards", named, shards))
	}
	if i >= n {
		return 0, process.BadInput(fmt.Errorf("--shard %s; must be 0/%d to %d/%d", named, n, n-1, n))
	}
	return i, nil
}

// wholeNumber reads digits and nothing else: no sign, no blanks.
func wholeNumber(s string) (int, error) {
	n, err := strconv.ParseUint(s, 10, 31)
	return int(n), err
}
