package results

import (
	"os"
	"path/filepath"
	"reflect"
	"runtime/debug"
	"strings"
	"testing"
	"time"
)

func TestRunRecordRoundTrip(t *testing.T) {
	dir := t.TempDir()
	f, err := Open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	start := time.Date(2031, 5, 6, 7, 8, 9, 0, time.FixedZone("east", 3600))
	r := NewRunRecord(start)
	r.JobSHA256, r.Seed, r.Workers = strings.Repeat("ab", 32), 1<<63+1, 2
	r.Cases = []CaseRecord{{Name: "girder", Stop: "budget spent", Evaluations: 100, Feasible: 40, Front: 12, Seconds: 1.5}}
	if err := f.WriteRun(&r); err != nil {
		t.Fatal(err)
	}
	back, err := ReadRun(f.Path(RunFile))
	if err != nil || !reflect.DeepEqual(*back, r) {
		t.Errorf("wrote %+v\nread %+v (%v)", r, back, err)
	}
	text, _ := os.ReadFile(f.Path(RunFile))
	for _, says := range []string{`"started": "2031-05-06T06:08:09Z"`, `"seed": 9223372036854775809`, "ISO 4210-6"} {
		if !strings.Contains(string(text), says) {
			t.Errorf("run.json does not say %s", says)
		}
	}
	if strings.Contains(string(text), `"finished"`) {
		t.Error("a run at work says that it has finished")
	}
	left, _ := filepath.Glob(filepath.Join(dir, "*run.json?*"))
	if len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestRunRecordRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), RunFile)
	for text, says := range map[string]string{
		"":                      "EOF",
		`{"program"`:            "EOF",
		`{"schema_version": 9}`: "version 9",
		`{"colour": 1}`:         "colour",
	} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := ReadRun(path); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: got %v, want %q", text, err, says)
		}
	}
}

func TestRunRecordKnowsTheBuild(t *testing.T) {
	r := NewRunRecord(time.Now())
	r.Modules = map[string]string{}
	r.addBuild(&debug.BuildInfo{
		Main:     debug.Module{Version: "v1.2.3"},
		Deps:     []*debug.Module{{Path: "a", Version: "v1.0.0"}, {Path: "b", Replace: &debug.Module{Path: "c", Version: "v2.0.0"}}},
		Settings: []debug.BuildSetting{{Key: "vcs.modified", Value: "true"}, {Key: "vcs.revision", Value: "abc"}},
	})
	want := map[string]string{"a": "v1.0.0", "c": "v2.0.0"}
	if r.Version != "v1.2.3" || r.Revision != "abc+" || !reflect.DeepEqual(r.Modules, want) {
		t.Errorf("got %+v", r)
	}
}

func TestMostBroken(t *testing.T) {
	c := CaseRecord{Evaluations: 200, Broken: map[string]int{works: 199, "mass_g": 20, "clearance_mm": 20, "trail_mm": 1}}
	if got, want := c.MostBroken(3), "working at all (100 %), clearance_mm (10 %), mass_g (10 %)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := (&CaseRecord{}).MostBroken(3); got != "" {
		t.Errorf("nothing broken: %q", got)
	}
}

func TestConstraintsInWords(t *testing.T) {
	six, ten := 6.0, 10.0
	cases := []CaseRecord{
		{Constraints: []ConstraintRecord{{Measure: "clearance_mm", Min: &six}, {Measure: "path_lean_deg", Min: &six, Max: &ten}}},
		{Constraints: []ConstraintRecord{{Measure: "clearance_mm", Min: &six}, {Measure: "mass_g", Max: &ten, Default: true}, {Measure: "spring_rate_n_per_mm", Min: &six, Coils: true}}},
	}
	want := []string{"clearance at least 6 mm", "path lean 6 to 10 deg (1 of 2 searches)", "mass at most 10 g by default (1 of 2 searches)", "spring rate at least 6 N/mm of coils (1 of 2 searches)"}
	if got := keptConstraints(cases); !reflect.DeepEqual(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
