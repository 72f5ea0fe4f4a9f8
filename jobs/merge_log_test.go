package jobs

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/jobs/shards"
	"forkfront/results"
	"forkfront/results/sealed"
)

// A merged folder has the story of all its shards, each line with its shard, the same however often it is
// merged.
func TestMergedFolderHasTheLogsOfItsShards(t *testing.T) {
	t.Parallel()
	plan, dir := planned(t, twelve(t), 3), filepath.Join(t.TempDir(), "out")
	for _, i := range []int{2, 0, 1} {
		want(t, process.Done, "run", "--plan", plan, "--shard", fmt.Sprintf("%d/3", i), "--out", dir)
	}
	var before string
	for range 2 {
		want(t, process.Done, "merge", "--plan", plan, "--out", dir)
		now := fileText(t, filepath.Join(dir, results.LogFile))
		if before != "" && now != before {
			t.Error("merged again, the log is another")
		}
		before = now
	}
	finished, last := map[int]int{}, 0
	for _, line := range strings.Split(strings.TrimSpace(before), "\n") {
		var l struct {
			Shard   *int
			Message string
		}
		if err := json.Unmarshal([]byte(line), &l); err != nil || l.Shard == nil || *l.Shard < last {
			t.Fatalf("%v: %s", err, line)
		}
		last = *l.Shard
		if l.Message == "case finished" {
			finished[last]++
		}
	}
	for shard := range 3 {
		if finished[shard] != 4 {
			t.Errorf("%d cases of shard %d are told of, want 4", finished[shard], shard)
		}
	}
}

// What is no whole line of a log is left out and counted: damaged, longer than any of ours; and, uncounted, what a kill
// cut off. Lines of an earlier version have no checksums.
func TestLogsAreJoinedByWholeLines(t *testing.T) {
	line := func(object string) string { return string(sealed.Line(nil, []byte(object))) }
	long := "{\"long\":\"" + strings.Repeat("x", shards.LongestLine) + "\"}\n"
	for text, want := range map[string]struct {
		joined  string
		damaged int
	}{
		line(`{"a":1}`) + "no JSON\n" + line(`{}`) + long + "[1]\n" + line(`{"b":2}`) + "{\"cut\":": {line(`{"shard":3,"a":1}`) + line(`{"shard":3}`) + line(`{"shard":3,"b":2}`), 3},
		line(`{"a":1}`) + strings.Replace(line(`{"b":2}`), "2", "3", 1):                             {line(`{"shard":3,"a":1}`), 1},
		line(`{"a":1}`) + "{\"b\":2}\n":                                                             {line(`{"shard":3,"a":1}`), 1},
		"{\"a\":1}\n{}\nno JSON\n":                                                                  {line(`{"shard":3,"a":1}`) + line(`{"shard":3}`), 1},
	} {
		path := filepath.Join(t.TempDir(), "log.jsonl")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		w := bufio.NewWriter(&out)
		damaged, err := shards.MergeLog(w, path, 3)
		if err != nil {
			t.Fatal(err)
		}
		none, err := shards.MergeLog(w, path+".none", 4)
		if err != nil || none != 0 {
			t.Errorf("no log: %d damaged, %v", none, err)
		}
		w.Flush()
		if out.String() != want.joined || damaged != want.damaged {
			t.Errorf("%.80q: got %q, %d damaged, want %q, %d", text, out.String(), damaged, want.joined, want.damaged)
		}
	}
}
