package jobs

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/record"
)

// Paths with blanks are printed so that a shell takes the command as one would mean it.
func TestCommandsToCopyAreQuoted(t *testing.T) {
	shell, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("no shell here")
	}
	dir := filepath.Join(t.TempDir(), "my results")
	begunOnly(t, tinyJob(t), dir)
	plan := filepath.Join(t.TempDir(), "my plan's.json")
	_, out, said := command(t, "plan", tinyJob(t), "--shards", "1", "--out", plan)
	_, _, again := command(t, "run", tinyJob(t), "--out", dir)
	_, _, none := command(t, "extract", filepath.Dir(plan), "x")
	for name, want := range map[string][2]string{
		"merge":   {regexp.MustCompile(`forkfront (merge --plan .*) --out RESULTS`).FindString(out), plan},
		"sbatch":  {regexp.MustCompile(`jobs/cluster/slurm-merge.sh .* RESULTS`).FindString(out), plan},
		"resume":  {regexp.MustCompile("forkfront resume [^`]*").FindString(again), dir},
		"extract": {regexp.MustCompile("forkfront resume [^`]*").FindString(none), filepath.Dir(plan)},
	} {
		words, err := exec.Command(shell, "-c", "for w in "+want[0]+"; do printf '%s\\n' \"$w\"; done").Output()
		if err != nil || !strings.Contains("\n"+string(words), "\n"+want[1]+"\n") {
			t.Errorf("%s: %q has no word %q: %v", name, want[0], want[1], err)
		}
	}
	entry := regexp.MustCompile(`command: (\[.*\])`).FindStringSubmatch(out)
	if entry == nil || !strings.Contains(entry[1], string(mustJSON(t, plan))) {
		t.Errorf("no entry of YAML for %s: %s%s", plan, out, said)
	}
}

func mustJSON(t *testing.T, v any) []byte {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// One of a thing is said as one, and a search that has a single evaluation says why it ended.
func TestSingularForms(t *testing.T) {
	text := strings.Replace(fileText(t, tinyJob(t)), "evaluations: 300", "evaluations: 1", 1)
	dir := filepath.Join(t.TempDir(), "out")
	_, _, said := command(t, "run", jobFile(t, text), "--out", dir)
	if !strings.Contains(said, "from 1 evaluation in") || !strings.Contains(said, "stopped by evaluations") {
		t.Errorf("a search of one evaluation: %s", said)
	}
	if run, err := record.Read(filepath.Join(dir, results.RunFile)); err != nil || run.Cases[0].Stop != "evaluations" {
		t.Errorf("%v: %+v", err, run)
	}
	text = strings.Replace(fileText(t, tinyJob(t)), "front_size: 3", "front_size: 1", 1)
	if _, _, said := command(t, "run", jobFile(t, text), "--out", filepath.Join(t.TempDir(), "out")); !strings.Contains(said, ": 1 candidate from 300 evaluations") {
		t.Errorf("a front of one: %s", said)
	}
}

// Names that would steer a terminal are refused where they are read, and shown harmless where results
// bring them along.
func TestNamesDoNotSteerTheTerminal(t *testing.T) {
	for _, name := range []string{`"red \e[31m"`, `"two\nlines"`, "\"turned \\u202e\"", "|\n  two\n  lines"} {
		code, out, said := command(t, "check", jobFile(t, strings.Replace(fileText(t, "testdata/valid.yaml"), "job: small", "job: "+name, 1)))
		if code != process.Input || !strings.Contains(said, ":1:6: job: ") || strings.ContainsAny(out+said, "\x1b\u202e") {
			t.Errorf("%s: exit %d: %q%q", name, code, out, said)
		}
	}
	key := strings.Replace(fileText(t, "testdata/valid.yaml"), "      arm_pivot:", "      \"arm\\e[2J\":", 1)
	if code, _, said := command(t, "check", jobFile(t, key)); code != process.Input || strings.Contains(said, "\x1b") {
		t.Errorf("a key: exit %d: %q", code, said)
	}
	dir := tinyResults(t)
	path := filepath.Join(dir, results.RunFile)
	text := strings.Replace(unsealed(t, path), `"summary": "`, `"summary": "\u001b[31m`, 1)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, out, said := command(t, "resume", dir); strings.Contains(out+said, "\x1b") || !strings.Contains(out, "has finished") {
		t.Errorf("resume: %q%q", out, said)
	}
}
