package jobs

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/record"
	"forkfront/results/rounds"
	"forkfront/results/table"
)

// raced are linkages of which some have feasible forks after a few hundred evaluations.
var raced = []string{"cl+cl", "c1-cl-12-l2+c2", "c1-cl-1b-lb+cl", "c1-cl-1b-lb+cb", "c1-c2-1l-2l+cl"}

// raceJob is the example with these linkages and small rounds. Changes are of its text.
func raceJob(t *testing.T, changes ...string) string {
	t.Helper()
	text := fileText(t, "examples/race/which-linkage.yaml")
	for _, x := range [][2]string{
		{`topologies: .*`, fmt.Sprintf("topologies: {only: [%s], arrangements: [low, trailing]}", strings.Join(raced, ", "))},
		{`race: .*`, "race: {first_evaluations: 250, finalists: 2}"},
		{`  - {measure: clearance_mm, min: 6}`, "  - {measure: clearance_mm, min: -40}"},
		{`  - {measure: shock_stroke_used_pct, min: 88, max: 100}`, "  - {measure: shock_stroke_used_pct, min: 60, max: 120}"},
		{`seeds: .*`, "seeds: [1]"},
		{`budget: .*`, "budget: {total_evaluations: 7501}\nfront_size: 60\nkeep: all"},
	} {
		old := text
		if text = regexp.MustCompile(`(?m)^`+x[0]+`$`).ReplaceAllString(text, x[1]); text == old {
			t.Fatalf("the example has no line %s", x[0])
		}
	}
	return jobFile(t, strings.NewReplacer(changes...).Replace(text))
}

// raceFiles are what a race must give in the same bytes, however it was run.
var raceFiles = append(slices.Clone(resultFiles), results.AllFile, results.NearestFile, results.RaceFile, results.TopologiesFile)

func sameRace(t *testing.T, one, two string) {
	t.Helper()
	for _, name := range raceFiles {
		if fileText(t, filepath.Join(one, name)) != fileText(t, filepath.Join(two, name)) {
			t.Errorf("%s differs", name)
		}
	}
}

