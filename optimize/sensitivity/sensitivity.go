package sensitivity

import (
	"context"
	"math"
	"math/rand/v2"

	"forkfront/optimize/problem"
	"forkfront/optimize/workers"
)

// Model is what is sampled, with memory for one goroutine. Evaluate gets x in natural units and fills one entry per
// output, NaN where this design has none. It returns whether the design works: one that does not is outside the domain.
type Model interface {
	Evaluate(dst, x []float64) bool
}

// Settings of a sample.
type Settings struct {
	Samples int    // designs that work, from which first-order indices come; a quarter of them are varied for total ones
	Seed    uint64 // of the random numbers
	Ranks   bool   // indices of each output's rank instead of its value (see Index)
}

// Index is how much one variable drives one output. With Settings.Ranks it is the index of the output's rank among all
// designs (the rank transformation of Iman and Conover 1979, Technometrics 21): variances of an output with heavy tails
// are those of a few odd designs, and need more samples than anyone waits for.
type Index struct {
	First      float64 // share of the variance that the variable explains by itself
	FirstError float64 // standard error of First
	Total      float64 // share that is left when all other variables are known
	TotalError float64 // standard error of Total
	Rank       float64 // Spearman's rank correlation, −1 to 1: whether the output rises with the variable
	Designs    int     // that have the output
}

// Result is what a sample found.
type Result struct {
	Evaluations int
	Works       float64   // share of the bounds that works, of all designs drawn there
	Indices     [][]Index // by output and variable
}

// How often designs are drawn until one works.
const (
	mostDraws   = 2000 // of all variables
	mostRedraws = 50   // of one variable
	varied      = 4    // every fourth design is varied
	probes      = 3    // designs drawn to see whether any works
)

// sampled is a design and, where it is varied, its neighbours in each variable.
type sampled struct {
	x, y       []float64   // nil: no design was found that works
	neighbours [][]float64 // outputs by variable; nil where none works
	drawn      int
	tried      int
}

// Analyse samples a problem's bounds evenly. Each worker has a model of its own; the result does not depend on how many
// there are. It ends early only with the context's error.
func Analyse(ctx context.Context, models []Model, variables []problem.Variable, outputs int, s Settings) (*Result, error) {
	all := make([]sampled, s.Samples)
	if !worksAtAll(models[0], variables, outputs, s) {
		return &Result{Evaluations: probes * mostDraws, Indices: nothing(outputs, len(variables))}, nil
	}
	err := workers.New(models).Each(ctx, len(all), func(m Model, i int) {
		// Each design has random numbers of its own, so that it does not matter who draws it.
		d := &drawer{model: m, variables: variables, outputs: outputs, random: rand.New(rand.NewPCG(s.Seed, uint64(i)))}
		all[i] = d.sample(i%varied == 0)
	})
	if err != nil {
		return nil, err
	}
	r := &Result{Indices: nothing(outputs, len(variables))}
	drawn, found := 0, 0
	for i := range all {
		r.Evaluations += all[i].tried
		drawn += all[i].drawn
		if all[i].x != nil {
			found++
		}
	}
	r.Works = float64(found) / float64(max(drawn, 1))
	for k := range r.Indices {
		r.Indices[k] = indices(all, k, len(variables), s)
	}
	return r, nil
}

func nothing(outputs, variables int) [][]Index {
	all := make([][]Index, outputs)
	for k := range all {
		all[k] = make([]Index, variables)
	}
	return all
}

// worksAtAll draws a few designs before all are: where none of these works, drawing the others would take long and find
// next to nothing.
func worksAtAll(m Model, variables []problem.Variable, outputs int, s Settings) bool {
	for i := range probes {
		d := &drawer{model: m, variables: variables, outputs: outputs, random: rand.New(rand.NewPCG(s.Seed, uint64(i)))}
		if d.sample(false).x != nil {
			return true
		}
	}
	return false
}

// drawer draws one design.
type drawer struct {
	model     Model
	variables []problem.Variable
	outputs   int
	random    *rand.Rand
}

// draw is an even value of a variable within its bounds.
func (d *drawer) draw(j int) float64 {
	v := &d.variables[j]
	if v.Levels > 0 {
		return float64(d.random.IntN(v.Levels))
	}
	return v.Low + (v.High-v.Low)*d.random.Float64()
}

// sample draws until a design works, and with vary each variable again until the design still works, all others as they
// are: from the distribution of the variable when the others are known.
func (d *drawer) sample(vary bool) (s sampled) {
	x, y := make([]float64, len(d.variables)), make([]float64, d.outputs)
	for s.drawn < mostDraws && s.x == nil {
		for j := range x {
			x[j] = d.draw(j)
		}
		s.drawn++
		if d.model.Evaluate(y, x) {
			s.x, s.y = x, y
		}
	}
	s.tried = s.drawn
	if s.x == nil || !vary {
		return s
	}
	s.neighbours = make([][]float64, len(x))
	for j := range x {
		kept, other := x[j], make([]float64, d.outputs)
		for range mostRedraws {
			x[j] = d.draw(j)
			s.tried++
			if d.model.Evaluate(other, x) {
				s.neighbours[j] = other
				break
			}
		}
		x[j] = kept
	}
	return s
}

// indices are those of one output.
func indices(all []sampled, output, variables int, s Settings) []Index {
	var with []*sampled // those that have the output
	for i := range all {
		if all[i].x != nil && !math.IsNaN(all[i].y[output]) {
			with = append(with, &all[i])
		}
	}
	out := make([]Index, variables)
	y := make([]float64, len(with))
	for i, s := range with {
		y[i] = s.y[output]
	}
	scale := func(v float64) float64 { return v }
	if s.Ranks {
		scale = rankAmong(y)
		for i := range y {
			y[i] = scale(y[i])
		}
	}
	mean, variance := moments(y)
	for j := range out {
		out[j].Designs = len(with)
		if !(variance > 0) {
			continue
		}
		x := make([]float64, len(with))
		for i, s := range with {
			x[i] = s.x[j]
		}
		random := rand.New(rand.NewPCG(s.Seed, uint64(j)))
		out[j].First, out[j].FirstError = firstOrder(x, y, mean, variance, random), firstOrderError(x, y, random)
		out[j].Rank = spearman(x, y)
		out[j].Total, out[j].TotalError = total(with, output, j, variance, scale)
	}
	return out
}

// total is Jansen's estimator (1999, Computer Physics Communications 117): half of the mean square of the difference
// that another value of the variable makes.
func total(with []*sampled, output, variable int, variance float64, scale func(float64) float64) (index, standardError float64) {
	var halves []float64
	for _, s := range with {
		if s.neighbours == nil || s.neighbours[variable] == nil || math.IsNaN(s.neighbours[variable][output]) {
			continue
		}
		off := scale(s.y[output]) - scale(s.neighbours[variable][output])
		halves = append(halves, off*off/2/variance)
	}
	mean, scatter := moments(halves)
	if len(halves) < 2 {
		return 0, 0
	}
	return mean, math.Sqrt(scatter / float64(len(halves)))
}
