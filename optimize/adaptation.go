package optimize

import (
	"math"

	"forkfront/optimize/wire"
)

const (
	greedyShare = 0.11 // best part of the population, one of which pulls each child
	axesShare   = 0.4  // children that are crossed along principal axes
)

// adaptation is what differential evolution has learnt about step sizes and crossover rates where there is one objective; the zero
// value has learnt nothing yet.
type adaptation struct {
	history history
	drawn   []stepSize // of the children of the generation at hand
}

// breed fills children, each from the parent at its own place. Parents are sorted, the best first; replaced are earlier ones that a child has
// taken the place of.
func (a *adaptation) breed(o *operatorSet, children, parents, replaced []*member) {
	axes := principalAxes(o.space, parents)
	a.drawn = make([]stepSize, len(children))
	for i, child := range children {
		a.drawn[i] = a.history.draw(o.rng)
		o.cross(child, i, a.drawn[i], axes, parents, replaced)
	}
}

// learn takes in which children of the generation at hand are better than their parents.
func (a *adaptation) learn(parents, children []*member) {
	var won []success
	for i, child := range children {
		if parent := parents[i]; better(child, parent) {
			won = append(won, success{a.drawn[i], gainOver(parent, child), parent.feasible})
		}
	}
	a.history.learn(won)
}

// gainOver is by how much a child is better: in the objective where both are feasible, else in violation.
func gainOver(parent, child *member) float64 {
	if parent.feasible {
		return parent.outcome.F[0] - child.outcome.F[0]
	}
	return parent.violation - child.violation
}

// cross fills child i: its parent, moved towards one of the best and along the difference of two others.
func (b *breeder) cross(child *member, i int, s stepSize, axes [][]float64, parents, replaced []*member) {
	target := parents[i]
	best := parents[b.rng.IntN(min(max(int(greedyShare*float64(len(parents))+0.5), 2), len(parents)))]
	p := b.other(parents, nil, target, target)
	q := b.other(parents, replaced, target, p)
	step := make([]float64, len(child.u))
	for j := range step {
		step[j] = s.factor*(best.u[j]-target.u[j]) + s.factor*(p.u[j]-q.u[j])
	}
	along := axes != nil && b.rng.Float64() < axesShare
	if along {
		step = turned(axes, step, true)
	}
	sure := b.rng.IntN(len(step))
	taken := make([]bool, len(step))
	for j := range step {
		if taken[j] = j == sure || b.rng.Float64() < s.rate; !taken[j] {
			step[j] = 0
		}
	}
	if along {
		step = turned(axes, step, false)
	}
	for j, t := range target.u {
		child.u[j] = halfwayIn(t+step[j], t)
		if v := &b.space.variables[j]; v.Levels > 0 {
			b.level(child.u, j, v, taken[j], [...]*member{target, best, p, q})
		}
	}
	b.ensureDistinct(child, target, best, p, q)
}

// level settles a discrete variable: a category comes from one of those that the child is made of, and sometimes any
// level is taken, since a small population loses levels that differences cannot bring back.
func (b *breeder) level(u []float64, j int, v *Variable, taken bool, from [4]*member) {
	if v.Categorical {
		u[j] = from[0].u[j]
		if taken {
			u[j] = from[b.rng.IntN(len(from))].u[j]
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

func (a *adaptation) pack(w *wire.Writer) {
	w.Int(a.history.next)
	w.Floats(a.history.factor[:])
	w.Floats(a.history.rate[:])
}

func (a *adaptation) unpack(u *wire.Reader) {
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
