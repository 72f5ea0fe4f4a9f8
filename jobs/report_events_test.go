package jobs

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"path/filepath"
	"slices"
	"testing"

	"forkfront/jobs/process"
	"forkfront/objectives/simulation"
	"forkfront/results"
)

// The report has the traces of the suggested candidates and of their telescopic fork, with the values of the table of events, and
// marks those that grip worse. Its travel on the braked bump is that of traces.parquet, sample for sample.
func TestReportShowsEvents(t *testing.T) {
	t.Parallel()
	job, dir := eventsJob(t, t.TempDir(), "traces: shortlist\n"), filepath.Join(t.TempDir(), "out")
	if code, _, said := command(t, "run", job, "--out", dir); code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	page := fileText(t, filepath.Join(dir, results.ReportFile))
	var about struct {
		IDs    []string `json:"ids"`
		Ridden struct {
			Events   []struct{ Name string }
			Channels []struct {
				Name string
				Step float64
			}
			Forks []struct {
				Row    int
				Values [][]*float64
				Worse  []int
				Needs  []*float64
			}
		}
	}
	if err := json.Unmarshal(pageScript(t, page, "packed"), &about); err != nil {
		t.Fatal(err)
	}
	ridden := about.Ridden
	if len(ridden.Forks) < 3 || ridden.Forks[0].Row != -1 || len(ridden.Events) != len(simulation.Events) {
		t.Fatalf("%d forks, %d events", len(ridden.Forks), len(ridden.Events))
	}
	tracks := readTracks(pageScript(t, page, "traces"))
	if len(tracks) != len(ridden.Forks)*len(ridden.Events)*len(ridden.Channels) {
		t.Fatalf("%d tracks", len(tracks))
	}
	events, traces, loads := readTable(t, dir, results.EventsFile), readTable(t, dir, results.TracesFile), braked(t, dir)
	telescopic := events.Number(events.Index("load_pct"), simulation.BrakedBump)
	compared := 0
	for i, f := range ridden.Forks {
		if f.Row < 0 {
			continue
		}
		id := about.IDs[f.Row]
		load, worse := loads[id], slices.Contains(f.Worse, simulation.BrakedBump)
		if got := *f.Values[simulation.BrakedBump][0]; math.Abs(got-load) > 0.001*load || worse != (load > 1.01*telescopic) {
			t.Errorf("%s: %g %%, in the table %g, worse than %g: %t", id, got, load, telescopic, worse)
		}
		if len(f.Needs) < 10 || *f.Needs[0] <= 0 {
			t.Errorf("%s: damper %v", id, f.Needs)
		}
		k := slices.IndexFunc(ridden.Channels, func(c struct {
			Name string
			Step float64
		},
		) bool {
			return c.Name == "travel_mm"
		})
		travel, step := tracks[(i*len(ridden.Events)+simulation.BrakedBump)*len(ridden.Channels)+k], ridden.Channels[k].Step
		n := 0
		for row, of := range traces.Series[traces.Index("candidate")].Texts {
			if of != id || traces.Series[traces.Index("event")].Texts[row] != "bump_braked" {
				continue
			}
			if at := n / 2; n%2 == 0 && math.Abs(float64(travel[at])*step-traces.Number(traces.Index("travel_mm"), row)) > step {
				t.Fatalf("%s: sample %d is %g mm", id, at, float64(travel[at])*step)
			}
			n++
			compared++
		}
		if (n+1)/2 != len(travel) {
			t.Errorf("%s: %d samples of %d", id, len(travel), n)
		}
	}
	if compared < 500 {
		t.Errorf("%d samples compared", compared)
	}
}

// readTracks reads tracks as the page does: a count, then for each value how it differs from the straight line through the two before.
func readTracks(b []byte) (all [][]int64) {
	for len(b) > 0 {
		n, used := binary.Uvarint(b)
		b = b[used:]
		track := make([]int64, n)
		var last, before int64
		for i := range track {
			d, used := binary.Varint(b)
			b = b[used:]
			track[i] = d + 2*last - before
			before, last = last, track[i]
		}
		all = append(all, track)
	}
	return all
}
