package jobs

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/score"
	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
	"forkfront/objectives"
	"forkfront/results"
	"forkfront/results/table"
)

// The designer's road: a concept, a search around it, a candidate of it as a concept again, and the
// table of what changed.
func TestFromAConceptToABetterOne(t *testing.T) {
	t.Parallel()
	dir := doneExample(t, "examples/refine.yaml")
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	for _, column := range []string{"root", "lower_rear", "upper_rear", "shock_upper"} {
		if front.Index(column+"_along_mm") >= 0 || front.Index(column+"_ahead_mm") >= 0 {
			t.Errorf("%s is on the crown, which is held, and varies", column)
		}
	}
	id := front.Series[front.Index("candidate")].Texts[0]
	code, concept, said := command(t, "extract", dir, id)
	if code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	var o, e strings.Builder
	code = Main(t.Context(), process.Env{Args: []string{"score", "-", "--before", "examples/cargo-girder.yaml"}, In: strings.NewReader(concept), Out: &o, Err: &e})
	if code != process.Done || !strings.Contains(o.String(), "better") {
		t.Errorf("exit %d: %s%s", code, o.String(), e.String())
	}
	t.Log("\n" + o.String())
}

// The first candidate of a search around a concept is the concept.
func TestASearchStartsAtItsConcept(t *testing.T) {
	var env process.Env
	job, _, err := files.Job(&env, []string{"examples/refine.yaml"})
	if err != nil {
		t.Fatal(err)
	}
	c := cases.Cases(job)[0]
	var d objectives.Design
	c.Design(&d, c.First)
	var got objectives.Score
	objectives.NewScorer(c.Conditions).Score(&got, &d).Complete(&got)
	want, err := score.ScoreOf(&env, "examples/cargo-girder.yaml")
	if err != nil {
		t.Fatal(err)
	}
	compared := 0
	for i := range objectives.Measures {
		name := objectives.Measures[i].Name
		w := want.Measures[name]
		compared++
		if (w == nil) != (got.Missing[i] != "") || w != nil && !near(got.Values[i], *w) {
			t.Errorf("%s: %g, the concept has %v", name, got.Values[i], w)
		}
	}
	if compared < 35 {
		t.Errorf("%d measures compared", compared)
	}
}

// near allows for the shock's lower eye, which a search places by an angle: some 1e-13 mm, of forces of
// thousands of newtons.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(b)) }

// What a job says itself counts, whatever the concept says; and a fork that a search cannot be is refused.
func TestWhatAJobTakesFromItsConcept(t *testing.T) {
	text, err := os.ReadFile("examples/cargo-girder.yaml")
	if err != nil {
		t.Fatal(err)
	}
	refine, err := os.ReadFile("examples/refine.yaml")
	if err != nil {
		t.Fatal(err)
	}
	read := func(concept, job string) (*files.JobFile, error) {
		dir := t.TempDir()
		for name, text := range map[string]string{"cargo-girder.yaml": concept, "job.yaml": job} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		var env process.Env
		j, _, err := files.Job(&env, []string{filepath.Join(dir, "job.yaml")})
		return j, err
	}
	concept := strings.Replace(string(text), "lock_deg: 50", "lock_deg: 41", 1) + "braking_g: 0.4\nmaterial: 2024-T3\ntelescopic: {mass_g: 1999}\nstructure: {fore_aft_stiffness_n_per_mm: 71}\n"
	j, err := read(concept, string(refine))
	if err != nil {
		t.Fatal(err)
	}
	if j.Package.LockDeg != 41 || j.BrakingG != 0.4 || j.Materials[0].Name != "2024-T3" || j.Telescopic.MassG != 1999 || j.Structure.ForeAftNPerMM != 71 {
		t.Errorf("taken over: %+v, %g, %v, %+v", j.Package, j.BrakingG, j.Materials, j.Telescopic)
	}
	j, err = read(concept, string(refine)+"package: {lock_deg: 33}\nbraking_g: 0.3\nmaterials: [7075-T6]\n")
	if err != nil {
		t.Fatal(err)
	}
	if j.Package.LockDeg != 33 || j.BrakingG != 0.3 || j.Materials[0].Name != "7075-T6" || j.Telescopic.MassG != 1999 {
		t.Errorf("said by the job: %+v, %g, %v, %+v", j.Package, j.BrakingG, j.Materials, j.Telescopic)
	}
	preload := strings.Replace(concept, "stroke_mm: 50}", "stroke_mm: 50, preload_mm: 2}", 1)
	if j, err = read(preload, string(refine)); err != nil || cases.Cases(j)[0].Shocks[0].PreloadMM != 2 {
		t.Errorf("a preload: %v", err)
	}
	air := strings.Replace(concept, "stroke_mm: 50}", "stroke_mm: 50, spring: air, bore_mm: 36, chamber_mm: 120, mass_g: 450}", 1)
	if j, err = read(air, string(refine)); err != nil {
		t.Fatal(err)
	}
	if k := cases.Cases(j)[0].Shocks[0]; k.Air == nil || k.Air.BoreMM != 36 || k.Air.ChamberMM != 120 || k.MassG != 450 {
		t.Errorf("an air spring: %+v", k)
	}
}

