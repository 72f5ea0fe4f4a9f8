package jobs

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/files/sections"
	"forkfront/jobs/process"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/topology"
	"forkfront/results"
	"forkfront/results/table"
)

// withPairs is a short job with its shock between other bodies.
func withPairs(t *testing.T, mechanism, pairs string) string {
	t.Helper()
	text := fileText(t, filepath.Join("examples", "short", mechanism+".yaml"))
	return strings.Replace(text, "  - mechanism: "+mechanism+"\n", "  - mechanism: "+mechanism+"\n    shock_between: "+pairs+"\n", 1)
}

// shockOf are the bodies that the shock of a case is between, the upper eye's first.
func shockOf(m *mechanism.Mechanism) string {
	upper, _ := m.ShockEnd(0)
	lower, _ := m.ShockEnd(1)
	return m.Bodies[upper] + "-" + m.Bodies[lower]
}

// A sweep over all pairs of the girder runs; each case is called after its pair, has its shock between these bodies, and
// can be continued from a state.
func TestASweepOverShockPairs(t *testing.T) {
	t.Parallel()
	// Without its limit on clearance, a short search finds forks.
	text := strings.NewReplacer("evaluations: 3000", "evaluations: 1500", "clearance_mm, min: 6", "clearance_mm, min: -80").Replace(withPairs(t, "girder", "all"))
	path := jobFile(t, text)
	job, _, err := files.ReadJob(path, opened(t, path))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range cases.Cases(job) {
		pair := shockOf(c.Mechanism)
		if !strings.Contains(c.Name, "/girder "+pair+"/") {
			t.Errorf("%s has its shock between %s", c.Name, pair)
		}
		if c.Mechanism.Unsized() != "" {
			t.Errorf("%s: %s", c.Name, c.Mechanism.Unsized())
		}
		got = append(got, pair)
	}
	want := []string{"crown-lower_link", "crown-upper_link", "crown-blade", "lower_link-upper_link", "lower_link-blade", "upper_link-blade"}
	if !slices.Equal(got, want) {
		t.Errorf("the pairs are %v; expected %v", got, want)
	}
	if err := job.Recheck(); err != nil {
		t.Errorf("as it comes from a state: %v", err)
	}
	dir := filepath.Join(t.TempDir(), "out")
	if code, _, said := command(t, "run", path, "--out", dir); code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	of := front.Series[front.Index("mechanism")].Texts
	id := front.Series[front.Index("candidate")].Texts
	if !slices.Contains(of, "girder crown-lower_link") {
		t.Fatalf("mechanisms of the front: %v", slices.Compact(slices.Clone(of)))
	}
	into := filepath.Join(dir, "one")
	if code, _, said := command(t, "extract", dir, id[0], "--out", into); code != process.Done {
		t.Fatalf("extract: exit %d: %s", code, said)
	}
	for _, concept := range globbed(t, filepath.Join(into, "*.yaml")) {
		if strings.Contains(concept, ".mechanism.") {
			continue
		}
		c, _, err := files.ReadConcept(concept, opened(t, concept))
		if err != nil || c.Spec.Name != of[0] {
			t.Errorf("%s: %v; expected %s", concept, err, of[0])
		}
	}
}

// Each built-in mechanism has as many pairs as its linkage has forks with ends of the shock elsewhere: those that the
// enumeration keeps, counted before pairs that a symmetry of the linkage makes the same are merged. The numbers are
// counted by hand: of the bodies of a linkage all pairs do, but where the shock drives further bodies these must be
// needed.
func TestPairsOfBuiltInMechanisms(t *testing.T) {
	t.Parallel()
	for mechanism, want := range map[string]int{
		"telescopic": 1, "leading-arm": 1, "trailing-arm": 1, "girder": 6, "low-four-bar": 6, "wishbone": 6,
		"leading-arm-floating-brake": 6, "trailing-arm-floating-brake": 6, "telescopic-link": 6, "six-bar": 15,
		// Rocker or push rod at one end at least (else both are idle): 15 pairs less the 6 of the girder.
		"girder-rocker": 9,
	} {
		path := jobFile(t, withPairs(t, mechanism, "all"))
		job, _, err := files.ReadJob(path, opened(t, path))
		if err != nil {
			t.Errorf("%s: %v", mechanism, err)
			continue
		}
		own := 0
		base, err := files.LoadMechanism(mechanism, ".")
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for _, c := range cases.Cases(job) {
			if seen[c.Name] {
				t.Errorf("two cases are called %s", c.Name)
			}
			seen[c.Name] = true
			if _, err := topology.Of(&c.Mechanism.Spec); err != nil {
				t.Errorf("%s: %v", c.Name, err)
			}
			if c.Mechanism.Unsized() != base.Unsized() {
				t.Errorf("%s: %q; with its own pair %q", c.Name, c.Mechanism.Unsized(), base.Unsized())
			}
			if shockOf(c.Mechanism) == shockOf(base) {
				own++
			}
		}
		if len(seen) != want || own != 1 {
			t.Errorf("%s: %d pairs, its own %d times; expected %d", mechanism, len(seen), own, want)
		}
	}
}

// One pair, or one of several, is the mechanism's own with the same ranges; others get theirs from their body's pivots.
func TestRangesOfShockPairs(t *testing.T) {
	t.Parallel()
	read := func(pairs string) []files.JobMechanism {
		path := jobFile(t, withPairs(t, "girder", pairs))
		job, _, err := files.ReadJob(path, opened(t, path))
		if err != nil {
			t.Fatal(err)
		}
		return job.Mechanisms
	}
	plain := read("[crown, lower_link]")
	if len(plain) != 1 || plain[0].Spec.Name != "girder crown-lower_link" || *plain[0].ShockAngleRad != (sections.Range{Low: -0.3, High: 0.7}) {
		t.Errorf("%+v", plain)
	}
	one := read("[blade, crown]")[0]
	if one.BoundsMM["shock_upper"] != plain[0].BoundsMM["shock_upper"] || *one.ShockAngleRad != *plain[0].ShockAngleRad || one.Spec.Shock != [2]string{"blade", "crown"} {
		t.Errorf("one pair has the ranges to itself: %+v", one)
	}
	some := read("[[crown, blade], [upper_link, blade], [crown, lower_link]]")
	if got := some[0].BoundsMM["shock_upper"]; got != plain[0].BoundsMM["shock_upper"] {
		t.Errorf("the eye on the crown is in %+v", got)
	}
	// Of upper_rear and upper_front.
	if got, want := some[1].BoundsMM["shock_upper"], (files.Bounds{Along: sections.Range{Low: -170, High: -20}, Ahead: sections.Range{Low: 45, High: 255}}); got != want {
		t.Errorf("the eye on the upper link is in %+v; expected %+v", got, want)
	}
	if *some[2].ShockAngleRad != *plain[0].ShockAngleRad || some[1].ShockAngleRad.High < 3 {
		t.Errorf("angles are %+v and %+v", some[2].ShockAngleRad, some[1].ShockAngleRad)
	}
}
