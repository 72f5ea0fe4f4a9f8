package jobs

import (
	"math"
	"path/filepath"
	"slices"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/optimize"
	"forkfront/optimize/tradeoff"
	"forkfront/results"
	"forkfront/results/picks"
	"forkfront/results/table"
)

// At forks of a short search, the rate of a trade, which comes from exact derivatives, is that of differences: after a move
// of a millionth of the bounds, scored by the product, the cost is the rate times the gain.
func TestRatesOfTradesAgreeWithDifferences(t *testing.T) {
	t.Parallel()
	job, _, err := files.Job(&process.Env{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	compared, off := 0, 0
	for _, c := range cases.Cases(job) {
		p := c.Problem()
		found, err := optimize.Search(t.Context(), p, optimize.Settings{Seed: 1, Evaluations: 2500, FrontSize: 60, Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		finder := tradeoff.NewFinder(p, 1e-6)
		for _, candidate := range found.Front[:min(12, len(found.Front))] {
			for _, k := range finder.Trades(candidate.X) {
				if compared++; math.Abs(k.For-k.Rate*k.By) > 0.01*k.Rate*k.By {
					off++
					t.Logf("%s: %+v, rate of the move %g", c.Name, k, k.For/k.By)
				}
			}
		}
	}
	// At a kink of an objective, such as where another two parts become the closest, one side has another derivative.
	if compared < 60 || off > compared/20 {
		t.Errorf("%d of %d trades are off", off, compared)
	}
}

// The table of a run has the trades of the suggested candidates, and of no others.
func TestTradesOfARun(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "out")
	job := jobFile(t, shortDemo("2500"))
	want(t, process.Done, "run", job, "--out", dir)
	trades, err := table.Read(filepath.Join(dir, results.TradeoffsFile))
	if err != nil {
		t.Fatal(err)
	}
	shortlist, err := table.Read(filepath.Join(dir, results.ShortlistFile))
	if err != nil {
		t.Fatal(err)
	}
	suggested, all := shortlist.Series[shortlist.Index("candidate")].Texts, picks.Trades(trades)
	if len(all) < 2 {
		t.Fatalf("%d trades of %d candidates", trades.Rows, len(all))
	}
	for id, of := range all {
		if !slices.Contains(suggested, id) {
			t.Errorf("%s has trades and is not suggested", id)
		}
		for _, k := range of {
			if !(k.By > 0 && k.For > 0 && k.Move > 0 && k.Move < 2*tradeoff.Move) || k.Gain == k.Cost {
				t.Errorf("%s: %+v", id, k)
			}
		}
	}
}
