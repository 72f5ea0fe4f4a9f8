package sensitivity

import (
	"math"
	"reflect"
	"testing"

	"forkfront/optimize/problem"
)

// formula is a model of one output.
type formula struct {
	of    func(x []float64) float64
	works func(x []float64) bool
}

func (f formula) Evaluate(dst, x []float64) bool {
	dst[0] = f.of(x)
	return f.works == nil || f.works(x)
}

func box(n int, low, high float64) []problem.Variable {
	all := make([]problem.Variable, n)
	for i := range all {
		all[i] = problem.Variable{Low: low, High: high}
	}
	return all
}

func ishigami(x []float64) float64 {
	return math.Sin(x[0]) + 7*math.Pow(math.Sin(x[1]), 2) + 0.1*math.Pow(x[2], 4)*math.Sin(x[0])
}

// sobolG is Sobol's g-function with a = 0, 1, 4.5, 9.
func sobolG(x []float64) float64 {
	y := 1.0
	for i, a := range []float64{0, 1, 4.5, 9} {
		y *= (math.Abs(4*x[i]-2) + a) / (1 + a)
	}
	return y
}

// gIndices are the closed forms: V_i = 1/3/(1+a_i)², the total variance is Π(1+V_i) − 1, and the total index of i has
// V_i Π_{k≠i}(1+V_k) (Saltelli and Sobol 1995).
func gIndices() (first, total []float64) {
	var v []float64
	whole := 1.0
	for _, a := range []float64{0, 1, 4.5, 9} {
		v = append(v, 1.0/3/(1+a)/(1+a))
		whole *= 1 + v[len(v)-1]
	}
	for _, vi := range v {
		first = append(first, vi/(whole-1))
		total = append(total, vi*whole/(1+vi)/(whole-1))
	}
	return first, total
}

// Ishigami's function with a = 7, b = 0.1 (Ishigami and Homma 1990; indices as in Saltelli et al. 2008), the g-function,
// and a sum of two variables over the triangle below their diagonal: with density 2(1−x) for each, Var(Y) = 1/18, the
// variance of (1+x)/2 is a quarter of that, and the mean of (1−x)²/12 is 1/24, so 1/4 and 3/4 (by hand). The rank of that sum, and of any function that rises with it, is its square: the mean
// of that given x is (1+x+x²)/3, so 11/45, and 34/45 (by hand).
func TestKnownIndices(t *testing.T) {
	gFirst, gTotal := gIndices()
	for _, c := range []struct {
		name         string
		model        formula
		variables    []problem.Variable
		first, total []float64
		works        float64
		ranks        bool
	}{
		{"Ishigami", formula{of: ishigami}, box(3, -math.Pi, math.Pi), []float64{.3139, .4424, 0}, []float64{.5576, .4424, .2437}, 1, false},
		{"g", formula{of: sobolG}, box(4, 0, 1), gFirst, gTotal, 1, false},
		{"triangle", formula{func(x []float64) float64 { return x[0] + x[1] }, func(x []float64) bool { return x[0]+x[1] <= 1 }}, box(2, 0, 1), []float64{.25, .25}, []float64{.75, .75}, .5, false},
		{"triangle, by ranks", formula{func(x []float64) float64 { return math.Exp(40 * (x[0] + x[1])) }, func(x []float64) bool { return x[0]+x[1] <= 1 }}, box(2, 0, 1), []float64{11. / 45, 11. / 45}, []float64{34. / 45, 34. / 45}, .5, true},
	} {
		const samples = 40000
		r, err := Analyse(t.Context(), []Model{c.model, c.model}, c.variables, 1, Settings{Samples: samples, Seed: 3, Ranks: c.ranks})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(r.Works-c.works) > 0.01 {
			t.Errorf("%s: %g works, want %g", c.name, r.Works, c.works)
		}
		for j, k := range r.Indices[0] {
			// Three standard errors: the rank estimator's is about 1/√n for outputs without heavy tails.
			if math.Abs(k.First-c.first[j]) > 3*1.2/math.Sqrt(samples) {
				t.Errorf("%s: first-order index of %d is %.4f, want %.4f", c.name, j, k.First, c.first[j])
			}
			if math.Abs(k.Total-c.total[j]) > 3.5*k.TotalError || k.TotalError > 0.02 {
				t.Errorf("%s: total index of %d is %.4f ± %.4f, want %.4f", c.name, j, k.Total, k.TotalError, c.total[j])
			}
		}
	}
}