// startOf is the one case of a search that starts from an example, with further lines for its start.
func startOf(t *testing.T, concept, lines string) *cases.Case {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("examples", concept))
	if err != nil {
		t.Fatal(err)
	}
	bike := string(text[strings.Index(string(text), "  head_angle_deg"):strings.Index(string(text), "travel_mm")])
	job := "job: near\nbikes:\n  - name: mid-tail cargo\n" + strings.ReplaceAll(bike, "  ", "    ") +
		"travel_mm: 100\nstart:\n  - concept: " + concept + "\n" + lines + "objectives:\n  - {measure: path_straightness_mm, sense: min}\n  - {measure: mass_g, sense: min}\n" +
		"constraints:\n  - {measure: clearance_mm, off: true} # where one axis nearly meets another, its slope is that of a cusp\nbudget: {evaluations: 2000}\n"
	dir := t.TempDir()
	for name, text := range map[string]string{concept: string(text), "job.yaml": job} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var env process.Env
	j, _, err := files.Job(&env, []string{filepath.Join(dir, "job.yaml")})
	if err != nil {
		t.Fatal(err)
	}
	return cases.Cases(j)[0]
}

// eachDesign calls do with random designs of a case.
func eachDesign(c *cases.Case, do func(*objectives.Design)) {
	r := rand.New(rand.NewPCG(3, 1))
	x := make([]float64, len(c.Free))
	var d objectives.Design
	for range 50 {
		for i, f := range c.Free {
			x[i] = f.Variable.Low + (f.Variable.High-f.Variable.Low)*r.Float64()
		}
		c.Design(&d, x)
		do(&d)
	}
}

// Where the shock's lower eye is held the upper one goes about it, at the shock's length.
func TestFixedLowerEyeStays(t *testing.T) {
	c := startOf(t, "cargo-girder.yaml", "    points_within_mm: {shock_lower: 0}\n")
	upper, lower := c.Mechanism.Point(scheme.PointShockUpper), c.Mechanism.Point(scheme.PointShockLower)
	var first objectives.Design
	c.Design(&first, c.First)
	moved := 0.0
	eachDesign(c, func(d *objectives.Design) {
		if d.Layout[lower] != first.Layout[lower] {
			t.Fatalf("shock_lower at %v, held at %v", d.Layout[lower], first.Layout[lower])
		}
		if l := kinematics.Distance(d.Layout[upper], d.Layout[lower]); !near(l, d.Shock.EyeToEyeMM) {
			t.Fatalf("a shock of %g mm between eyes %g mm apart", d.Shock.EyeToEyeMM, l)
		}
		moved = math.Max(moved, kinematics.Distance(d.Layout[upper], first.Layout[upper]))
	})
	if moved < 5 || moved > 10.1 {
		t.Errorf("shock_upper moved by %g mm, within_mm is 10", moved)
	}
	checkGradient(t, c, 1000)
}

// A body that exists already keeps all its points, the others move, and the two ways to say so may not contradict
// each other.
func TestFixedBodyStays(t *testing.T) {
	c := startOf(t, "cargo-girder.yaml", "    hold: [crown]\n")
	var first objectives.Design
	c.Design(&first, c.First)
	moved := map[string]float64{}
	eachDesign(c, func(d *objectives.Design) {
		for i, name := range c.Mechanism.Points {
			moved[name] = math.Max(moved[name], kinematics.Distance(d.Layout[i], first.Layout[i]))
		}
	})
	for _, name := range []string{"root", "lower_rear", "upper_rear", "shock_upper", "axle"} {
		if moved[name] != 0 {
			t.Errorf("%s is held and moved by %g mm", name, moved[name])
		}
	}
	for _, name := range []string{"lower_front", "upper_front", "shock_lower"} {
		if moved[name] < 5 {
			t.Errorf("%s moved by %g mm, within_mm is 10", name, moved[name])
		}
	}
	for lines, want := range map[string]string{
		"    hold: [crwn]\n": `"crwn" is not a body of girder; did you mean "crown"?`,
		"    hold: [crown]\n    points_within_mm: {lower_rear: 3}\n": "3; the point is on crown, which hold keeps as it is",
	} {
		text := strings.Replace(fileText(t, "examples/refine.yaml"), "    hold: [crown]   # it already exists\n", lines, 1)
		if _, _, err := files.ReadJob("examples/job.yaml", strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", lines, err)
		}
	}
}

// A search around a fork with ball joints keeps the steering axis that the bike has.
func TestBallsStayOnTheSteeringAxis(t *testing.T) {
	c := startOf(t, "cargo-wishbone.yaml", "")
	lower, upper, ok := c.Mechanism.Balls()
	if !ok {
		t.Fatal("no balls")
	}
	chassis := c.Conditions.Chassis
	moved := 0.0
	var first objectives.Design
	c.Design(&first, c.First)
	eachDesign(c, func(d *objectives.Design) {
		if angle, offset := c.Mechanism.SteeringDeviation(&chassis, d.Layout); math.Abs(angle) > 1e-9 || math.Abs(offset) > 1e-9 {
			t.Fatalf("axis off by %g rad, %g mm", angle, offset)
		}
		for _, ball := range []int{lower, upper} {
			moved = math.Max(moved, kinematics.Distance(d.Layout[ball], first.Layout[ball]))
		}
	})
	if moved < 5 {
		t.Errorf("the balls moved by %g mm along it", moved)
	}
}
