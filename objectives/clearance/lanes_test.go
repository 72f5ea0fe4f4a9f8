package clearance

import (
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/objectives/fork"
	"forkfront/objectives/trial"
)

// An assembly whose parts were moved to other lanes has the gaps and depths of one that was made for them, whatever lanes it had
// before.
func TestPlaceIsAsMadeForTheLanes(t *testing.T) {
	c, m := sizedConditions(), trial.Girder()
	c.rules = nil
	r := rand.New(rand.NewPCG(20, 12))
	made, moved := newScorer(c), newScorer(c)
	seen := 0
	var own *Assembly
	for range 150 {
		d := randomDesign(m, trial.Layout(m, r))
		d.across.OneSide[3] = false
		p := trial.Package(m)
		d.into(c, p)
		if own == nil {
			own = d.assembly.Movable()
		}
		across := *d.across
		across.HalfWidthMM = slices.Clone(d.across.HalfWidthMM)
		for _, body := range []int{1, 2} {
			across.HalfWidthMM[body] = []float64{26, 45, 60, 78}[r.IntN(4)]
		}
		var first, second score
		e := *d
		e.across = &across
		e.assembly = NewAssembly(p, m, &across, &c.Chassis, &d.shock)
		made.score(&first, &e)
		own.Place(m, &across, &d.shock)
		e.assembly = own
		moved.score(&second, &e)
		if first != second {
			t.Fatalf("%+v, moved to the same lanes %+v", first, second)
		}
		if first.why != "" {
			continue
		}
		if a, b := made.search.Crossing(6), moved.search.Crossing(6); a != b {
			t.Fatalf("depth %g, moved to the same lanes %g", a, b)
		}
		if !slices.Equal(made.search.Gaps(), moved.search.Gaps()) {
			t.Fatal("the gaps of pairs differ")
		}
		seen++
	}
	if seen < 30 {
		t.Errorf("only %d forks", seen)
	}
	d := randomDesign(m, trial.Layout(m, r))
	d.into(c, trial.Package(m))
	mine := d.assembly.Movable()
	if n := testing.AllocsPerRun(20, func() { mine.Place(m, d.across, &fork.Shock{Count: 1}) }); n > 0 {
		t.Errorf("%v allocations", n)
	}
	if !slices.EqualFunc(mine.parts, d.assembly.parts, func(a, b part) bool { return a.ends == b.ends }) {
		t.Error("moved to the lanes that it had, an assembly has other parts")
	}
}
