package jobs

import (
	"fmt"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"forkfront/jobs/process"
	"forkfront/jobs/run"
)

// manySeeds is the demo with so many seeds, in a file.
func manySeeds(t *testing.T, seeds int, change ...string) string {
	t.Helper()
	list := make([]string, seeds)
	for i := range list {
		list[i] = fmt.Sprint(i + 1)
	}
	change = append(change, "seeds: [1]", "seeds: ["+strings.Join(list, ", ")+"]", "budget: {", "budget: {max_cases: 5000, ")
	return jobFile(t, strings.NewReplacer(change...).Replace(plainDemo()))
}

// A sweep of thousands is told of in a page, and in seconds: cases that differ in their seed are tried once.
func TestASweepOfThousandsIsCheckedInSeconds(t *testing.T) {
	path, began := manySeeds(t, 2000, "evaluations: 200000", "evaluations: 4"), time.Now()
	code, out, said := command(t, "check", path)
	if took := time.Since(began); took > 30*time.Second { // a trial a case would take 200
		t.Errorf("took %s", took)
	}
	if code != process.Done || strings.Count(out, "1 degree of freedom") != 2 {
		t.Fatalf("exit %d: %s%s", code, out, said)
	}
	says(t, out, "demo: 4000 cases", "mid-tail cargo/girder/1: ", "mid-tail cargo/girder/20: ", "mid-tail cargo/leading-arm-floating-brake/1: ",
		"and 3979 more, the last being mid-tail cargo/leading-arm-floating-brake/2000\n")
	if n := strings.Count(out, "\n"); n > 100 {
		t.Errorf("%d lines", n)
	}
}

// Up to twenty cases are all listed, each mechanism's motion once.
func TestFewCasesAreAllListed(t *testing.T) {
	_, out, _ := command(t, "check", manySeeds(t, 10))
	if cases := strings.Count(out, "6 objectives"); cases != 20 || strings.Contains(out, "more") || strings.Count(out, "driver: ") != 2 {
		t.Errorf("%d of 20 cases: %s", cases, out)
	}
}

// What a default does not hold for is told of however late in the list it comes.
func TestLateCaseWithoutADefaultIsReported(t *testing.T) {
	t.Parallel()
	path := manySeeds(t, 30, "package:\n", "  - {name: last, eye_to_eye_mm: 165, stroke_mm: 40, spring: air, bore_mm: 38, chamber_mm: 80}\nsweep: [shocks]\npackage:\n",
		"  - {measure: spring_rate_n_per_mm, max: 114}\n", "")
	code, out, said := command(t, "check", path)
	if code != process.Done || !strings.Contains(out, "no limit on spring rate: air springs are not sold by rate") {
		t.Errorf("exit %d: %s%s", code, out, said)
	}
}

// estimated reads what check says of time and disk.
func estimated(t *testing.T, path string) (took time.Duration, megabytes int) {
	t.Helper()
	code, _, said := command(t, "check", path)
	found := regexp.MustCompile(`about (\S+) on the \d+ processors of this machine(?:, \d+ s of it to simulate events)?, up to about (\d+) MB`).FindStringSubmatch(said)
	if code != process.Done || found == nil {
		t.Fatalf("exit %d: %s", code, said)
	}
	took, errT := time.ParseDuration(found[1])
	megabytes, errM := strconv.Atoi(found[2])
	if errT != nil || errM != nil {
		t.Fatal(said)
	}
	return took, megabytes
}

// Whatever the budget, a case takes some time: thousands of tiny ones are no matter of a second.
func TestTheEstimateCountsCases(t *testing.T) {
	if took, _ := estimated(t, manySeeds(t, 2000, "evaluations: 200000", "evaluations: 4")); took < 4000*run.TimeOfCase || took > time.Minute {
		t.Errorf("about %s", took)
	}
}

// A limit of wall time is for each of the cases that run side by side, or for all.
func TestTheEstimateOfWallTime(t *testing.T) {
	t.Parallel()
	lanes := min(2, runtime.GOMAXPROCS(0))
	for budget, want := range map[string]time.Duration{
		"{total_wall: 120s}":                         2 * time.Minute,
		"{total_wall: 120s, evaluations: 900000000}": 2 * time.Minute,
		"{max_wall: 120s}":                           4 * time.Minute / time.Duration(lanes),
	} {
		text := strings.Replace(plainDemo(), "{evaluations: 200000}", budget, 1)
		if took, _ := estimated(t, jobFile(t, text)); took < want || took > want+5*time.Second {
			t.Errorf("%s: about %s, want %s and what it takes to write", budget, took, want)
		}
	}
}

// No more candidates are kept than are evaluated, however many a case may report.
func TestDiskEstimateIsLimitedByEvaluations(t *testing.T) {
	t.Parallel()
	text := shortDemo("300") + "front_size: 1000000000000\n"
	code, _, said := command(t, "check", jobFile(t, text))
	if first, _, _ := strings.Cut(said, "\n"); code != process.Done || !strings.HasSuffix(first, "up to about 2 MB of results") { // 600 rows of 400 + 33 × 60 bytes
		t.Errorf("exit %d: %s", code, said)
	}
	dir := filepath.Join(t.TempDir(), "out")
	if code, _, said := command(t, "run", jobFile(t, text), "--out", dir); code != process.Done {
		t.Errorf("exit %d: %s", code, said)
	}
}
