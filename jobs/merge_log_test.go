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
)

// A merged folder has the story of all its shards, each line with its shard, the same however often it is
// merged.
func TestAMergedFolderHasTheLogsOfItsShards(t *testing.T) {
	t.Parallel()
	plan, dir := planned(t, twelve(t), 3), filepath.Join(t.TempDir(), "out")
	for _, i := range []int{2, 0, 1} {
		if code, _, said := command(t, "run", "--plan", plan, "--shard", fmt.Sprintf("%d/3", i), "--out", dir); code != process.Done {
			t.Fatalf("exit %d: %s", code, said)
		}
	}
	var before string
	for range 2 {
		if code, _, said := command(t, "merge", "--plan", plan, "--out", dir); code != process.Done {
			t.Fatalf("exit %d: %s", code, said)
		}
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

// What is no whole line of a log is left out: cut off by a kill, damaged, longer than any of ours.
func TestLogsAreJoinedByWholeLines(t *testing.T) {
	path := filepath.Join(t.TempDir(), "log.jsonl")
	text := "{\"a\":1}\nno JSON\n{}\n{\"long\":\"" + strings.Repeat("x", shards.LongestLine) + "\"}\n[1]\n{\"b\":2}\n{\"cut\":"
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := bufio.NewWriter(&out)
	for shard, name := range []string{path, filepath.Join(t.TempDir(), "none")} {
		if err := shards.MergeLog(w, name, shard); err != nil {
			t.Fatal(err)
		}
	}
	w.Flush()
	if want := "{\"shard\":0,\"a\":1}\n{\"shard\":0}\n{\"shard\":0,\"b\":2}\n"; out.String() != want {
		t.Errorf("got %q, want %q", out.String(), want)
	}
}
