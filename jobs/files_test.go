package jobs

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"forkfront/jobs/examples"
	"forkfront/jobs/files"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
)

func readJob(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	_, _, err = files.ReadJob(path, f)
	return err
}

func TestExampleConceptsRead(t *testing.T) {
	paths, _ := filepath.Glob("examples/*-*.yaml")
	shown := map[string]bool{}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		c, _, err := files.ReadConcept(path, bytes.NewReader(text))
		if err != nil {
			t.Error(err)
			continue
		}
		shown[c.Spec.Name] = true
		reaches(t, path, c)
	}
	for _, name := range files.BuiltIns() {
		if !shown[name] {
			t.Errorf("no example shows mechanism %q", name)
		}
	}
}

// reaches checks that the links of an example reach the whole travel, as its first line says.
func reaches(t *testing.T, path string, c *files.ConceptFile) {
	t.Helper()
	m, faults := mechanism.Compile(c.Spec)
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
	j, _, err := files.ReadJob("demo", bytes.NewReader(examples.Demo()))
	if err != nil {
		t.Fatal(err)
	}
	// Defaults that the demo does not set, and values that it gives.
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
	if len(files.BuiltIns()) < 6 {
		t.Fatalf("built in are %v; at least six are promised", files.BuiltIns())
	}
	for _, name := range files.BuiltIns() {
		m, err := files.LoadMechanism(name, ".")
		if err != nil {
			t.Error(err)
		} else if m.Name != name {
			t.Errorf("file %s.yaml calls itself %q", name, m.Name)
		}
	}
}
