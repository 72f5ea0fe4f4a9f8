package optimize_test

import (
	"math"
	"reflect"
	"sync/atomic"
	"testing"

	"forkfront/optimize"
	"forkfront/optimize/volume"
)

// dear is a problem whose last objective, and a constraint if it has one, follow from a value that takes long to find. Its
// front is known: x2 to x5 are 0.5, or as near as x3 may come.
type dear struct {
	objectives int
	limited    bool
	lacking    func(x []float64) bool // designs without the late value; nil: none
	found      *atomic.Int64          // late values asked for
}

func newDear(objectives int, limited bool) *dear {
	return &dear{objectives: objectives, limited: limited, found: &atomic.Int64{}}
}

func (d *dear) Variables() (all []optimize.Variable) {
	for i := range 6 {
		all = append(all, optimize.Variable{Name: string(rune('a' + i)), Low: 0, High: 1})
	}
	return all
}

func (d *dear) Objectives() []optimize.Objective {
	return []optimize.Objective{{Name: "one"}, {Name: "two"}, {Name: "late"}}[3-d.objectives:]
}

func (d *dear) Constraints() []string {
	if d.limited {
		return []string{"cheap", "late"}
	}
	return []string{"cheap"}
}

func off(x []float64) (sum float64) {
	for _, v := range x[2:] {
		sum += (v - 0.5) * (v - 0.5)
	}
	return sum
}

func (d *dear) value(x []float64) float64 {
	return math.Hypot(1.2-x[0], 1.2-x[1]) + 3*off(x) + 0.1*math.Sin(3*x[0]*x[1])
}

func (d *dear) Late() (values, hints int) { return 1, 5 }

func (d *dear) Screen(dst *optimize.Outcome, hints, x []float64) bool {
	cheap := []float64{x[0] + off(x), x[1] + off(x), 0}
	copy(dst.F, cheap[3-d.objectives:])
	if dst.G[0] = x[0] + x[1] - 1.6; d.limited {
		dst.G[1] = 0
	}
	copy(hints, []float64{x[0], x[1] * x[1], off(x), x[0] * x[1], 7})
	return x[5] < 0.99
}

func (d *dear) Measure(values, x []float64) bool {
	d.found.Add(1)
	if d.lacking != nil && d.lacking(x) {
		values[0] = math.NaN()
		return false
	}
	values[0] = d.value(x)
	return true
}

func (d *dear) Settle(dst *optimize.Outcome, values []float64) {
	late := math.Inf(1)
	if values != nil {
		late = values[0]
	}
	dst.F[d.objectives-1] = late
	if d.limited {
		dst.G[1] = min(late, 1e3) - 1.4
	}
}

func (d *dear) Evaluate(dst *optimize.Outcome, x []float64) {
	hints, values := make([]float64, 5), make([]float64, 1)
	if !d.Screen(dst, hints, x) || !d.Measure(values, x) {
		values = nil
	}
	d.Settle(dst, values)
}

// whole is a staged problem that the search evaluates in full every time.
type whole struct{ optimize.Problem }

// What is reported has late values of its own, found as often as is said and no oftener than asked for.
func TestReportedLateValuesAreFound(t *testing.T) {
	for _, objectives := range []int{1, 2, 3} {
		for _, limited := range []bool{false, true} {
			p := newDear(objectives, limited)
			s := optimize.Settings{Seed: 3, Evaluations: 3000, Measurements: 60, FrontSize: 40}
			r := search(t, p, s)
			found := int(p.found.Load())
			if r.Measured != found || found > s.Measurements+s.FrontSize+8 || found < 25 {
				t.Errorf("%d objectives, limited %t: %d values found, %d said, at most %d wanted", objectives, limited, found, r.Measured, s.Measurements+s.FrontSize)
			}
			if len(r.Front) == 0 {
				t.Errorf("%d objectives, limited %t: no front", objectives, limited)
			}
			for _, c := range r.Front {
				own := optimize.Outcome{F: make([]float64, objectives), G: make([]float64, len(c.G))}
				p.Evaluate(&own, c.X)
				if c.Guessed || !reflect.DeepEqual(own, c.Outcome) || !own.Feasible() || len(c.Late) != 1 || c.Late[0] != p.value(c.X) {
					t.Errorf("candidate %d says %+v, is %+v", c.Number, c.Outcome, own)
				}
			}
			if a := r.Agreements[0]; a.Count > 10 && !(a.RankCorrelation > 0.95) {
				t.Errorf("%d objectives, limited %t: predicted %+v", objectives, limited, a)
			}
		}
	}
}

