package results

import (
	"math"
	"os"
	"strings"
	"testing"

	"forkfront/results/table"
)

func TestHistory(t *testing.T) {
	f, err := Open(t.TempDir(), false)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	volume := 0.25
	rows := []HistoryRow{{Case: "girder", Evaluations: 60}, {Case: "girder", Generation: 1, Evaluations: 120, FeasibleShare: 0.5, Front: 7, Hypervolume: &volume}}
	if err := f.WriteHistory("0123456789ab", rows, nil); err != nil {
		t.Fatal(err)
	}
	history, err := table.Read(f.Path(HistoryFile))
	if err != nil {
		t.Fatal(err)
	}
	hv, n := history.Index("hypervolume"), history.Index("evaluations")
	if history.Rows != 2 || !history.Null(hv, 0) || history.Null(hv, 1) || history.Series[hv].Floats[1] != 0.25 || history.Series[n].Ints[1] != 120 {
		t.Errorf("read back %+v", history)
	}
	nan := math.NaN()
	rows[1].Hypervolume = &nan
	if err := f.WriteHistory("0123456789ab", rows, nil); err == nil || !strings.Contains(err.Error(), "row 1, column hypervolume") {
		t.Errorf("NaN: %v", err)
	}
	if again, err := table.Read(f.Path(HistoryFile)); err != nil || again.Rows != 2 {
		t.Errorf("a refused table took the place of the good one: %v", err)
	}
	if left, _ := os.ReadDir(f.Dir); len(left) != 2 { // the table and the lock
		t.Errorf("left behind: %v", left)
	}
}
