package cases

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/files"
	"forkfront/objectives"
)

// slopes are the derivatives of one measure by every continuous variable of a case, each scaled to
// 0..1 over its bounds.
type slopes []float64

// agree compares exact derivatives with those by differences: all within a part of the largest, and
// of what rounding leaves of a measure. A variable whose difference is no number was not differenced.
func agree(exact, central slopes, rounding float64) error {
	largest := 0.0
	for _, d := range central {
		if !math.IsNaN(d) {
			largest = math.Max(largest, math.Abs(d))
		}
	}
	for v := range exact {
		if math.IsNaN(central[v]) {
			continue
		}
		if off := math.Abs(exact[v] - central[v]); !(off <= 1e-6*largest+rounding) {
			return fmt.Errorf("by variable %d exact %.10g, by differences %.10g, largest of all %g", v, exact[v], central[v], largest)
		}
	}
	return nil
}

// The comparison objects to what is wrong.
func TestWrongSlopesDoNotAgree(t *testing.T) {
	central := slopes{2, -0.5, 0, math.NaN()}
	for _, x := range []struct {
		what  string
		exact slopes
		agree bool
	}{
		{"the same", slopes{2, -0.5, 0, 7}, true},
		{"as near as asked for", slopes{2 + 1.9e-6, -0.5, 0, 7}, true},
		{"not so near", slopes{2 + 2.1e-6, -0.5, 0, 7}, false},
		{"a flipped sign", slopes{2, 0.5, 0, 7}, false},
		{"something for nothing", slopes{2, -0.5, 1e-5, 7}, false},
		{"no number", slopes{math.NaN(), -0.5, 0, 7}, false},
	} {
		if err := agree(x.exact, central, 0); (err == nil) != x.agree {
			t.Errorf("%s: %v", x.what, err)
		}
	}
}

// differing takes derivatives of one fork, exactly and by differences.
type differing struct {
	p, other *problem
	score    objectives.Score
	framed   []int   // slow measures to compare; nil: all others
	blurred  float64 // digits that the values of those have
}

func (d *differing) values(x []float64) ([]float64, []string) {
	d.other.c.Design(&d.other.design, x)
	study := d.other.scorer.Score(&d.score, &d.other.design)
	if d.framed != nil {
		study.CompleteSome(&d.score, d.framed)
	}
	return append([]float64(nil), d.score.Values...), append([]string(nil), d.score.Missing...)
}

// exactly are the derivatives that a search gets, by measure and variable.
func (d *differing) exactly(x []float64) [][]float64 {
	var all [][]float64
	d.p.c.Design(&d.p.design, x)
	study := d.p.scorer.Score(&d.p.score, &d.p.design)
	if d.framed != nil {
		study.CompleteSome(&d.p.score, d.framed)
	}
	for v := range d.p.c.Free {
		bySize := make([]float64, len(objectives.Measures))
		if d.p.c.direct(d.p.direction, v, &d.p.design) {
			study.Slope(bySize, d.p.direction, d.framed)
		}
		all = append(all, bySize)
	}
	return all
}

// steps of the differences, in parts of a variable's bounds.
var steps = [3]float64{4e-5, 2e-5, 1e-5}

// differences are central ones at three steps, the error of the second power of the step taken out of
// each two (Richardson). Where the two results do not agree, a kink or a jump lies within the steps:
// NaN. That never depends on what is to be checked.
func (d *differing) differences(x []float64, v int) (slopes []float64) {
	f := &d.p.c.Free[v].Variable
	var by [3][]float64
	lost := make([]bool, len(objectives.Measures))
	for k, h := range steps {
		at := x[v]
		x[v] = at + h*(f.High-f.Low)
		high, noHigh := d.values(x)
		x[v] = at - h*(f.High-f.Low)
		low, noLow := d.values(x)
		x[v] = at
		for i := range lost {
			by[k] = append(by[k], (high[i]-low[i])/(2*h))
			lost[i] = lost[i] || noHigh[i] != "" || noLow[i] != ""
		}
	}
	for i := range lost {
		coarse, fine := (4*by[1][i]-by[0][i])/3, (4*by[2][i]-by[1][i])/3
		if lost[i] || math.Abs(coarse-fine) > max(1e-6, d.blurred/steps[2])*(math.Abs(fine)+objectives.Measures[i].Scale) {
			fine = math.NaN()
		}
		slopes = append(slopes, fine)
	}
	return slopes
}

// shortCases are the cases of all short jobs: one a mechanism.
func shortCases(t testing.TB) map[string]*Case {
	t.Helper()
	all := map[string]*Case{}
	paths, _ := filepath.Glob("../examples/short/*.yaml")
	if len(paths) == 0 {
		t.Fatal("no short jobs")
	}
	for _, path := range paths {
		in, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		defer in.Close()
		job, _, err := files.ReadJob(path, in)
		if err != nil {
			t.Fatal(err)
		}
		all[strings.TrimSuffix(filepath.Base(path), ".yaml")] = Cases(job)[0]
	}
	return all
}

