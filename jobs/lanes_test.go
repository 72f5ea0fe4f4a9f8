package jobs

import (
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/forks"
	"forkfront/jobs/process"
	"forkfront/objectives"
	"forkfront/results"
	"forkfront/results/table"
)

// withLanes is a short job whose upper link is in one of three lanes.
func withLanes(t *testing.T, lanes string) string {
	t.Helper()
	text := fileText(t, filepath.Join("examples", "short", "girder.yaml"))
	// Without its limit on clearance, a short search finds forks.
	text = strings.NewReplacer("evaluations: 3000", "evaluations: 1500", "clearance_mm, min: 6", "clearance_mm, min: -80", "upper_link: 45, ", "").Replace(text)
	return strings.Replace(text, "    shock_angle_rad:", "    lanes_mm: "+lanes+"\n    shock_angle_rad:", 1)
}

// searched searches a job, which is checked as it comes from a state too, into a folder, and reads front and forks.
func searched(t *testing.T, path, dir string) (*table.Table, *forks.Reader) {
	t.Helper()
	job, _, err := files.ReadJob(path, opened(t, path))
	if err != nil {
		t.Fatal(err)
	}
	if err := job.Recheck(); err != nil {
		t.Errorf("as it comes from a state: %v", err)
	}
	want(t, process.Done, "run", path, "--out", dir)
	reader, err := forks.Open(dir, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	return readTable(t, dir, results.FrontFile), reader
}

// asInFront compares a score with a row of a front.
func asInFront(t *testing.T, front *table.Table, row int, s *objectives.Score) {
	t.Helper()
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		col := front.Index(m.Name)
		if col < 0 || s.Missing[i] != "" || front.Null(col, row) {
			continue
		}
		if want := front.Series[col].Floats[row]; math.Abs(s.Values[i]-want) > 1e-6*(1+math.Abs(want)) {
			t.Errorf("row %d: %s is %g, in the front %g", row, m.Name, s.Values[i], want)
		}
	}
}

// A search over lanes says which lane each candidate has; the candidates of different lanes, built again from the results, have the
// measures of the front.
func TestLanesAreChosenByTheSearch(t *testing.T) {
	t.Parallel()
	front, reader := searched(t, jobFile(t, withLanes(t, "{upper_link: [45, 46, 44]}")), filepath.Join(t.TempDir(), "out"))
	lanes := front.Series[front.Index("upper_link_half_width_mm")].Floats
	compared := map[float64]int{}
	for row, lane := range lanes {
		if !slices.Contains([]float64{45, 46, 44}, lane) {
			t.Fatalf("row %d is in lane %g", row, lane)
		}
		if compared[lane]++; compared[lane] > 3 {
			continue
		}
		fork, err := reader.Fork(row)
		if err != nil {
			t.Fatal(err)
		}
		if got := fork.Design.Across.HalfWidthMM[slices.Index(fork.Design.Mechanism.Bodies, "upper_link")]; got != lane {
			t.Errorf("row %d is in lane %g, its fork at %g", row, lane, got)
		}
		var s objectives.Score
		objectives.NewScorer(fork.Conditions).Score(&s, &fork.Design).Complete(&s)
		asInFront(t, front, row, &s)
	}
	if len(compared) < 2 {
		t.Errorf("candidates by lane: %v", compared)
	}
}

// With lanes: chosen, enumerated linkages have a variable for each body with several lanes, and pass as a state.
func TestTopologiesWithLanes(t *testing.T) {
	t.Parallel()
	demo := plainDemo()
	begin, end := strings.Index(demo, "mechanisms:\n"), strings.Index(demo, "objectives:\n")
	job, _, err := files.ReadJob("lanes.yaml", strings.NewReader(demo[:begin]+"topologies: {bodies: 4, lanes: chosen}\n"+demo[end:]))
	if err != nil {
		t.Fatal(err)
	}
	if err := job.Recheck(); err != nil {
		t.Errorf("as it comes from a state: %v", err)
	}
	for _, c := range cases.Cases(job) {
		for _, body := range c.Mechanism.Bodies {
			one := body == "crown" || body == "leg" || body == "carrier"
			if i := c.Variable(body + "_half_width_mm"); (i < 0) != one || i >= 0 && (c.Free[i].Variable.Levels < 3 || !c.Free[i].Variable.Categorical) {
				t.Errorf("%s: %s has variable %d", c.Name, body, i)
			}
		}
	}
}

func TestLanesThatCannotBeChosenFrom(t *testing.T) {
	t.Parallel()
	for lanes, want := range map[string]string{
		"{upper: [45, 60]}":              `unknown body`,
		"{upper_link: [45]}":             "1 half width; at least two to choose from are required",
		"{upper_link: [45, 45]}":         "45 is listed twice",
		"{upper_link: [45, 0]}":          "0; must be more than 0",
		"{lower_link: [45, 60]}":         `"lower_link" has a half width under across; remove one of the two`,
		"{upper_link: [45, 60], leg: 3}": "leg",
	} {
		_, _, err := files.ReadJob("job.yaml", strings.NewReader(withLanes(t, lanes)))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v\nwant %s", lanes, err, want)
		}
	}
}
