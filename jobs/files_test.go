package jobs

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"forkfront/kinematics"
)

// names of measures, in place of the registry.
var names = []string{
	"path_straightness_mm", "trail_variation_mm", "leverage_band_error_pct", "anti_dive_band_error_pct", "shock_stroke_used_pct",
	"spring_rate_n_per_mm", "progression_pct", "transmission_angle_min_deg", "path_inclination_deg", "brake_dive_vs_telescopic_mm", "brake_dive_mm", "clearance_mm", "hub_clearance_mm", "coil_step_error_n_per_mm",
}

func known(name string) bool { return slices.Contains(names, name) }

func readJob(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	_, _, err = ReadJob(path, f, known, names)
	return err
}

func TestExampleConceptsRead(t *testing.T) {
	files, _ := filepath.Glob("examples/*-*.yaml")
	shown := map[string]bool{}
	for _, path := range files {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		c, _, err := ReadConcept(path, bytes.NewReader(text))
		if err != nil {
			t.Error(err)
			continue
		}
		shown[c.Spec.Name] = true
		reaches(t, path, c)
	}
	for _, name := range BuiltIns() {
		if !shown[name] {
			t.Errorf("no example shows mechanism %q", name)
		}
	}
}

// reaches holds an example against what its first line says: its links reach the whole travel.
func reaches(t *testing.T, path string, c *ConceptFile) {
	t.Helper()
	m, faults := kinematics.Compile(c.Spec)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	layout := make([]kinematics.Vec[float64], len(m.Points))
	for name, p := range c.Points() {
		layout[m.Point(name)] = kinematics.Vec[float64](p)
	}
	chassis := c.Chassis()
	var mo kinematics.Motion
	mo.Sweep(m, &chassis, layout, c.TravelMM, 33)
	if mo.ReachedMM != c.TravelMM {
		t.Errorf("%s stops at %g of %g mm", path, mo.ReachedMM, c.TravelMM)
	}
}

func TestDemoReads(t *testing.T) {
	j, _, err := ReadJob("demo", bytes.NewReader(Demo()), knownMeasure, measureNames())
	if err != nil {
		t.Fatal(err)
	}
	// Defaults that the demo leaves alone, and values that it gives.
	if j.SagPct != 25 || len(j.CoilRatesNPerMM) != 17 || j.Mechanisms[1].ShockCount != 2 {
		t.Errorf("sag %g, %d coils, %d shocks in the arm; the demo says 25, default 17, 2", j.SagPct, len(j.CoilRatesNPerMM), j.Mechanisms[1].ShockCount)
	}
}

func TestTrailJobReads(t *testing.T) {
	if err := readJob("examples/trail.yaml"); err != nil {
		t.Error(err)
	}
}

func TestBuiltInMechanismsCompile(t *testing.T) {
	if len(BuiltIns()) < 6 {
		t.Fatalf("built in are %v; at least six are promised", BuiltIns())
	}
	for _, name := range BuiltIns() {
		m, err := LoadMechanism(name, ".")
		if err != nil {
			t.Error(err)
		} else if m.Name != name {
			t.Errorf("file %s.yaml calls itself %q", name, m.Name)
		}
	}
}