// drawn are variables anywhere in their bounds.
func drawn(c *Case, r *rand.Rand) []float64 {
	var x []float64
	for i := range c.Free {
		f := &c.Free[i].Variable
		at := f.Low + (0.001+0.998*r.Float64())*(f.High-f.Low)
		if f.Levels > 0 {
			at = math.Floor(float64(f.Levels) * r.Float64())
		}
		x = append(x, at)
	}
	return x
}

// byBothSides are the measures that show how the sides of a fork with stub shafts share the torque of the brake. Its
// stiffness matrix has entries from 1e2 to 1e8, which costs the values some digits; their derivatives are exact. The sizes of
// forks with slides depend on such a matrix too, whose stiffest entries are bushes.
var byBothSides = []string{"fore_aft_stiffness_n_per_mm", "tube_diameter_max_mm"}

// tally counts what was compared of one measure.
type tally struct{ checked, kinks, flips int }

// compare compares the derivatives of every measure of one fork with differences, then with the sign
// of one of them turned, which has to be noticed.
func (d *differing) compare(t *testing.T, x []float64, tallies []tally) {
	t.Helper()
	exact := d.exactly(x)
	values, missing := append([]float64(nil), d.p.score.Values...), append([]string(nil), d.p.score.Missing...)
	var central [][]float64
	for v := range d.p.c.Free {
		if f := &d.p.c.Free[v]; f.Variable.Levels > 0 {
			central = append(central, make([]float64, len(values)))
		} else {
			central = append(central, d.differences(x, v))
		}
	}
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		// How deep parts overlap is only as exact as it is found.
		if (d.framed == nil) == m.Slow() || d.framed != nil && !slices.Contains(d.framed, i) || missing[i] != "" || strings.HasSuffix(m.Name, "clearance_mm") && values[i] < 0 {
			continue
		}
		one, other := make(slopes, len(exact)), make(slopes, len(exact))
		largest := 0
		for v := range exact {
			one[v], other[v] = exact[v][i]*scaleOf(d.p.c, v), central[v][i]
			switch {
			case math.IsNaN(other[v]):
				tallies[i].kinks++
			case math.Abs(other[v]) > math.Abs(other[largest]) || math.IsNaN(other[largest]):
				largest = v
			}
			tallies[i].checked++
		}
		digits := 1e-12 // to which sag and rest are solved
		if slices.Contains(byBothSides, m.Name) || len(d.p.c.Mechanism.Slides()) > 0 {
			digits = 1e-10
		}
		digits = max(digits, d.blurred)
		rounding := digits * (math.Abs(values[i]) + m.Scale) / steps[2]
		if err := agree(one, other, rounding); err != nil {
			t.Fatalf("%s: %s (%s) at %v", d.p.c.Name, m.Name, err, x)
		}
		if math.Abs(other[largest]) > 1e-3*m.Scale {
			one[largest] = -one[largest]
			if agree(one, other, rounding) == nil {
				t.Fatalf("%s: a flipped slope of %s by variable %d goes unnoticed", d.p.c.Name, m.Name, largest)
			}
			tallies[i].flips++
		}
	}
}

func scaleOf(c *Case, v int) float64 {
	f := &c.Free[v].Variable
	return f.High - f.Low
}

// Exact derivatives of every measure by every variable, on random forks of every mechanism, against
// differences in scaled variables to 1e-6 of the largest; and a flipped sign is noticed.
func TestSlopesOfEveryMechanism(t *testing.T) {
	all := shortCases(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		t.Run(name, func(t *testing.T) {
			c := all[name]
			d := &differing{p: c.Worker(), other: c.Worker()}
			r := rand.New(rand.NewPCG(17, 4))
			tallies := make([]tally, len(objectives.Measures))
			forks := 0
			for range 4000 {
				if forks == 20 {
					break
				}
				x := drawn(c, r)
				if _, missing := d.values(x); missing[objectives.Index("brake_dive_mm")] != "" {
					continue
				}
				forks++
				d.compare(t, x, tallies)
			}
			if forks < 20 {
				t.Fatalf("only %d forks", forks)
			}
			checkTallies(t, tallies)
		})
	}
}

// checkTallies fails where little was shown.
func checkTallies(t *testing.T, tallies []tally) {
	t.Helper()
	var all tally
	for i, n := range tallies {
		all.checked, all.kinks, all.flips = all.checked+n.checked, all.kinks+n.kinks, all.flips+n.flips
		if n.kinks > n.checked/2 {
			t.Errorf("%s: %d of %d differences meet a kink", objectives.Measures[i].Name, n.kinks, n.checked)
		}
	}
	t.Logf("%d derivatives, %d of them at a kink, %d flipped", all.checked-all.kinks, all.kinks, all.flips)
	if all.checked-all.kinks < 500 || all.flips < 50 {
		t.Errorf("little was shown: %+v", all)
	}
}
