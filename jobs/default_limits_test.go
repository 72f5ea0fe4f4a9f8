package jobs

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/constraints"
	"forkfront/jobs/cases"
	"forkfront/jobs/examples"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/objectives"
	"forkfront/results"
	"forkfront/results/record"
	"forkfront/results/table"
)

// defaultLimits are those that a practitioner expects (common practice, no source), as the definitions
// of the program state them: measure, least, most; nil where an end does not bind.
var defaultLimits = map[string][2]*float64{
	"shock_stroke_used_pct":       {new(88.0), new(100.0)},
	"spring_rate_n_per_mm":        {new(44.0), new(114.0)},
	"progression_pct":             {new(0.0), new(30.0)},
	"transmission_angle_min_deg":  {new(35.0), nil},
	"brake_dive_vs_telescopic_mm": {nil, new(0.0)},
	"fore_aft_stiffness_n_per_mm": {new(60.0), nil},
	"path_inclination_deg":        {new(-15.0), new(15.0)},
	"clearance_mm":                {new(0.0), nil}, // these two where the job gives lateral positions
	"hub_clearance_mm":            {new(0.0), nil},
}

// withoutDefaults switches off all limits that a job would have by default, but for those of measures
// that it limits itself.
func withoutDefaults(text string) string {
	var off strings.Builder
	for name := range defaultLimits {
		if !strings.Contains(text, "{measure: "+name) {
			off.WriteString("  - {measure: " + name + ", off: true}\n")
		}
	}
	return strings.Replace(text, "constraints:\n", "constraints:\n"+off.String(), 1)
}

// bare is the short job of a girder without any constraints.
func bare(t *testing.T) string {
	t.Helper()
	text := fileText(t, "examples/short/girder.yaml")
	from, to := strings.Index(text, "constraints:\n"), strings.Index(text, "budget:")
	if from < 0 || to < from {
		t.Fatal("the example has other sections than were expected")
	}
	return text[:from] + text[to:]
}

func same(a, b *float64) bool { return a == nil && b == nil || a != nil && b != nil && *a == *b }

func limitsByName(c *cases.Case) map[string]constraints.Limit {
	all := map[string]constraints.Limit{}
	for _, l := range c.Limits {
		all[objectives.Measures[l.Measure].Name] = l
	}
	return all
}

func TestJobWithoutConstraintsGetsDefaults(t *testing.T) {
	got := limitsByName(cases.Cases(readText(t, bare(t)))[0])
	for name, want := range defaultLimits {
		l, there := got[name]
		if !there || !same(files.Finite(l.Min), want[0]) || !same(files.Finite(l.Max), want[1]) {
			t.Errorf("%s: %v (there: %t)", name, l, there)
		}
	}
	if len(got) != len(defaultLimits) {
		t.Errorf("%d limits, want %d", len(got), len(defaultLimits))
	}
}

// A limit of the job's own takes the place of the default, off takes it away, and the others stay.
func TestDefaultLimitYields(t *testing.T) {
	own := "constraints:\n  - {measure: progression_pct, min: 5}\n  - {measure: transmission_angle_min_deg, off: true}\n"
	got := limitsByName(cases.Cases(readText(t, strings.Replace(bare(t), "budget:", own+"budget:", 1)))[0])
	if l := got["progression_pct"]; l.Min != 5 || files.Finite(l.Max) != nil {
		t.Errorf("the job's own limit became %v", l)
	}
	if _, there := got["transmission_angle_min_deg"]; there || len(got) != len(defaultLimits)-1 {
		t.Errorf("%d limits are left: %v", len(got), got)
	}
}

// Coils on sale and the stiffness that tubes are sized up to are the job's to say.
func TestDefaultsFollowTheJob(t *testing.T) {
	text := strings.Replace(bare(t), "budget:", "coil_rates_n_per_mm: [30, 25, 90]\nstructure: {fore_aft_stiffness_n_per_mm: 75}\nbudget:", 1)
	got := limitsByName(cases.Cases(readText(t, text))[0])
	if l := got["spring_rate_n_per_mm"]; l.Min != 25 || l.Max != 90 {
		t.Errorf("coils: %v", l)
	}
	if l := got["fore_aft_stiffness_n_per_mm"]; l.Min != 75 {
		t.Errorf("stiffness: %v", l)
	}
	text = strings.Replace(text, "fore_aft_stiffness_n_per_mm: 75", "fore_aft_stiffness_n_per_mm: 0", 1)
	if _, there := limitsByName(cases.Cases(readText(t, text))[0])["fore_aft_stiffness_n_per_mm"]; there {
		t.Error("a stiffness is required of tubes that are sized only for strength")
	}
}