// The standard errors that a sample states are the scatter of the indices over samples, here 60 of them, whose own
// scatter is known to 9 %.
func TestErrorsAreTheScatterOverSamples(t *testing.T) {
	const seeds = 60
	var first, total [3][]float64
	var firstError, totalError [3]float64
	for seed := range uint64(seeds) {
		r, err := Analyse(t.Context(), []Model{formula{of: ishigami}}, box(3, -math.Pi, math.Pi), 1, Settings{Samples: 2000, Seed: seed})
		if err != nil {
			t.Fatal(err)
		}
		for j, k := range r.Indices[0] {
			first[j], total[j] = append(first[j], k.First), append(total[j], k.Total)
			firstError[j] += k.FirstError / seeds
			totalError[j] += k.TotalError / seeds
		}
	}
	for j := range first {
		for name, x := range map[string][2]float64{"first": {scatterOf(first[j]), firstError[j]}, "total": {scatterOf(total[j]), totalError[j]}} {
			if got := x[1] / x[0]; got < 0.7 || got > 1.4 {
				t.Errorf("%s-order index of %d: stated ± %.4f, scatter %.4f", name, j, x[1], x[0])
			}
		}
	}
}

func scatterOf(values []float64) float64 {
	_, variance := moments(values)
	return math.Sqrt(variance)
}

// A discrete variable that adds 0, 1 or 2 beside a continuous one from 0 to 1: variances 2/3 and 1/12.
func TestADiscreteVariable(t *testing.T) {
	m := formula{of: func(x []float64) float64 { return x[0] + x[1] }}
	r, err := Analyse(t.Context(), []Model{m}, []problem.Variable{{Low: 0, High: 2, Levels: 3, Categorical: true}, {Low: 0, High: 1}}, 1, Settings{Samples: 20000, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	want := []float64{8. / 9, 1. / 9}
	for j, k := range r.Indices[0] {
		if math.Abs(k.First-want[j]) > 0.025 || math.Abs(k.Total-want[j]) > 4*k.TotalError {
			t.Errorf("variable %d: %+v, want %g", j, k, want[j])
		}
	}
	if r.Indices[0][0].Rank < 0.8 {
		t.Errorf("the output rises with the variable, rank correlation %g", r.Indices[0][0].Rank)
	}
}

// Neither workers nor an output that some designs lack change the others' indices.
func TestWorkersDoNotMatter(t *testing.T) {
	partly := partial{}
	one, err := Analyse(t.Context(), []Model{partly}, box(3, -math.Pi, math.Pi), 2, Settings{Samples: 400, Seed: 9})
	if err != nil {
		t.Fatal(err)
	}
	many, err := Analyse(t.Context(), []Model{partly, partly, partly}, box(3, -math.Pi, math.Pi), 2, Settings{Samples: 400, Seed: 9})
	if err != nil || !reflect.DeepEqual(one, many) {
		t.Errorf("one worker %+v, three %+v, %v", one, many, err)
	}
	if n := one.Indices[1][0].Designs; n < 150 || n > 250 || one.Indices[0][0].Designs != 400 {
		t.Errorf("%d of 400 designs have the second output", n)
	}
}

// partial has its second output where the first variable is positive.
type partial struct{}

func (partial) Evaluate(dst, x []float64) bool {
	dst[0], dst[1] = ishigami(x), math.NaN()
	if x[0] > 0 {
		dst[1] = x[0] + x[1]
	}
	return true
}

// Nothing that works gives no index, and a constant output none that is not 0.
func TestNothingWorks(t *testing.T) {
	never := formula{of: func([]float64) float64 { return 1 }, works: func([]float64) bool { return false }}
	r, err := Analyse(t.Context(), []Model{never}, box(2, 0, 1), 1, Settings{Samples: 500, Seed: 1})
	if err != nil || r.Works != 0 || r.Evaluations != probes*mostDraws || r.Indices[0][0] != (Index{}) {
		t.Errorf("%+v, %v", r, err)
	}
	flat := formula{of: func([]float64) float64 { return 1 }}
	r, err = Analyse(t.Context(), []Model{flat}, box(2, 0, 1), 1, Settings{Samples: 8, Seed: 1})
	if err != nil || r.Indices[0][1] != (Index{Designs: 8}) {
		t.Errorf("%+v, %v", r, err)
	}
}
