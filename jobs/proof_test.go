package jobs

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files/sections"
	"forkfront/jobs/process"
	"forkfront/objectives"
	"forkfront/objectives/structure/loads"
	"forkfront/results"
	"forkfront/results/table"
)

// Stresses under the test loads of all examples with sizes, by a frame of the tests' own: on each side, with the torque
// of the brake on the caliper's. The load of an impact follows from that frame's stiffness.
func TestProofAgainstASpaceFrame(t *testing.T) {
	compared := 0
	for _, path := range conceptFiles(t) {
		c, d := readExample(t, path)
		c.Proof.Preset = "iso-4210-6-mountain"
		var s objectives.Score
		st := objectives.NewScorer(cases.Conditions(c)).Score(&s, d)
		if objectives.Sizes(st) == nil {
			continue
		}
		compared++
		p := st.Proof(&s)
		for i, test := range loads.TestPresets["iso-4210-6-mountain"] {
			r := &p.Results[i]
			f := newWholeFork(d, objectives.Sizes(st), test.At, shaftMPa*math.Pi*25)
			rearward := test.RearwardN
			if test.Kind == loads.ImpactTest {
				f.solve(t, map[int][6]float64{f.hub: {1: -1}})
				weight := 22.5 * 9.80665
				rearward = weight + math.Sqrt(2*weight*360/-f.moved(f.hub, 1))
			}
			if want := max(rearward, math.Abs(test.AlongN)); !(math.Abs(r.LoadN-want) < 1e-6*want) {
				t.Errorf("%s, %s: load %g N, by the frame %g", path, test.Name, r.LoadN, want)
			}
			loads := map[int][6]float64{f.hub: {test.AlongN, -rearward}}
			if test.Braked {
				caliper := f.of(d.Mechanism.Brake(), d.Mechanism.Point("axle"), f.sides(d.Mechanism.Brake())[0])
				on := loads[caliper]
				on[5] -= rearward * c.Bike.FrontRadiusMM
				loads[caliper] = on
			}
			f.solve(t, loads)
			worst := 0.0
			for i, mb := range d.Mechanism.Tubes() {
				for _, side := range f.sides(mb.Body) {
					worst = max(worst, f.stress(i, side, 1))
				}
			}
			if !(math.Abs(r.StressMPa-worst) < 1e-6*worst) {
				t.Errorf("%s, %s: %g MPa, by the frame %g", path, test.Name, r.StressMPa, worst)
			}
		}
	}
	if compared < 8 {
		t.Errorf("only %d forks compared", compared)
	}
}

// The table of score tells each test with its source, what is from memory, and what was not checked.
func TestScoreShowsTheProof(t *testing.T) {
	text, err := os.ReadFile("examples/cargo-girder.yaml")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "proved.yaml")
	text = append(text, "proof: {preset: iso-4210-6-mountain, scale: 1.5, tests: [{name: own, kind: static, rearward_n: 100}], duty: [{load: landing, cycles: 7}, {load: own, cycles: 8}]}\n"...)
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, said := command(t, "score", path)
	if code != process.Done {
		t.Fatal(said)
	}
	for _, wanted := range []string{"Test loads on paper", "bending fatigue", "975 ", "from memory, times 1.5", "] as given\n", "[3] MIL-HDBK-5J figure", "Duty on paper", "landing  7 ", "of the most damaged tube", "Pivots on paper", "Assumed: 7075-T6, walls 8 % of the diameter", "static brake torque", "a bound", "Not checked:", "certify nothing"} {
		if !strings.Contains(out, wanted) {
			t.Errorf("score does not say %q", wanted)
		}
	}
	if code, out, _ := command(t, "score", "examples/cargo-girder.yaml"); code != process.Done || strings.Contains(out, "Test loads") {
		t.Error("a fork without test loads shows them")
	}
}

// Presets of the program are those of the schema, and all their tests name a source.
func TestProofPresets(t *testing.T) {
	for name, tests := range loads.TestPresets {
		v := sections.ProofSection{Preset: name, Scale: 1}
		if m := v.Model(nil); (m == nil) != (len(tests) == 0) {
			t.Errorf("%s: %v", name, m)
		}
		for _, test := range tests {
			if test.Source == "" || !slices.Contains(loads.TestKinds, test.Kind) {
				t.Errorf("%s: %+v", name, test)
			}
		}
	}
}

// Tubes sized for the tests pass them on paper, by the frame that did not size them; that costs mass, and a harder test
// more of it.
func TestTubesSizedForTheTests(t *testing.T) {
	compared := 0
	for _, path := range conceptFiles(t) {
		c, d := readExample(t, path)
		scored := func(size bool, scale float64) (mass, margin float64) {
			c.Proof = sections.ProofSection{Preset: "iso-4210-6-mountain", Scale: scale, Joint: "notch", Deviations: 2, SizeTubes: size}
			var s objectives.Score
			st := objectives.NewScorer(cases.Conditions(c)).Score(&s, d)
			st.Complete(&s)
			return s.Values[objectives.Index("mass_g")], s.Values[objectives.ProofMargin]
		}
		before, failing := scored(false, 1)
		if before == 0 {
			continue
		}
		compared++
		after, margin := scored(true, 1)
		harder, still := scored(true, 1.2)
		t.Logf("%s: margin %.3f with %.0f g, %.3f with %.0f g, a fifth more load %.3f with %.0f g", filepath.Base(path), failing, before, margin, after, still, harder)
		if !(margin >= 1 && still >= 1) || !(after >= before && harder >= after) {
			t.Errorf("%s: margins %g, %g and %g with %g, %g and %g g", path, failing, margin, still, before, after, harder)
		}
	}
	if compared < 8 {
		t.Errorf("only %d forks compared", compared)
	}
}

// The table of the telescopic fork has what it comes to where it is sized by the rules for all forks, as score has it of a fork of the
// front: the same at all travels.
func TestTheTelescopicTableHasTheSizedFork(t *testing.T) {
	dir := undisturbed(t, shortJob(t))
	of, err := table.Read(filepath.Join(dir, results.TelescopicFile))
	if err != nil {
		t.Fatal(err)
	}
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	code, concept, said := command(t, "extract", dir, front.Series[front.Index("candidate")].Texts[0])
	if code != process.Done {
		t.Fatal(said)
	}
	path := filepath.Join(t.TempDir(), "fork.yaml")
	if err := os.WriteFile(path, []byte(concept), 0o644); err != nil {
		t.Fatal(err)
	}
	code, text, said := command(t, "score", path, "--json")
	if code != process.Done {
		t.Fatal(said)
	}
	var score struct {
		Telescopic struct {
			Sized map[string]float64 `json:"sized"`
		} `json:"telescopic"`
	}
	if err := json.Unmarshal([]byte(text), &score); err != nil {
		t.Fatal(err)
	}
	for _, i := range objectives.TelescopicSizes {
		name := objectives.At(i).Name
		want := score.Telescopic.Sized[name]
		for row, got := range of.Series[of.Index("sized_"+name)].Floats {
			if !(want > 0 && math.Abs(got-want) < 1e-6*want) {
				t.Fatalf("%s in row %d: %g, score has %g", name, row, got, want)
			}
		}
	}
}