// A default does not hold where no fork has the measure, case by case: columns are NULL there, and check
// says why.
func TestDefaultLimitIsKeptWherePossible(t *testing.T) {
	t.Parallel()
	slides := strings.Replace(fileText(t, "examples/short/telescopic.yaml"), "mechanism: telescopic", "mechanism: "+memberless(t, "telescopic"), 1)
	from, to := strings.Index(slides, "  - mechanism:"), strings.Index(slides, "objectives:")
	both := strings.Replace(fileText(t, "examples/short/girder.yaml"), "objectives:", slides[from:to]+"objectives:", 1)
	springs, mechanisms := strings.Index(slides, "shocks:\n")+len("shocks:\n"), strings.Index(slides, "mechanisms:")
	both = strings.Replace(both, "shocks:\n", "shocks:\n"+slides[springs:mechanisms], 1)
	both = strings.Replace(both, "constraints:\n  - {measure: clearance_mm, min: 6}\n  - {measure: hub_clearance_mm, min: 1}\n", "constraints:\n", 1)
	both = strings.NewReplacer("spring_rate_n_per_mm, max: 114", "spring_rate_n_per_mm, off: true",
		"brake_dive_vs_telescopic_mm, max: 0", "progression_pct, off: true}\n  - {measure: brake_dive_vs_telescopic_mm, max: 1").Replace(both)
	path, dir := jobFile(t, both), filepath.Join(t.TempDir(), "out")
	if _, said, errs := command(t, "check", path); !strings.Contains(said, "no limit on fore-aft stiffness: body \"lowers\" has no members") {
		t.Errorf("check does not say where a default cannot hold: %s%s", said, errs)
	}
	want(t, process.Done, "run", path, "--out", dir)
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	col, seen := front.Index("outside_fore_aft_stiffness_n_per_mm"), map[bool]int{}
	for row := range front.Rows {
		sliding := front.Series[front.Index("mechanism")].Texts[row] == "telescopic"
		if front.Null(col, row) != sliding {
			t.Errorf("row %d: NULL %t, sliding %t", row, front.Null(col, row), sliding)
		}
		seen[sliding]++
	}
	if seen[true] == 0 || seen[false] == 0 {
		t.Errorf("rows seen by whether they slide: %v", seen)
	}
}

