package jobs

import (
	"os"
	"reflect"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/objectives"
	"forkfront/objectives/fork"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// The defaults that the files document are those of the model.
func TestDefaultsOfTheStructure(t *testing.T) {
	j := validJob(t, "")
	if got, want := j.Structure.Model(&j.Telescopic), structure.DefaultRules(); !reflect.DeepEqual(got, want) {
		t.Errorf("a job that says nothing gets\n%+v, want\n%+v", got, want)
	}
	if len(j.Materials) != 1 || *j.Materials[0].Model() != *fork.MaterialNamed("7075-T6") {
		t.Errorf("materials %v", j.Materials)
	}
}

// What a job says reaches the model.
func TestStructureOfAJob(t *testing.T) {
	j := validJob(t, `materials: [4130, {name: own, young_gpa: 200, density_kg_m3: 7800, yield_mpa: 900}]
structure:
  load_cases: [{name: kerb, at: top_out, rearward_n: 2000, vertical_static: 1}]
  tubes: {max_diameter_mm: 40}
  fixed_parts: [{name: hub bolt, mass_g: 12, at: axle}]
telescopic: {mass_g: 1900}
`)
	m := j.Structure.Model(&j.Telescopic)
	want := structure.DefaultRules()
	want.Cases = []loads.Case{{Name: "kerb", At: loads.TopOut, RearwardN: 2000, VerticalStatic: 1}}
	want.Tubes.MaxDiameterMM, want.Replaced.MassG = 40, 1900
	want.Fixed = []parts.Fixed{{Name: "hub bolt", MassG: 12, OnAxle: true}}
	if !reflect.DeepEqual(m, want) {
		t.Errorf("got\n%+v, want\n%+v", m, want)
	}
	c := cases.Cases(j)[0]
	if k := c.Variable("material"); k < 0 || c.Free[k].Variable.Levels != 2 || !c.Free[k].Variable.Categorical {
		t.Fatalf("two materials are no variable: %+v", c.Free)
	}
	x := make([]float64, len(c.Free))
	for i, name := range []string{"4130", "own"} {
		x[c.Variable("material")] = float64(i)
		var d objectives.Design
		if c.Design(&d, x); d.Material.Name != name {
			t.Errorf("material %d is %s, want %s", i, d.Material.Name, name)
		}
	}
}

// A fork whose tubes come out larger than allowed does not work, by the more the smaller the limit.
func TestTubesLargerThanAllowed(t *testing.T) {
	amount := func(limit string) float64 {
		j := validJob(t, "structure: {tubes: {min_diameter_mm: 10, max_diameter_mm: "+limit+"}}\n")
		c := cases.Cases(j)[0]
		score := &objectives.Score{Values: make([]float64, len(objectives.Measures)), Missing: make([]string, len(objectives.Measures))}
		score.Values[objectives.Index("tube_diameter_max_mm")] = 30
		return c.Beyond(score)
	}
	if a, b, c := amount("30"), amount("25"), amount("20"); a != 0 || !(b > 0) || !(c > b) {
		t.Errorf("30 mm is beyond 30, 25 and 20 mm by %g, %g, %g", a, b, c)
	}
}

func validJob(t *testing.T, more string) *files.JobFile {
	t.Helper()
	text, err := os.ReadFile("testdata/valid.yaml")
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := files.ReadJob("valid.yaml", strings.NewReader(string(text)+more))
	if err != nil {
		t.Fatal(err)
	}
	return j
}
