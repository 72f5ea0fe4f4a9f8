package jobs

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/build"
	"forkfront/results/record"
)

// What is bad input, and not something outside, says so by its exit code and names the way on.
func TestBadInputHasItsOwnExitCode(t *testing.T) {
	folder := t.TempDir()
	for _, x := range []struct {
		args []string
		says string
	}{
		{[]string{"check", folder}, "is a folder"},
		{[]string{"score", folder}, "is a folder"},
		{[]string{"extract", folder, "x"}, "resume"},
		{[]string{"score", "examples/cargo-girder.yaml", "--before", "examples/cargo-arm.yaml", "--json"}, "omit --json"},
		{[]string{"help", "foo"}, `no help on "foo"; allowed are check, `},
	} {
		if code, _, said := command(t, x.args...); code != process.Input || !strings.Contains(said, x.says) {
			t.Errorf("%v: exit %d: %s", x.args, code, said)
		}
	}
}

// The verb and the flag name the version, as the record and the tables of a run do.
func TestTheVersionIsToldAndKept(t *testing.T) {
	t.Parallel()
	verb, flag := want(t, process.Done, "version"), want(t, process.Done, "--version")
	if verb != flag || !strings.HasPrefix(verb, "forkfront "+build.This().Version) {
		t.Errorf("the verb says %q, the flag %q", verb, flag)
	}
	dir := tinyResults(t)
	if run, err := record.Read(filepath.Join(dir, results.RunFile)); err != nil || run.Version != build.This().Version {
		t.Errorf("run.json: %v, %+v", err, run)
	}
}

// check of a sweep of 24 cases describes the motion of each mechanism once.
func TestCheckDescribesAMechanismOnce(t *testing.T) {
	t.Parallel()
	said := want(t, process.Done, "check", "examples/bikes.yaml")
	for _, line := range []string{"  body blade: ", "  body carrier: "} {
		if n := strings.Count(said, line); n != 1 {
			t.Errorf("%d lines %q", n, line)
		}
	}
}

func TestAMechanismWithoutAShockSaysSo(t *testing.T) {
	arm, err := os.ReadFile("mechanisms/leading-arm.yaml")
	if err != nil {
		t.Fatal(err)
	}
	concept, err := os.ReadFile("examples/cargo-arm.yaml")
	if err != nil {
		t.Fatal(err)
	}
	without := func(text, key string) string {
		var kept []string
		for _, line := range strings.Split(text, "\n") {
			if !strings.Contains(line, key) {
				kept = append(kept, line)
			}
		}
		return strings.Join(kept, "\n")
	}
	dir := t.TempDir()
	straight := strings.NewReplacer("[[root, shock_upper], [shock_upper, arm_pivot]]", "[[root, arm_pivot]]", "[[arm_pivot, shock_lower], [shock_lower, axle]]", "[[arm_pivot, axle]]",
		"mechanism: leading-arm", "mechanism: bare arm")
	own := without(straight.Replace(string(arm)), "shock")
	fork := strings.Replace(without(string(concept), "shock"), "mechanism: leading-arm", "mechanism: arm.yaml", 1)
	for name, text := range map[string]string{"arm.yaml": own, "fork.yaml": fork} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	_, out, said := command(t, "score", filepath.Join(dir, "fork.yaml"))
	if !regexp.MustCompile(`(?m)^the mechanism drives no shock; without a value: .*, spring_rate_n_per_mm, `).MatchString(out) {
		t.Errorf("%s%s", out, said)
	}
}
