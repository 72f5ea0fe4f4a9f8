package jobs

import (
	"path/filepath"
	"strings"
	"testing"

	"forkfront/objectives"
	"forkfront/results"
)

// The designer's road: a concept, a search around it, a candidate of it as a concept again, and the
// table of what changed.
func TestFromAConceptToABetterOne(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	if code, _, said := command(t, "run", "examples/refine.yaml", "--out", dir); code != exitDone {
		t.Fatalf("exit %d: %s", code, said)
	}
	table, err := results.ReadTable(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	rear := table.Index("lower_rear_along_mm")
	if rear >= 0 {
		t.Error("a point that is held is no variable")
	}
	id := table.Series[table.Index("candidate")].Texts[0]
	code, concept, said := command(t, "extract", dir, id)
	if code != exitDone {
		t.Fatalf("exit %d: %s", code, said)
	}
	var o, e strings.Builder
	code = Main(t.Context(), Env{Args: []string{"score", "-", "--before", "examples/cargo-girder.yaml"}, In: strings.NewReader(concept), Out: &o, Err: &e})
	if code != exitDone || !strings.Contains(o.String(), "better") {
		t.Errorf("exit %d: %s%s", code, o.String(), e.String())
	}
	t.Log("\n" + o.String())
}

// The first candidate of a search around a concept is the concept.
func TestASearchStartsAtItsConcept(t *testing.T) {
	var env Env
	job, _, err := env.job([]string{"examples/refine.yaml"})
	if err != nil {
		t.Fatal(err)
	}
	c := job.Cases()[0]
	var d objectives.Design
	c.Design(&d, c.first)
	var got objectives.Score
	objectives.NewScorer(c.Conditions).Score(&got, &d)
	want, err := env.scoreOf("examples/cargo-girder.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"path_straightness_mm", "trail_variation_mm", "shock_stroke_used_mm"} {
		i := objectives.Index(name)
		if w := want.Measures[name]; w == nil || got.Missing[i] != "" || !near(got.Values[i], *w) {
			t.Errorf("%s: %g, the concept has %v", name, got.Values[i], w)
		}
	}
}

func near(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }
