package jobs

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives"
	"forkfront/objectives/fork"
)

var mutants = flag.Int("mutants", 3000, "mutated mechanisms to try; 100000 take some minutes")

// mutant is a built-in mechanism, or the user's own, with a few random changes, and coordinates
// around those of its example.
type mutant struct {
	r    *rand.Rand
	spec scheme.MechanismSpec
	at   map[string]kinematics.Point
}

// cloned is a spec that shares no list with the file's.
func cloned(s scheme.MechanismSpec) scheme.MechanismSpec {
	s.Bodies, s.Steering, s.Slides, s.Members = slices.Clone(s.Bodies), slices.Clone(s.Steering), slices.Clone(s.Slides), slices.Clone(s.Members)
	s.Pivots = slices.Clone(s.Pivots)
	for i := range s.Pivots {
		s.Pivots[i].Bodies = slices.Clone(s.Pivots[i].Bodies)
	}
	return s
}

func (m *mutant) body() string {
	if len(m.spec.Bodies) == 0 || m.r.IntN(50) == 0 {
		return "nobody"
	}
	return m.spec.Bodies[m.r.IntN(len(m.spec.Bodies))]
}

func (m *mutant) point() string {
	names := []string{scheme.PointAxle, scheme.PointRoot, scheme.PointShockUpper, "nowhere"}
	for _, p := range m.spec.Pivots {
		names = append(names, p.Name)
	}
	for _, s := range m.spec.Slides {
		names = append(names, s.Through[0], s.Through[1])
	}
	return names[m.r.IntN(len(names))]
}

// change makes one random change.
func (m *mutant) change() {
	s, r := &m.spec, m.r
	switch r.IntN(14) {
	case 0: // a pivot joins another body
		if len(s.Pivots) > 0 {
			p := &s.Pivots[r.IntN(len(s.Pivots))]
			p.Bodies[r.IntN(len(p.Bodies))] = m.body()
		}
	case 1:
		s.Pivots = append(s.Pivots, scheme.PivotSpec{Name: fmt.Sprintf("p%d", r.IntN(4)), Bodies: []string{m.body(), m.body()}})
	case 2:
		if len(s.Pivots) > 0 {
			s.Pivots = slices.Delete(s.Pivots, 0, 1)
		}
	case 3: // a body more
		s.Bodies = append(s.Bodies, fmt.Sprintf("b%d", r.IntN(6)))
	case 4:
		if len(s.Bodies) > 0 {
			i := r.IntN(len(s.Bodies))
			s.Bodies = slices.Delete(s.Bodies, i, i+1)
		}
	case 5: // a pin through one body more
		if len(s.Pivots) > 0 {
			p := &s.Pivots[r.IntN(len(s.Pivots))]
			p.Bodies = append(p.Bodies, m.body())
		}
	case 6: // a pivot becomes a slide
		if len(s.Pivots) > 0 {
			i := r.IntN(len(s.Pivots))
			on := s.Pivots[i].Bodies
			s.Slides = append(s.Slides, scheme.SlideSpec{Name: "s" + s.Pivots[i].Name, Bodies: [2]string{on[0], on[len(on)-1]}, Through: [2]string{m.point(), m.point()}})
			s.Pivots = slices.Delete(s.Pivots, i, i+1)
		}
	case 7:
		if len(s.Slides) > 0 {
			sl := &s.Slides[r.IntN(len(s.Slides))]
			sl.Bodies[r.IntN(2)], sl.Through[r.IntN(2)] = m.body(), m.point()
		}
	case 8:
		s.Ground = m.body()
	case 9:
		s.Axle = m.body()
	case 10:
		s.Brake = m.body()
	case 11:
		s.Shock[r.IntN(2)] = m.body()
	case 12:
		s.Steering = []string{m.point(), m.point()}
	case 13: // two links more between two bodies: a dyad, and so still one degree of freedom
		m.dyad()
	}
}

// dyad adds two bodies pinned together, each pinned to one that is there.
func (m *mutant) dyad() {
	n := len(m.spec.Bodies)
	a, b := fmt.Sprintf("a%d", n), fmt.Sprintf("z%d", n)
	on, off := m.body(), m.body()
	m.spec.Bodies = append(m.spec.Bodies, a, b)
	for i, on := range [][]string{{on, a}, {a, b}, {b, off}} {
		m.spec.Pivots = append(m.spec.Pivots, scheme.PivotSpec{Name: fmt.Sprintf("q%d_%d", n, i), Bodies: on})
	}
}