// With 100 late values the front dominates nearly as much as with one for every candidate, and more than that of a search
// without the late objective whose front is looked at afterwards.
func TestFewLateValuesSuffice(t *testing.T) {
	p := newDear(3, false)
	s := optimize.Settings{Seed: 1, Evaluations: 4000, Measurements: 60, FrontSize: 40}
	few, all := search(t, p, s), search(t, whole{p}, s)
	blind := search(t, whole{blinded{p}}, s)
	dominated := func(candidates []optimize.Candidate) float64 {
		var points [][]float64
		for _, c := range candidates {
			o := optimize.Outcome{F: make([]float64, 3), G: make([]float64, 1)}
			p.Evaluate(&o, c.X)
			points = append(points, o.F)
		}
		return volume.Hypervolume(points, []float64{1.3, 1.3, 2})
	}
	f, a, b := dominated(few.Front), dominated(all.Front), dominated(blind.Front)
	if f < 0.98*a || f < 1.02*b {
		t.Errorf("volume %.4f with few late values, %.4f with all, %.4f without", f, a, b)
	}
}

// blinded is the problem without its late objective.
type blinded struct{ *dear }

func (b blinded) Objectives() []optimize.Objective { return b.dear.Objectives()[:2] }

func (b blinded) Evaluate(dst *optimize.Outcome, x []float64) {
	dst.F[0], dst.F[1], dst.G[0] = x[0]+off(x), x[1]+off(x), x[0]+x[1]-1.6
}

// Designs without late values are not reported, and the search does not stop at them.
func TestLackingLateValues(t *testing.T) {
	for name, lacking := range map[string]func(x []float64) bool{
		"a part": func(x []float64) bool { return x[0] > 0.4 },
		"all":    func([]float64) bool { return true },
	} {
		p := newDear(3, true)
		p.lacking = lacking
		r := search(t, p, optimize.Settings{Seed: 2, Evaluations: 3000, Measurements: 60, FrontSize: 40})
		for _, c := range append(r.Front, r.Nearest...) {
			for _, v := range append(append([]float64{}, c.F...), c.G...) {
				if math.IsNaN(v) {
					t.Errorf("%s: NaN in %+v", name, c)
				}
			}
		}
		for _, c := range r.Front {
			if lacking(c.X) {
				t.Errorf("%s: %+v has no late value", name, c)
			}
		}
		if name == "a part" && len(r.Front) < 10 {
			t.Errorf("%s: %d candidates", name, len(r.Front))
		}
	}
}

// What is observed has no predicted values: they would be taken for found ones.
func TestPredictionsAreNotObserved(t *testing.T) {
	seen := 0
	s := optimize.Settings{Seed: 1, Evaluations: 600, Measurements: 30, FrontSize: 5, Observe: func(c *optimize.Candidate) error {
		seen++
		if !c.Guessed || !math.IsInf(c.F[2], 1) || c.Late != nil {
			t.Fatalf("%+v", *c)
		}
		return nil
	}}
	if r := search(t, newDear(3, true), s); seen != r.Candidates {
		t.Errorf("%d observed, %d evaluated", seen, r.Candidates)
	}
}

// A search stopped while it measures its final candidates resumes with the remaining ones.
func TestResumeWhileMeasuring(t *testing.T) {
	s := optimize.Settings{Seed: 4, Evaluations: 1500, Measurements: 30, FrontSize: 150, Workers: 1}
	var whole trace
	p := newDear(3, true)
	want := search(t, p, whole.settings(s))
	states := whole.states[want.Generations-1:]
	if len(states) < 3 {
		t.Fatalf("%d states while %d candidates were measured", len(states), len(want.Front))
	}
	all := p.found.Load()
	for _, state := range states[1:] {
		rest := s
		p.found.Store(0)
		rest.Resume, rest.Workers = state, 2
		if got := search(t, p, rest); !reflect.DeepEqual(got, want) {
			t.Error("another front when resumed")
		}
		if again := p.found.Load(); again > all-64 {
			t.Errorf("%d of %d late values found again", again, all)
		}
	}
}
