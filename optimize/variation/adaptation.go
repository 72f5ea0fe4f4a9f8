package variation

import (
	"math"

	"forkfront/optimize/matrix"
	"forkfront/optimize/population"
	"forkfront/optimize/problem"
	"forkfront/optimize/wire"
)

const (
	greedyShare = 0.11 // best part of the population, one of which pulls each child
	axesShare   = 0.4  // children that are crossed along principal axes
)

// Adaptation is differential evolution for one objective, whose step sizes and crossover rates follow from those that succeeded (L-SHADE:
// Tanabe and Fukunaga, CEC 2014; its mutation, current-to-pbest with an archive of replaced parents, is that of JADE: Zhang and
// Sanderson, IEEE Trans. Evol. Comput. 13 (2009) 945), part of the children crossed along the principal axes of the population
// (Awad, Ali and Suganthan, CEC 2017). The zero value has learnt nothing yet.
type Adaptation struct {
	history history
	drawn   []stepSize // of the children of the generation at hand
}

// Breed fills children, no more than there are parents, each from the parent at its own place. Parents are sorted, the best first;
// replaced are earlier ones whose places children have taken.
func (a *Adaptation) Breed(o *Operators, children, parents, replaced []*population.Member) {
	axes := principalAxes(o.space, parents)
	a.drawn = make([]stepSize, len(children))
	for i, child := range children {
		a.drawn[i] = a.history.draw(o.rng)
		o.cross(child, i, a.drawn[i], axes, parents, replaced)
	}
}

// Learn takes in which of the children that Breed filled last are better than their parents, the same as then.
func (a *Adaptation) Learn(parents, children []*population.Member) {
	var won []success
	for i, child := range children {
		if parent := parents[i]; population.Better(child, parent) {
			won = append(won, success{a.drawn[i], gainOver(parent, child), parent.Feasible})
		}
	}
	a.history.learn(won)
}

// gainOver is by how much a child is better: in the objective where both are feasible, else in violation.
func gainOver(parent, child *population.Member) float64 {
	if parent.Feasible {
		return parent.Outcome.F[0] - child.Outcome.F[0]
	}
	return parent.Violation - child.Violation
}

// cross fills child i: its parent, moved towards one of the best and along the difference of two others.
func (b *breeder) cross(child *population.Member, i int, s stepSize, axes [][]float64, parents, replaced []*population.Member) {
	target := parents[i]
	best := parents[b.rng.IntN(min(max(int(greedyShare*float64(len(parents))+0.5), 2), len(parents)))]
	p := b.other(parents, nil, target, target)
	q := b.other(parents, replaced, target, p)
	step := make([]float64, len(child.U))
	for j := range step {
		step[j] = s.factor*(best.U[j]-target.U[j]) + s.factor*(p.U[j]-q.U[j])
	}
	along := axes != nil && b.rng.Float64() < axesShare
	if along {
		step = matrix.Turned(axes, step, true)
	}
	sure := b.rng.IntN(len(step))
	taken := make([]bool, len(step))
	for j := range step {
		if taken[j] = j == sure || b.rng.Float64() < s.rate; !taken[j] {
			step[j] = 0
		}
	}
	if along {
		step = matrix.Turned(axes, step, false)
	}
	for j, t := range target.U {
		child.U[j] = halfwayIn(t+step[j], t)
		if v := &b.space.Variables[j]; v.Levels > 0 {
			b.level(child.U, j, v, taken[j], [...]*population.Member{target, best, p, q})
		}
	}
	b.ensureDistinct(child, target, best, p, q)
}

// level settles a discrete variable: a category comes from one of those that the child is made of, and sometimes any
// level is taken, since a small population loses levels that differences cannot bring back.
func (b *breeder) level(u []float64, j int, v *problem.Variable, taken bool, from [4]*population.Member) {
	if v.Categorical {
		u[j] = from[0].U[j]
		if taken {
			u[j] = from[b.rng.IntN(len(from))].U[j]
		}
	}
	if b.rng.Float64()*float64(len(u)) < 0.5 {
		u[j] = min(max(math.Round(u[j]*v.High)/max(v.High, 1), 0), 1)
		b.mutateLevel(u, j, v)
	}
}

// halfwayIn brings a value that is out of bounds halfway from its parent to the bound.
func halfwayIn(v, parent float64) float64 {
	switch {
	case v < 0:
		return parent / 2
	case v > 1:
		return (1 + parent) / 2
	}
	return v
}

// Pack writes what has been learnt.
func (a *Adaptation) Pack(w *wire.Writer) {
	w.Int(a.history.next)
	w.Floats(a.history.factor[:])
	w.Floats(a.history.rate[:])
}

// Unpack reads what Pack wrote.
func (a *Adaptation) Unpack(u *wire.Reader) {
	h := &a.history
	h.next = u.Int(0, historyLength-1)
	u.Floats(h.factor[:], false)
	u.Floats(h.rate[:], false)
	for k, f := range h.factor {
		if r := h.rate[k]; math.Abs(f) > 0.5 || math.Abs(r) > 0.5 && r != noRate {
			u.Reject()
		}
	}
}
