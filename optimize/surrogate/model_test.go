package surrogate

import (
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// examples are n rows of hints and the values of two smooth functions of them.
func examples(n int, seed uint64) (hints, values [][]float64) {
	r := rand.New(rand.NewPCG(seed, 1))
	for range n {
		h := []float64{3 + r.NormFloat64(), 1e3 * r.Float64(), r.Float64() - 20, 5}
		hints = append(hints, h)
		values = append(values, []float64{math.Sin(h[0]) + 1e-3*h[1], h[2] * h[2]})
	}
	return hints, values
}

// The mean and the scale of 2 examples are their middle and half their difference, so with the correlation k between them and
// the noise s the weights of values ±1 are ±1/(1 + s − k).
func TestTwoExamplesByHand(t *testing.T) {
	m := Fit([][]float64{{0}, {2}}, [][]float64{{10}, {20}})
	length := 1 / m.perLength
	k := func(d float64) float64 { // in scales: the examples are 2 apart
		r := math.Sqrt(5) * d / length
		return (1 + r + 5*d*d/(3*length*length)) * math.Exp(-r)
	}
	// At 3, in scales 3 and 1 from the examples.
	var within bool
	var got [1]float64
	m.Predict(got[:], []float64{3})
	for _, noise := range noises {
		want := 15 + 5*(k(1)-k(3))/(1+noise-k(2))
		within = within || math.Abs(got[0]-want) < 1e-9
	}
	if !within {
		t.Errorf("predicted %g", got[0])
	}
}

// The error by which length and noise are chosen is that of predicting each example by a model without it.
func TestErrorIsThatOfLeavingOut(t *testing.T) {
	hints, values := examples(25, 4)
	m := &Model{examples: hints}
	m.scale(hints)
	for _, length := range lengths {
		for _, noise := range noises {
			kernels := m.kernels(1 / length)
			y := mat.NewDense(len(hints), 1, nil)
			for i := range hints {
				y.Set(i, 0, values[i][0])
			}
			_, got := solve(kernels, noise, y)
			want := 0.0
			for out := range hints {
				var rest []int
				for i := range hints {
					if i != out {
						rest = append(rest, i)
					}
				}
				a, b, w := mat.NewDense(len(rest), len(rest), nil), mat.NewVecDense(len(rest), nil), mat.NewVecDense(len(rest), nil)
				for i, from := range rest {
					b.SetVec(i, values[from][0])
					for j, to := range rest {
						a.Set(i, j, kernels.At(from, to))
					}
					a.Set(i, i, 1+noise)
				}
				if err := w.SolveVec(a, b); err != nil {
					t.Fatal(err)
				}
				off := values[out][0]
				for i, from := range rest {
					off -= w.AtVec(i) * kernels.At(from, out)
				}
				want += off * off / float64(len(hints))
			}
			if math.Abs(got-want) > 1e-6*want {
				t.Errorf("length %g, noise %g: error %g, by leaving out %g", length, noise, got, want)
			}
		}
	}
}

// Smooth functions are predicted well between examples, and better from more of them.
func TestPredictions(t *testing.T) {
	others, want := examples(300, 9)
	last := math.Inf(1)
	for _, n := range []int{20, 60, 200} {
		m := Fit(examples(n, 2))
		worst := 0.0
		for j := range 2 {
			var square, spread float64
			for i, h := range others {
				var got [2]float64
				if !m.Predict(got[:], h) {
					t.Fatal("no values")
				}
				square += (got[j] - want[i][j]) * (got[j] - want[i][j])
				spread += (want[i][j] - m.mean[j]) * (want[i][j] - m.mean[j])
			}
			worst = max(worst, math.Sqrt(square/spread))
		}
		if worst > last {
			t.Errorf("%d examples: relative error %g, with fewer %g", n, worst, last)
		}
		last = worst
	}
	if last > 0.03 {
		t.Errorf("relative error %g from 200 examples", last)
	}
}

// Units do not matter: hints and values may be scaled and shifted.
func TestUnitsDoNotMatter(t *testing.T) {
	hints, values := examples(40, 3)
	turned, changed := make([][]float64, len(hints)), make([][]float64, len(hints))
	units := func(h []float64) []float64 { return []float64{-7 * h[0], h[1]/1e3 + 4, 2 * h[2], h[3]} }
	for i := range hints {
		turned[i], changed[i] = units(hints[i]), []float64{3*values[i][0] - 8, values[i][1] / 10}
	}
	a, b := Fit(hints, values), Fit(turned, changed)
	others, _ := examples(50, 8)
	for _, h := range others {
		var one, two [2]float64
		a.Predict(one[:], h)
		b.Predict(two[:], units(h))
		if math.Abs(3*one[0]-8-two[0]) > 1e-6 || math.Abs(one[1]/10-two[1]) > 1e-4 {
			t.Fatalf("%v in other units %v", one, two)
		}
	}
}

// A design whose nearest example has no values is expected to have none.
func TestVoid(t *testing.T) {
	m := Fit([][]float64{{0}, {1}, {2}, {3}}, [][]float64{{5}, {6}, nil, nil})
	for h, want := range map[float64]bool{-3: true, 0.4: true, 1.4: true, 1.6: false, 9: false} {
		if got := m.Predict(make([]float64, 1), []float64{h}); got != want {
			t.Errorf("at %g: values %t", h, got)
		}
	}
	for name, m := range map[string]*Model{"nothing known": {}, "all void": Fit([][]float64{{1}}, [][]float64{nil})} {
		dst := []float64{9}
		if !m.Predict(dst, []float64{1}) || dst[0] != 0 {
			t.Errorf("%s: %v", name, dst)
		}
	}
}

// Degenerate examples give finite predictions.
func TestDegenerateExamples(t *testing.T) {
	for name, hints := range map[string][][]float64{
		"one": {{1, 2}}, "alike": {{1, 2}, {1, 2}, {1, 2}}, "nearly alike": {{1, 2}, {1 + 1e-15, 2}, {1, 2}}, "huge": {{1e300, 0}, {-1e300, 1}},
	} {
		values := make([][]float64, len(hints))
		for i := range values {
			values[i] = []float64{float64(i), 4}
		}
		m, got := Fit(hints, values), make([]float64, 2)
		m.Predict(got, []float64{2, 2})
		if math.IsNaN(got[0]) || math.IsInf(got[0], 0) || math.Abs(got[1]-4) > 1e-9 {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// A fit has the same bits however many processors there are.
func TestFitDoesNotDependOnProcessors(t *testing.T) {
	hints, values := examples(300, 6)
	before := runtime.GOMAXPROCS(1)
	one := Fit(hints, values)
	runtime.GOMAXPROCS(4)
	four := Fit(hints, values)
	runtime.GOMAXPROCS(before)
	for j := range one.weights {
		if !slices.Equal(one.weights[j], four.weights[j]) {
			t.Error("weights differ")
		}
	}
}

func TestPredictAllocatesNothing(t *testing.T) {
	m := Fit(examples(30, 1))
	dst, h := make([]float64, 2), []float64{3, 500, -20, 5}
	if n := testing.AllocsPerRun(100, func() { m.Predict(dst, h) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func TestFarthest(t *testing.T) {
	rows := [][]float64{{0}, {1}, {5}, {9}, {10}}
	if got := Farthest(rows, [][]float64{{0}}, 3); !slices.Equal(got, []int{4, 2, 1}) {
		t.Errorf("chose %v", got)
	}
	if got := Farthest(rows, nil, 9); len(got) != 5 {
		t.Errorf("chose %v", got)
	}
	if got := Farthest([][]float64{{3}, {3}, {3}}, nil, 3); !slices.Equal(got, []int{0, 1, 2}) {
		t.Errorf("of equals chose %v", got)
	}
}

// Without ties Spearman's coefficient is 1 − 6 Σd²/(n(n² − 1)), d the difference of ranks (textbooks).
func TestRankCorrelation(t *testing.T) {
	a := []float64{10, 20, 30, 40, 50, 60}
	b := []float64{7, 1e6, 8, 9, -4, 11} // ranks 2 6 3 4 1 5: d² = 1 16 0 0 16 1
	if got, want := RankCorrelation(a, b), 1-6*34./(6*35); math.Abs(got-want) > 1e-12 {
		t.Errorf("%g, want %g", got, want)
	}
	if got := RankCorrelation([]float64{1, 2, 2, 3}, []float64{4, 5, 5, 9}); math.Abs(got-1) > 1e-12 {
		t.Errorf("with ties %g", got)
	}
	for _, few := range [][]float64{nil, {1}, {2, 2}} {
		if got := RankCorrelation(few, few); got != 0 {
			t.Errorf("%v: %g", few, got)
		}
	}
}