// layout draws coordinates: those of the example, sometimes shaken, and any for the others.
func (m *mutant) layout(k *mechanism.Mechanism) []kinematics.Vec[float64] {
	shake := [4]float64{0, 1, 20, 300}[m.r.IntN(4)]
	layout := make([]kinematics.Vec[float64], len(k.Points))
	for i, name := range k.Points {
		p, ok := m.at[name]
		if !ok {
			p = kinematics.Point{Along: 500*m.r.Float64() - 200, Ahead: 500*m.r.Float64() - 250}
			if m.r.IntN(20) == 0 && i > 0 {
				p = kinematics.Point(layout[i-1]) // two points in one place
			}
		}
		if name != scheme.PointAxle {
			p.Along += shake * (m.r.Float64() - 0.5)
			p.Ahead += shake * (m.r.Float64() - 0.5)
		}
		layout[i] = kinematics.Vec[float64](p)
	}
	return layout
}

// try compiles a mutant and scores it, with a derivative along a random direction. It tells whether
// the mechanism was accepted and whether it moved through.
func (m *mutant) try(t *testing.T, c *files.ConceptFile) (accepted, through bool) {
	t.Helper()
	k, faults := mechanism.Compile(m.spec)
	if (k == nil) != (len(faults) > 0) {
		t.Fatalf("mechanism %v with faults %v", k, faults)
	}
	if k == nil {
		return false, false
	}
	_ = slices.Concat(k.Solution(), k.Structure())
	conditions := cases.Conditions(c)
	setting := conditions.Setting
	setting.Samples = 9
	conditions = objectives.NewConditions(setting, conditions.Structure, conditions.Quarter)
	d := &objectives.Design{Mechanism: k, Layout: m.layout(k), Shock: fork.Shock{Count: 1, EyeToEyeMM: 200, StrokeMM: 50}}
	d.Across, d.Material = fork.DefaultAcross(k), c.Material.Model()
	d.Assembly = c.Package.Assembly(k, conditions, d.Across, d.Layout, &d.Shock)
	sc := objectives.NewScorer(conditions)
	var score objectives.Score
	study := sc.Score(&score, d)
	if m.r.IntN(8) == 0 {
		study.Complete(&score)
		study.Gaps()
	}
	if math.IsNaN(score.ReachedMM) || score.ReachedMM < 0 || score.ReachedMM > c.TravelMM {
		t.Fatalf("reached %g of %g mm", score.ReachedMM, c.TravelMM)
	}
	for i, v := range score.Values {
		if score.Missing[i] == "" && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Fatalf("%s is %g: %+v at %v", objectives.At(i).Name, v, m.spec, d.Layout)
		}
	}
	if score.Fault != "" {
		return true, false
	}
	direction := make([]kinematics.Vec[float64], len(d.Layout))
	for i := range direction {
		direction[i] = kinematics.Vec[float64]{Along: m.r.NormFloat64(), Ahead: m.r.NormFloat64()}
	}
	slopes := make([]float64, len(objectives.Measures))
	study.Slope(slopes, direction, nil)
	for i, v := range slopes {
		if math.IsNaN(v) {
			t.Fatalf("the slope of %s is %g: %+v at %v", objectives.At(i).Name, v, m.spec, d.Layout)
		}
	}
	return true, true
}

// examples are the concepts that mutants are made from.
func exampleFiles(t testing.TB) []*files.ConceptFile {
	t.Helper()
	var all []*files.ConceptFile
	for _, path := range globbed(t, "examples/*-*.yaml") {
		c, _, err := files.ReadConcept(path, opened(t, path))
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, c)
	}
	return all
}

// grow makes a mutant from a seed and tries it. It fails when that takes too long.
func grow(t *testing.T, from []*files.ConceptFile, seed uint64) (accepted, through bool) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 99))
	c := from[r.IntN(len(from))]
	m := &mutant{r, cloned(c.Spec), c.Points()}
	for range r.IntN(4) {
		m.change()
	}
	began := time.Now()
	accepted, through = m.try(t, c)
	if took := time.Since(began); took > 5*time.Second {
		t.Fatalf("seed %d took %s", seed, took)
	}
	return accepted, through
}

// Mutated mechanisms never panic, never hang and never give a number that is none.
func TestMutatedMechanisms(t *testing.T) {
	t.Parallel()
	from := exampleFiles(t)
	accepted, through := 0, 0
	for seed := range *mutants {
		ok, moves := grow(t, from, uint64(seed))
		if ok {
			accepted++
		}
		if moves {
			through++
		}
	}
	t.Logf("%d mutants: %d are mechanisms, %d of them move through", *mutants, accepted, through)
	if accepted < *mutants/5 || through < *mutants/20 || accepted == *mutants {
		t.Error("nothing was shown: too few mutants are mechanisms, or all are")
	}
}

func FuzzMutatedMechanism(f *testing.F) {
	from := exampleFiles(f)
	for seed := range uint64(20) {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, seed uint64) { grow(t, from, seed) })
}