func raceLines(t *testing.T, dir string) []rounds.Line {
	t.Helper()
	lines, err := rounds.Read(filepath.Join(dir, results.RaceFile))
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

// Rounds of 10, 5 and 3 cases cost 2500, 1250 and 1500, and the last two cases share the 2251 that are left: 1125 each, one short
// of all. What a case came to is in its row of every table, and cut cases keep their fronts.
func TestARaceSpendsItsBudgetInRounds(t *testing.T) {
	t.Parallel()
	dir := undisturbed(t, raceJob(t))
	lines := raceLines(t, dir)
	var counts []int
	spent, last := map[string]int{}, map[string]*rounds.Line{}
	for i := range lines {
		l := &lines[i]
		if l.Round > len(counts) {
			counts = append(counts, 0)
		}
		counts[l.Round-1]++
		spent[l.Case], last[l.Case] = l.Evaluations, l
		if l.Rounds != 4 || l.Place != counts[l.Round-1] || (l.Front > 0) != (l.Violation == nil) || (l.Outcome == rounds.Cut) != (l.Round < 4 && l.Place > []int{5, 3, 2}[l.Round-1]) {
			t.Errorf("%+v", *l)
		}
		if want := []int{250, 500, 1000, 2125}[l.Round-1]; l.Evaluations != want {
			t.Errorf("%s: %d evaluations after round %d, not %d", l.Case, l.Evaluations, l.Round, want)
		}
	}
	if !slices.Equal(counts, []int{10, 5, 3, 2}) {
		t.Fatalf("rounds of %v cases", counts)
	}
	sum := 0
	for _, n := range spent {
		sum += n
	}
	if sum != 7500 {
		t.Errorf("%d evaluations spent", sum)
	}
	rows := map[string]int{}
	for name, file := range map[string]string{"front": results.FrontFile, "all": results.AllFile} {
		front, err := table.Read(filepath.Join(dir, file))
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range front.Series[front.Index("case")].Texts {
			rows[name+c]++
		}
	}
	run, err := record.Read(filepath.Join(dir, results.RunFile))
	if err != nil {
		t.Fatal(err)
	}
	feasible := 0
	for _, c := range run.Cases {
		l := last[c.Name]
		if c.Evaluations != l.Evaluations || c.Front != l.Front || rows["front"+c.Name] != l.Front || (l.Outcome == rounds.Cut) != strings.HasPrefix(c.Stop, fmt.Sprintf("cut after round %d of 4", l.Round)) {
			t.Errorf("%+v\n%+v, %d rows", c, *l, rows["front"+c.Name])
		}
		if rows["all"+c.Name] < l.Evaluations/2 || rows["all"+c.Name] > l.Evaluations {
			t.Errorf("%s: %d candidates kept of %d evaluations", c.Name, rows["all"+c.Name], l.Evaluations)
		}
		if l.Front > 0 {
			feasible++
		}
	}
	if feasible < 3 {
		t.Errorf("%d cases with a front: the rounds compare hardly anything", feasible)
	}
}

// One worker or two, stopped in every round, with checkpoints lost or damaged between: the same bytes.
func TestARaceIsTheSameHoweverItIsRun(t *testing.T) {
	t.Parallel()
	job := raceJob(t)
	whole, dir := undisturbed(t, job), filepath.Join(t.TempDir(), "out")
	args := []string{"run", job, "--out", dir, "--workers", "1", "--checkpoint-every", "0s"}
	for stop, word := range []string{"round 1 of 4", "round 2 of 4", "round 3 of 4"} {
		if code, _, said := interruptedAt(t, time.Minute, word, args...); code != process.Unfinished {
			t.Fatalf("stop %d: exit %d: %s", stop, code, said)
		}
		switch paused, _ := filepath.Glob(filepath.Join(dir, results.CheckpointDir, "paused-*")); {
		case stop == 0 && len(paused) > 0: // what a case goes on from
			if err := os.Remove(paused[0]); err != nil {
				t.Fatal(err)
			}
		case stop == 1:
			flipMiddle(t, filepath.Join(dir, results.CheckpointDir, "case-00000.checkpoint"))
		}
		args = []string{"resume", dir, "--checkpoint-every", "0s", "--workers", fmt.Sprint(1 + stop%2)}
	}
	if code, _, said := command(t, args...); code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	sameRace(t, whole, dir)
	sameCases(t, whole, dir)
	if left, _ := filepath.Glob(filepath.Join(dir, results.CheckpointDir, "*")); len(left) > 0 {
		t.Errorf("a finished race keeps %v", left)
	}
}

// flipMiddle changes a bit in the middle of a file.
func flipMiddle(t *testing.T, path string) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err == nil {
		text[len(text)/2] ^= 1
		err = os.WriteFile(path, text, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// Listed in another order, the same cases go on, to the same fronts.
func TestARaceDoesNotDependOnTheOrderOfItsCases(t *testing.T) {
	t.Parallel()
	backward := slices.Clone(raced)
	slices.Reverse(backward)
	one := undisturbed(t, raceJob(t))
	two := undisturbed(t, raceJob(t, strings.Join(raced, ", "), strings.Join(backward, ", "), "[low, trailing]", "[trailing, low]"))
	if fileText(t, filepath.Join(one, results.RaceFile)) != fileText(t, filepath.Join(two, results.RaceFile)) {
		t.Error("race.jsonl differs")
	}
	candidates := func(dir string) []string {
		front, err := table.Read(filepath.Join(dir, results.FrontFile))
		if err != nil {
			t.Fatal(err)
		}
		return slices.Sorted(slices.Values(front.Series[front.Index("candidate")].Texts))
	}
	if !slices.Equal(candidates(one), candidates(two)) {
		t.Error("the fronts differ")
	}
}

// A run that goes on from another decision than the one it would make now says which case it is about.
func TestARaceThatDisagreesWithItsLinesStops(t *testing.T) {
	t.Parallel()
	job, dir := raceJob(t), filepath.Join(t.TempDir(), "out")
	if code, _, said := interruptedAt(t, time.Minute, "round 2 of 4", "run", job, "--out", dir); code != process.Unfinished {
		t.Fatalf("exit %d: %s", code, said)
	}
	lines := raceLines(t, dir)
	first := lines[0].Case
	lines[0].Own++
	if err := rounds.Write(filepath.Join(dir, results.RaceFile), lines); err != nil {
		t.Fatal(err)
	}
	if code, _, said := command(t, "resume", dir); code != process.Input || !strings.Contains(said, "case "+first+" is in place 1 of round 1") {
		t.Errorf("exit %d: %s", code, said)
	}
}

// Spread over one, two or four shards, round by round, a race ends with the same bytes as in one process. Until all shards of a
// round are there, merging says which are missing; once they are, it writes the plan for the next.
func TestShardsOfARaceJoin(t *testing.T) {
	t.Parallel()
	job := raceJob(t, "keep: all", "keep: front")
	whole := undisturbed(t, job)
	for _, shards := range []int{1, 2, 4} {
		dir, folder := filepath.Join(t.TempDir(), "out"), t.TempDir()
		plan := filepath.Join(folder, "plan.json")
		want(t, process.Done, "plan", job, "--shards", fmt.Sprint(shards), "--out", plan)
		for round, left := range []int{10, 5, 3, 2} {
			n := min(shards, left)
			for i := n - 1; i >= 0; i-- {
				if shards < 4 { // the same however many miss
					if code, _, said := command(t, "merge", "--plan", plan, "--out", dir); code != process.Unfinished || !strings.Contains(said, "--array=") {
						t.Fatalf("merging round %d too early: exit %d: %s", round+1, code, said)
					}
				}
				want(t, process.Done, "run", "--plan", plan, "--shard", fmt.Sprintf("%d/%d", i, n), "--out", dir)
			}
			code, out, said := command(t, "merge", "--plan", plan, "--out", dir)
			if code != process.Done {
				t.Fatalf("round %d: exit %d: %s", round+1, code, said)
			}
			if next := filepath.Join(folder, fmt.Sprintf("plan-round-%02d.json", round+2)); round < 3 {
				if !strings.Contains(out, next) {
					t.Fatalf("round %d: the next plan is not named: %s", round+1, out)
				}
				want(t, process.Done, "merge", "--plan", plan, "--out", dir) // again, with the same plan
				plan = next
			}
		}
		for _, name := range append(slices.Clone(resultFiles), results.NearestFile, results.RaceFile, results.TopologiesFile) {
			if fileText(t, filepath.Join(whole, name)) != fileText(t, filepath.Join(dir, name)) {
				t.Errorf("%d shards: %s differs", shards, name)
			}
		}
	}
	if code, _, said := command(t, "plan", raceJob(t), "--shards", "2", "--out", filepath.Join(t.TempDir(), "plan.json")); code != process.Input || !strings.Contains(said, "keep: all together with race") {
		t.Errorf("exit %d: %s", code, said)
	}
}

// Of packages, of which all but one have an obstacle where the axle has to be, that one has the first place in every round.
func TestTheOnlyFeasibleCaseWins(t *testing.T) {
	t.Parallel()
	free := "{tyre_width_mm: 61, hub_width_mm: 100, lock_deg: 50"
	rooms := []string{}
	for i := range 30 {
		room := fmt.Sprintf("  - {name: room %02d, %s", i, free[1:])
		if i != 17 {
			room += ", keep_out: [{name: wall, on: steerer, from_mm: [380, 0, 40], to_mm: [380, 0, 120], radius_mm: 150}]"
		}
		rooms = append(rooms, room+"}")
	}
	text := fileText(t, raceJob(t, strings.Join(raced, ", "), "cl+cl", "[low, trailing]", "[low]", "finalists: 2", "finalists: 1", "keep: all", "keep: front"))
	text = regexp.MustCompile(`(?m)^package:\n(  .*\n)*`).ReplaceAllString(text, "packages:\n"+strings.Join(rooms, "\n")+"\n")
	text = regexp.MustCompile(`total_evaluations: \d+`).ReplaceAllString(text, "total_evaluations: 26000")
	lines := raceLines(t, undisturbed(t, jobFile(t, text)))
	won := 0
	for _, l := range lines {
		if strings.Contains(l.Case, "room 17") != (l.Front > 0) {
			t.Errorf("%+v", l)
		}
		if l.Place == 1 {
			won++
			if !strings.Contains(l.Case, "room 17") {
				t.Errorf("round %d: %s is first", l.Round, l.Case)
			}
		}
	}
	if won != lines[0].Rounds || won < 3 {
		t.Errorf("first in %d of %d rounds", won, lines[0].Rounds)
	}
}

// The limits that a race adds stand in its cases, unless the job has its own or switches them off.
func TestARaceLimitsWhatMovesAndSteers(t *testing.T) {
	for change, want := range map[string][2]float64{
		"": {2000, 1200},
		"constraints:\n  - {measure: unsprung_mass_g, max: 900}":          {900, 1200},
		"constraints:\n  - {measure: steering_inertia_kg_cm2, off: true}": {2000, math.Inf(1)},
	} {
		job := raceJob(t)
		if change != "" {
			job = raceJob(t, "constraints:", change)
		}
		code, out, said := command(t, "check", job)
		if code != process.Done {
			t.Fatalf("exit %d: %s", code, said)
		}
		for i, name := range []string{"unsprung mass", "steering inertia"} {
			at := strings.Index(out, "constraint "+name)
			limited := at >= 0 && strings.Contains(strings.SplitN(out[at:], "\n", 2)[0], fmt.Sprintf("at most %g ", want[i]))
			if limited == math.IsInf(want[i], 1) {
				t.Errorf("%q: %s: want at most %g:\n%s", change, name, want[i], out)
			}
		}
		if !strings.Contains(out, "race: 4 rounds: 10 cases to 250 evaluations each, 5 to 500, 3 to 1000, 2 to 2125") {
			t.Errorf("%s", out)
		}
	}
}
