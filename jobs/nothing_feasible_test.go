package jobs

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/table"
)

// edited is one of the short example jobs with few evaluations and some of its text replaced.
func edited(t *testing.T, example string, replaced ...string) string {
	t.Helper()
	text, err := os.ReadFile("examples/short/" + example + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	job := regexp.MustCompile(`evaluations: \d+`).ReplaceAllString(string(text), "evaluations: 500")
	for i := 0; i < len(replaced); i += 2 {
		next := regexp.MustCompile("(?m)"+replaced[i]).ReplaceAllString(job, replaced[i+1])
		if next == job {
			t.Fatalf("%s has nothing like %s", example, replaced[i])
		}
		job = next
	}
	return jobFile(t, job)
}

// Jobs that find nothing: before a night is spent, check names the constraint that stops them and, where parts are in
// each other's way, those.
func TestCheckSaysWhatStopsAJob(t *testing.T) {
	for name, x := range map[string]struct {
		example  string
		replaced []string
		says     []string // patterns
	}{
		"clearance out of reach": {
			"leading-arm",
			[]string{`clearance_mm, min: 6}`, `clearance_mm, min: 60}`},
			[]string{`none of \d+ forks tried meets clearance \(clearance_mm\); the nearest:`, `clearance \(clearance_mm\): .* mm, .* mm below the minimum of 60 mm \(.* / .* at \d+ mm of travel, steered \d+°\)`},
		},
		"arms without across": {
			"leading-arm",
			[]string{`^ *across: .*\n`, ``},
			[]string{`meets clearance \(clearance_mm\)`, `\(tyre / legs root–shock_upper at \d+ mm of travel`},
		},
		"bodies in one place by default": {
			"girder-rocker",
			[]string{`^ *across: .*\n`, ``},
			[]string{`rocker and upper_link, both 45 mm beside the mid-plane by default, overlap in \d+ of \d+ forks tried`, `meets clearance \(clearance_mm\)`},
		},
		"mass out of reach": {
			"leading-arm",
			[]string{`max: 114}`, "max: 114}\n  - {measure: mass_g, max: 500}"},
			[]string{`meets mass \(mass_g\); the nearest:`, `mass \(mass_g\): .* g, .* g above the maximum of 500 g`},
		},
		"light and stiff": {
			"leading-arm",
			[]string{`max: 114}`, "max: 114}\n  - {measure: mass_g, max: 2000}\n  - {measure: fore_aft_stiffness_n_per_mm, min: 2000}"},
			[]string{`meets mass \(mass_g\), fore-aft stiffness \(fore_aft_stiffness_n_per_mm\)`, `above the maximum of 2000`, `below the minimum of 2000`},
		},
		"links that cannot work the shock": {
			"girder",
			[]string{`upper_front: .*`, `upper_front: {along: [-90, -80], ahead: [60, 70]}`},
			[]string{`smallest transmission angle \(transmission_angle_min_deg\): .* below the minimum of 35`, `the shock does not shorten at 0 mm of travel: no value of clearance \(clearance_mm\)`},
		},
		"an arm too short for the travel": {
			"leading-arm",
			[]string{`arm_pivot: .*`, `arm_pivot: {along: [400, 405], ahead: [0, 10]}`},
			[]string{`none of \d+ forks tried moves through the whole travel with parts that can be built; the nearest:`, `stops at \S+ of 100 mm of travel: `},
		},
		"a stroke too short": {
			"leading-arm",
			[]string{`stroke_mm: \d+`, `stroke_mm: 12`},
			[]string{`shock stroke used \(shock_stroke_used_pct\): .* above the maximum of 100`},
		},
		"springs nobody sells": {
			"leading-arm",
			[]string{`spring_rate_n_per_mm, max: 114`, `spring_rate_n_per_mm, max: 10`},
			[]string{`meets spring rate \(spring_rate_n_per_mm\)`, `spring rate .* above the maximum of 10 N/mm$`},
		},
		"hub clearance out of reach": {
			"leading-arm",
			[]string{`hub_clearance_mm, min: 1`, `hub_clearance_mm, min: 50`},
			[]string{`meets hub clearance \(hub_clearance_mm\)`, `below the minimum of 50 mm \(hub / arm shock_lower–axle at 0 mm of travel`},
		},
		"a path that leans too much": {
			"leading-arm",
			[]string{`path_inclination_deg, min: -15, max: 15`, `path_inclination_deg, min: 40, max: 60`},
			[]string{`meets path inclination \(path_inclination_deg\)`, `below the minimum of 40`},
		},
		"tubes too thin for the loads": {
			"leading-arm",
			[]string{`^package:`, "structure: {tubes: {max_diameter_mm: 16}}\npackage:"},
			[]string{`none of \d+ forks tried moves through the whole travel with parts that can be built; the nearest:`, `largest tube diameter \(tube_diameter_max_mm\): .* above the maximum of 16`},
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			code, _, said := command(t, "check", edited(t, x.example, x.replaced...))
			for _, pattern := range x.says {
				if !regexp.MustCompile("(?m)" + pattern).MatchString(said) {
					t.Errorf("exit %d, no %s in:\n%s", code, pattern, said)
				}
			}
			if code != process.Done {
				t.Errorf("exit %d", code)
			}
		})
	}
}

// A job that has plenty of feasible forks is not warned of.
func TestCheckIsSilentOnAGoodJob(t *testing.T) {
	t.Parallel()
	if code, _, said := command(t, "check", edited(t, "leading-arm")); code != process.Done || strings.Contains(said, "forks tried") {
		t.Errorf("exit %d: %s", code, said)
	}
}

// The nearest misses of a search that finds nothing stand at its end, in a table, in the report and can be extracted;
// score finds the same fault with them. They do not depend on the number of workers.
func TestNearestMissesAreKept(t *testing.T) {
	t.Parallel()
	job, dir, other := edited(t, "leading-arm", `clearance_mm, min: 6}`, `clearance_mm, min: 60}`), t.TempDir(), t.TempDir()
	code, out, _ := command(t, "run", job, "--out", dir, "--workers", "1")
	if code != process.Nothing || !strings.Contains(out, "leading-arm/1/nearest, violation ") || !strings.Contains(out, "below the minimum of 60 mm (") {
		t.Fatalf("exit %d: %s", code, out)
	}
	if _, again, _ := command(t, "run", job, "--out", other, "--workers", "3"); strings.ReplaceAll(again, other, dir) != out {
		t.Errorf("with three workers:\n%s\nwith one:\n%s", again, out)
	}
	misses, err := table.Read(filepath.Join(dir, results.NearestFile))
	if err != nil {
		t.Fatal(err)
	}
	if pair := misses.Index("clearance_pair"); misses.Rows < 3 || misses.Rows > 5 || pair < 0 || misses.Series[pair].Texts[0] == "" {
		t.Fatalf("%d rows", misses.Rows)
	}
	code, concept, said := command(t, "extract", dir, "nearest")
	if code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	file := filepath.Join(t.TempDir(), "miss.yaml")
	if err := os.WriteFile(file, []byte(concept), 0o600); err != nil {
		t.Fatal(err)
	}
	_, scored, _ := command(t, "score", "--job", job, file)
	violated := misses.Series[misses.Index("violated")].Texts[0]
	want, _, _ := strings.Cut(violated, " (legs")
	if !strings.Contains(scored, "violated constraint, "+want) {
		t.Errorf("%q is not what score says: %s", want, scored)
	}
	page, err := os.ReadFile(filepath.Join(dir, results.ReportFile))
	if err != nil || !strings.Contains(string(page), "<h2>Nearest misses</h2>") || !strings.Contains(string(page), `aria-label="side view at `) {
		t.Errorf("the report has no near misses (%v)", err)
	}
}

// Near misses that stop short of their travel have a picture where they stop, a concept and a drawing.
func TestNearMissesThatStopShortAreDrawn(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "out")
	job := edited(t, "leading-arm", `arm_pivot: .*`, `arm_pivot: {along: [400, 405], ahead: [0, 10]}`)
	if code, out, _ := command(t, "run", job, "--out", dir); code != process.Nothing || !strings.Contains(out, "stops at ") {
		t.Fatalf("exit %d: %s", code, out)
	}
	if page := fileText(t, filepath.Join(dir, results.ReportFile)); !strings.Contains(page, "mm of travel, where it stops") {
		t.Error("the report does not draw where forks stop")
	}
	code, drawing, said := command(t, "extract", dir, "nearest", "--as", "drawing")
	if code != process.Done || !strings.Contains(drawing, "WHEEL_STOP") {
		t.Errorf("exit %d: %s", code, said)
	}
}

// The near misses of a job in shards are those of one process, to the byte, and merge prints them too.
func TestMergedNearMissesAreThoseOfOneProcess(t *testing.T) {
	t.Parallel()
	job := edited(t, "leading-arm", `clearance_mm, min: 6}`, `clearance_mm, min: 60}`, `^budget:`, "seeds: [1, 2, 3]\nbudget:")
	plan, whole, dir := filepath.Join(t.TempDir(), "plan.json"), filepath.Join(t.TempDir(), "whole"), filepath.Join(t.TempDir(), "out")
	one := want(t, process.Nothing, "run", job, "--out", whole)
	want(t, process.Done, "plan", job, "--shards", "2", "--out", plan)
	for _, shard := range []string{"1/2", "0/2"} {
		want(t, process.Done, "run", "--plan", plan, "--shard", shard, "--out", dir)
	}
	merged := want(t, process.Nothing, "merge", "--plan", plan, "--out", dir)
	if a, b := fileText(t, filepath.Join(whole, results.NearestFile)), fileText(t, filepath.Join(dir, results.NearestFile)); a == "" || a != b {
		t.Errorf("%d and %d bytes differ", len(a), len(b))
	}
	printed := 0
	for _, line := range strings.Split(one, "\n") {
		if !strings.Contains(line, "/nearest") {
			continue
		}
		printed++
		if !strings.Contains(merged, line) {
			t.Errorf("merge does not print %q", line)
		}
	}
	if printed < 3 {
		t.Errorf("%d near misses of three cases", printed)
	}
}