// memberless is the path of a built-in mechanism's file without its members, so that it has no sizes.
func memberless(t *testing.T, name string) string {
	t.Helper()
	text := fileText(t, "mechanisms/"+name+".yaml")
	path := filepath.Join(t.TempDir(), name+".yaml")
	if err := os.WriteFile(path, []byte(text[:strings.Index(text, "members:")]), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Air springs are not sold by their rate.
func TestRateLimitAppliesOnlyToCoils(t *testing.T) {
	const air = ", spring: air, bore_mm: 38, chamber_mm: 90}"
	text := strings.NewReplacer("stroke_mm: 45}", "stroke_mm: 45"+air, "stroke_mm: 50}", "stroke_mm: 50"+air).Replace(bare(t))
	if !strings.Contains(text, "spring: air") {
		t.Fatal("no shock became an air spring")
	}
	if _, there := limitsByName(cases.Cases(readText(t, text))[0])["spring_rate_n_per_mm"]; there {
		t.Error("a case with nothing but air springs has a limit on coils")
	}
}

// Where a case chooses among both, coils keep to what is on sale, and of air springs it is not asked.
func TestRateLimitAppliesToCoilsBesideAirSprings(t *testing.T) {
	t.Parallel()
	text := strings.Replace(bare(t), "stroke_mm: 45}", "stroke_mm: 45}\n  - {name: airy, eye_to_eye_mm: 190, stroke_mm: 45, spring: air, bore_mm: 38, chamber_mm: 90}", 1)
	// Without what this is not about, air springs are feasible early.
	text = strings.Replace(text, "budget:", "constraints:\n  - {measure: path_inclination_deg, off: true}\n  - {measure: clearance_mm, off: true}\n  - {measure: hub_clearance_mm, off: true}\nbudget:", 1)
	path, dir := jobFile(t, strings.Replace(text, "evaluations: 3000}", "evaluations: 24000}\nkeep: all", 1)), filepath.Join(t.TempDir(), "out")
	want(t, process.Done, "run", path, "--out", dir)
	front, err := table.Read(filepath.Join(dir, results.AllFile))
	if err != nil {
		t.Fatal(err)
	}
	shock, status, outside := front.Index("shock_size"), front.Index("status"), front.Index("outside_spring_rate_n_per_mm")
	feasibleAir, refused := 0, 0
	for row := range front.Rows {
		air, feasible := front.Series[shock].Texts[row] == "airy", front.Series[status].Texts[row] == "feasible"
		switch {
		case air && !front.Null(outside, row):
			t.Errorf("row %d: an air spring is %g N/mm outside", row, front.Series[outside].Floats[row])
		case air && feasible:
			feasibleAir++
		case !air && !front.Null(outside, row) && front.Series[outside].Floats[row] > 0:
			if refused++; feasible {
				t.Errorf("row %d: a coil %g N/mm outside is feasible", row, front.Series[outside].Floats[row])
			}
		}
	}
	if feasibleAir == 0 || refused == 0 {
		t.Errorf("%d feasible with air springs, %d refused for their coil: the check is idle", feasibleAir, refused)
	}
	done, err := record.Read(filepath.Join(dir, results.RunFile))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range done.Cases[0].Constraints {
		if c.Coils != (c.Measure == cases.SpringRate) {
			t.Errorf("the record says %+v", c)
		}
	}
	if _, said, _ := command(t, "check", path); !strings.Contains(said, "no limit on spring rate of air springs") {
		t.Errorf("check does not say of whom the rate is not asked: %s", said)
	}
	c := cases.Cases(readText(t, text))[0]
	checkGradient(t, c, 500)
}

// What holds by default is said by check, with what switches it off, and by the record of the run; every
// candidate keeps it.
func TestDefaultsAreReportedAndKept(t *testing.T) {
	t.Parallel()
	path, dir := jobFile(t, bare(t)), filepath.Join(t.TempDir(), "out")
	_, said, _ := command(t, "check", path)
	want(t, process.Done, "run", path, "--out", dir)
	done, err := record.Read(filepath.Join(dir, results.RunFile))
	if err != nil {
		t.Fatal(err)
	}
	stated := map[string]record.Constraint{}
	for _, c := range done.Cases[0].Constraints {
		stated[c.Measure] = c
	}
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil || front.Rows == 0 {
		t.Fatal(err)
	}
	for name, want := range defaultLimits {
		if c := stated[name]; !c.Default || !same(c.Min, want[0]) || !same(c.Max, want[1]) {
			t.Errorf("the done says %+v of %s", c, name)
		}
		if !strings.Contains(said, "by default; {measure: "+name+", off: true} switches it off") {
			t.Errorf("check does not say how %s is switched off: %s", name, said)
		}
		for row, x := range front.Series[front.Index(name)].Floats {
			if want[0] != nil && x < *want[0] || want[1] != nil && x > *want[1] {
				t.Errorf("row %d: %s is %g", row, name, x)
			}
		}
	}
}

// A job that is packed to be resumed or spread over shards keeps its defaults and what is switched off,
// and gets no others when it is unpacked.
func TestAPackedJobKeepsItsDefaults(t *testing.T) {
	job := readText(t, strings.Replace(bare(t), "budget:", "constraints:\n  - {measure: progression_pct, off: true}\nbudget:", 1))
	text, err := json.Marshal(job)
	if err != nil {
		t.Fatal(err)
	}
	var again files.JobFile
	if err := json.Unmarshal(text, &again); err != nil {
		t.Fatal(err)
	}
	once, err := json.Marshal(&again)
	if err != nil || !bytes.Equal(text, once) || len(again.Constraints) != len(defaultLimits) {
		t.Errorf("%v: %s became %s", err, text, once)
	}
}

// The demo states what it keeps, so that nothing is added to it.
func TestTheDemoStatesItsConstraints(t *testing.T) {
	for _, c := range readText(t, string(examples.Demo())).Constraints {
		if c.Default {
			t.Errorf("%s is kept by default", c.Measure)
		}
	}
	if _, err := os.Stat("examples/demo.yaml"); err != nil {
		t.Error(err)
	}
}

// Overlap is infeasible by default where a job gives the lateral positions of parts; where it does not, that is
// told once, and not for mechanisms without a clearance.
func TestOverlapIsInfeasibleWhereTheArrangementIsKnown(t *testing.T) {
	t.Parallel()
	const says = "no limit on clearance and hub clearance of girder"
	known := bare(t)
	from := strings.Index(known, "    across:")
	unknown := known[:from] + known[from+strings.Index(known[from:], "\n")+1:]
	for _, x := range []struct {
		path   string
		limits int // on clearance and hub clearance
		told   int
	}{
		{jobFile(t, known), 2, 0},
		{jobFile(t, unknown), 0, 1},
		{"examples/short/girder.yaml", 2, 0},
		{"examples/short/telescopic.yaml", 0, 0},
		{jobFile(t, strings.Replace(unknown, "seeds: [1]", "seeds: [1, 2, 3]", 1)), 0, 1},
	} {
		if _, said, errs := command(t, "check", x.path); strings.Count(said+errs, says) != x.told {
			t.Errorf("%s: %s%s", x.path, said, errs)
		}
		got := limitsByName(cases.Cases(readText(t, fileText(t, x.path)))[0])
		_, parts := got["clearance_mm"]
		_, hub := got["hub_clearance_mm"]
		if parts != (x.limits == 2) || hub != (x.limits == 2) {
			t.Errorf("%s: limits on clearance: %t, on the hub's: %t", x.path, parts, hub)
		}
	}
}
