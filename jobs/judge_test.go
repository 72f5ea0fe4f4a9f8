package jobs

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/examples"
	"forkfront/jobs/process"
	"forkfront/jobs/score"
)

// judged scores a text of a concept by the text of a job.
func judged(t *testing.T, concept, job string) (*score.Scored, string, string) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"concept.yaml": concept, "job.yaml": job} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	c, j := filepath.Join(dir, "concept.yaml"), filepath.Join(dir, "job.yaml")
	_, out, notes := command(t, "score", c, "--job", j, "--json")
	var s score.Scored
	if err := json.Unmarshal([]byte(out), &s); err != nil {
		t.Fatalf("%v: %s", err, notes)
	}
	_, table, _ := command(t, "score", c, "--job", j)
	return &s, table, notes
}

// scoredWithoutEvents scores a concept's file but does not simulate its events, which takes most of the time of a score and
// has no part in its measures.
func scoredWithoutEvents(t *testing.T, concept string) *score.Scored {
	t.Helper()
	file, design, err := cases.ReadFork(&process.Env{}, concept)
	if err != nil {
		t.Fatal(err)
	}
	c := cases.Conditions(file)
	c.Events = nil
	s, _ := score.Examine(file.Concept, c, design)
	return s
}

func TestForkIsJudgedByItsMeasures(t *testing.T) {
	text, err := os.ReadFile("examples/cargo-girder.yaml")
	if err != nil {
		t.Fatal(err)
	}
	concept := strings.NewReplacer("mass_kg: 170", "mass_kg: 170\n  unsprung_front_kg: 3.5", "sag_pct: 25", "sag_pct: 25\nride: {kind: cargo}").Replace(string(text))
	s, table, notes := judged(t, concept, string(examples.Demo()))
	if *s.Objectives["clearance_mm"] != *s.Measures["clearance_mm"] || len(s.Violations) != 0 || s.Violations == nil {
		t.Errorf("clearance %g as an objective, %g as a measure; broken: %v", *s.Objectives["clearance_mm"], *s.Measures["clearance_mm"], s.Violations)
	}
	if !strings.Contains(table, "all constraints are met") || notes != "" {
		t.Errorf("%s\nnotes: %s", table, notes)
	}

	tight := strings.Replace(string(examples.Demo()), "{measure: fore_aft_stiffness_n_per_mm, min: 60}", "{measure: mass_g, max: 1000}", 1)
	s, table, _ = judged(t, concept, tight)
	over := *s.Measures["mass_g"] - 1000
	if v := s.Violations["mass_g"]; v == nil || math.Abs(*v-over) > 1e-9*over || !strings.Contains(table, "above the maximum of 1000") {
		t.Errorf("mass over by %g: %v\n%s", over, v, table)
	}

	_, _, notes = judged(t, strings.Replace(concept, "sag_pct: 25", "sag_pct: 30", 1), string(examples.Demo()))
	if !strings.Contains(notes, "the sag_pct of the fork's file differs") {
		t.Errorf("a fork for another sag: %q", notes)
	}
}

// What a search refuses a fork for, a score says; and no number stands for a value that is not there.
func TestForkThatASearchRefuses(t *testing.T) {
	text, err := os.ReadFile("examples/cargo-girder.yaml")
	if err != nil {
		t.Fatal(err)
	}
	soft := string(text) + "material: {name: cheese, young_gpa: 1, density_kg_m3: 1000, yield_mpa: 3}\n"
	s, table, _ := judged(t, soft, string(examples.Demo()))
	if v := s.Violations["tube_diameter_max_mm"]; v == nil || *v <= 0 || len(s.Warnings) != 1 || strings.Count(table, "above the maximum of 50") != 2 {
		t.Errorf("tubes of cheese: %v, %v\n%s", v, s.Warnings, table)
	}
	// With its upper eye behind the lower one the shock does not shorten.
	stuck := strings.Replace(string(text), "shock_upper: [", "shock_upper: [500, 0] # [", 1)
	s, table, _ = judged(t, stuck, string(examples.Demo()))
	for _, name := range []string{"works", "spring_rate_n_per_mm"} {
		if v, broken := s.Violations[name]; !broken || v != nil || s.Reasons[name] == "" {
			t.Errorf("%s: %v %v, reason %q\n%s", name, broken, v, s.Reasons[name], table)
		}
	}
}
