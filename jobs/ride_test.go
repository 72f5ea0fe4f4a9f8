package jobs

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/objectives"
	"forkfront/results"
	"forkfront/results/table"
)

// A job that starts from a concept with a ride section and dampers takes both over: its front has the measures of damping, within
// their default limits, one of the dampers fits each fork, and an extracted candidate scores the same.
func TestRideSectionIsTakenOverFromTheConcept(t *testing.T) {
	t.Parallel()
	dir, job := filepath.Join(t.TempDir(), "out"), eventsJob(t, t.TempDir(), "events: none\n")
	text := strings.NewReplacer("evaluations: 500", "evaluations: 1500", "front_size: 6", "front_size: 60").Replace(fileText(t, job))
	if err := os.WriteFile(job, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, said := command(t, "run", job, "--out", dir); code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	if front.Rows == 0 {
		t.Fatal("no candidates")
	}
	for row := range front.Rows {
		for _, limit := range []struct {
			measure int
			most    float64
		}{{objectives.DampingVariation, 30}, {objectives.DamperMisfit, 0}} {
			name := objectives.Measures[limit.measure].Name
			if col := front.Index(name); front.Null(col, row) || front.Number(col, row) > limit.most {
				t.Errorf("row %d: %s %g", row, name, front.Number(col, row))
			}
		}
	}
	id := front.Series[front.Index("candidate")].Texts[0]
	code, extracted, said := command(t, "extract", dir, id)
	if code != process.Done || !strings.Contains(extracted, "front_tyre_n_per_mm: 100") || !strings.Contains(extracted, "name: firm") {
		t.Fatalf("exit %d: %s %s", code, said, extracted)
	}
	again := filepath.Join(t.TempDir(), "candidate.yaml")
	if err := os.WriteFile(again, []byte(extracted), 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, said := command(t, "score", again)
	if code != process.Done || !strings.Contains(out, "\ndamper_misfit_pct") || strings.Contains(out, objectives.NoRide) {
		t.Errorf("exit %d: %s %s", code, said, out)
	}
}

// Without a ride section the measures of damping have no row in a score, and one line says why.
func TestScoreWithoutARideSection(t *testing.T) {
	code, out, _ := command(t, "score", "examples/cargo-girder.yaml")
	if code != process.Done || strings.Contains(out, "\ndamping_variation_pct") || strings.Count(out, objectives.NoRide) != 1 {
		t.Errorf("exit %d: %s", code, out)
	}
	code, out, _ = command(t, "score", "examples/cargo-girder.yaml", "--json")
	if code != process.Done || !strings.Contains(out, `"damping_variation_pct": null`) || !strings.Contains(out, `"damping_variation_pct": "`+objectives.NoRide) {
		t.Errorf("exit %d", code)
	}
}
