package optimize

import (
	"math"
	randv2 "math/rand/v2"
)

// breeder makes offspring. It owns nothing but the generator and scratch memory.
type breeder struct {
	source source
	rng    *randv2.Rand // draws from source
	space  *space
	low    []float64 // scratch for the objectives' range
	high   []float64
	often  float64 // chance that a differential child is mutated too

	// few: up to three objectives. With more, points at crossings, whole strides and mutations of one
	// variable alone are left out: on the six-objective demo they cost the girder a fifth
	// of its volume (25 seeds) and the arm nothing or little.
	few bool
}

func newBreeder(s *space, objectives int, seed, stream uint64) breeder {
	from := newSource(seed, stream)
	return breeder{from, randv2.New(from), s, make([]float64, objectives), make([]float64, objectives), 0, objectives <= 3}
}

// stock is what offspring are made from.
type stock struct {
	parents    []*member
	archive    []*member
	infeasible []*member // found lately
}

func (b *breeder) pick(from []*member) *member { return from[b.rng.IntN(len(from))] }

// three picks members that differ from each other and from target: two equal ones would
// make a copy. Four are needed; with fewer some repeat.
func (b *breeder) three(from []*member, target *member) (x, y, z *member) {
	other := func(m1, m2, m3 *member) *member {
		for range 100 {
			if m := b.pick(from); m != m1 && m != m2 && m != m3 {
				return m
			}
		}
		return b.pick(from)
	}
	x = other(target, nil, nil)
	y = other(target, x, nil)
	return x, y, other(target, x, y)
}

// make fills child by the operator; target is its parent where it has one.
func (b *breeder) make(child *member, operator int, s *stock, target *member) {
	child.by, child.target = operator, nil
	p, q := target, target
	base := target
	mutate := false
	switch operator {
	case operatorNarrow:
		child.target = target
		base, p, q = b.three(s.parents, target)
		b.differential(child, target, base, p, q, b.stride(), 0.1)
		mutate = b.rng.Float64() < b.often
	case operatorWide:
		child.target = target
		base, p, q = b.three(s.parents, target)
		b.differential(child, target, base, p, q, 0.4+0.3*b.rng.Float64(), 0.3+0.7*b.rng.Float64())
		mutate = b.rng.Float64() < b.often
	case operatorNeighbour:
		base = b.base(s)
		rate := 1.0
		if b.rng.Float64() < 0.5 {
			rate = 0.5
		}
		p = b.neighbour(base, base, s.archive)
		q = b.neighbour(base, p, s.archive)
		b.differential(child, base, base, p, q, 0.2+0.6*b.rng.Float64(), rate)
	case operatorSegment:
		base = b.segment(child, s)
	default:
		p, q = b.pick(s.parents), b.pick(s.parents)
		b.crossover(child, p, q)
		mutate = true
	}
	switch {
	case mutate && b.few && child.target != nil && b.rng.Float64() < 0.5:
		b.mutateOne(child.u, b.rng.IntN(len(child.u)))
	case mutate:
		b.mutate(child.u, 1/float64(len(child.u)))
	}
	b.distinguish(child, target, base, p, q, b.pick(s.parents))
}

// stride is the factor of a narrow differential: a half, with which a population contracts,
// or 1, which carries a step from one basin to the next over whole: where the optima of a
// variable lie in rows, a half would need two members two basins apart.
func (b *breeder) stride() float64 {
	if b.few && b.rng.Float64() < 0.5 {
		return 1
	}
	return 0.5
}

// distinguish mutates a child that is a copy of one it was made from until it no longer
// is: a copy of a good point survives, teaches nothing and crowds out others.
func (b *breeder) distinguish(child *member, from ...*member) {
	b.space.snap(child.u)
	for try := 0; try < 8 && copyOf(child, from); try++ {
		b.mutateOne(child.u, b.rng.IntN(len(child.u)))
		b.space.snap(child.u)
	}
	b.space.natural(child.x, child.u)
}

func copyOf(child *member, from []*member) bool {
	for _, m := range from {
		if same(child.u, m.u) {
			return true
		}
	}
	return false
}

func same(a, b []float64) bool {
	for i, v := range a {
		if v != b[i] {
			return false
		}
	}
	return true
}

// differential takes base + f (p − q) in a random part of the variables, at least one, and
// target in the others.
func (b *breeder) differential(child, target, base, p, q *member, f, rate float64) {
	sure := b.rng.IntN(len(child.u))
	for i := range child.u {
		if i != sure && b.rng.Float64() >= rate {
			child.u[i] = target.u[i]
			continue
		}
		child.u[i] = b.inside(base.u[i]+f*(p.u[i]-q.u[i]), base.u[i])
		if v := &b.space.variables[i]; v.Categorical && v.Levels > 0 {
			child.u[i] = [...]float64{base.u[i], base.u[i], p.u[i], q.u[i]}[b.rng.IntN(4)]
		}
	}
}

// inside brings a value back: to the bound in half of the cases, since optima lie there,
// else somewhere between its base and the bound, so that they do not pile up there.
func (b *breeder) inside(v, base float64) float64 {
	if v >= 0 && v <= 1 {
		return v
	}
	bound := 0.0
	if v > 1 {
		bound = 1
	}
	if b.rng.Float64() < 0.5 {
		return bound
	}
	return base + b.rng.Float64()*(bound-base)
}

// base picks a feasible parent, or a member of the archive when none comes up. Parents are
// spread evenly; the archive is densest where offspring did well, and would draw ever more
// of them there.
func (b *breeder) base(s *stock) *member {
	for range 10 {
		if m := b.pick(s.parents); m.feasible {
			return m
		}
	}
	return b.pick(s.archive)
}

// neighbour returns the nearest of eight random members to m but not, in objectives scaled by the
// range among them.
func (b *breeder) neighbour(m, not *member, from []*member) *member {
	var tried [8]*member
	copy(b.low, m.out.F)
	copy(b.high, m.out.F)
	for i := range tried {
		tried[i] = b.pick(from)
		for j, v := range tried[i].out.F {
			b.low[j], b.high[j] = min(b.low[j], v), max(b.high[j], v)
		}
	}
	best, least := tried[0], math.Inf(1)
	for _, t := range tried {
		sum := 0.0
		for j, v := range t.out.F {
			if r := b.high[j] - b.low[j]; r > 0 {
				sum += (v - m.out.F[j]) / r * (v - m.out.F[j]) / r
			}
		}
		if t != m && t != not && sum < least {
			best, least = t, sum
		}
	}
	return best
}

// segment takes a point between a feasible member and a recent infeasible one near it that
// it does not dominate: the front often lies on a constraint's edge, so most points are taken
// near where the straight line between the two crosses it. It returns the first.
func (b *breeder) segment(child *member, s *stock) *member {
	base := b.base(s)
	other, least := s.infeasible[b.rng.IntN(len(s.infeasible))], math.Inf(1)
	for range 8 {
		m := b.pick(s.infeasible)
		if d := distance2(m.u, base.u); d < least && !dominates(base.out.F, m.out.F) {
			other, least = m, d
		}
	}
	t := b.rng.Float64()
	if b.few && b.rng.Float64() < 0.8 {
		t = crossing(base.out.G, other.out.G) * (1 - 0.5*t)
	}
	for i := range child.u {
		child.u[i] = base.u[i] + t*(other.u[i]-base.u[i])
	}
	return base
}

// crossing is the part of the way from a feasible point to an infeasible one after which the
// first constraint is met, were they all straight.
func crossing(from, to []float64) float64 {
	t := 1.0
	for i, g := range to {
		if g > 0 && !math.IsInf(g, 1) {
			t = min(t, from[i]/(from[i]-g))
		}
	}
	return t
}

// crossover is the simulated binary one, bounded, index 15 (Deb and Agrawal 1995, with the
// bounds of Deb's later code; from memory). One of the two children is kept; each crossed
// variable lies near either parent, or nothing would be recombined.
func (b *breeder) crossover(child, p, q *member) {
	copy(child.u, p.u)
	if b.rng.Float64() >= 0.9 {
		return
	}
	for i := range child.u {
		if b.rng.Float64() < 0.5 || p.u[i] == q.u[i] {
			continue
		}
		if v := &b.space.variables[i]; v.Levels > 0 && v.Categorical {
			child.u[i] = q.u[i]
			continue
		}
		child.u[i] = b.blend(min(p.u[i], q.u[i]), max(p.u[i], q.u[i]), b.rng.Float64() < 0.5)
	}
}

func (b *breeder) blend(low, high float64, near bool) float64 {
	const index = 15
	edge := 1 - high
	if near {
		edge = low
	}
	alpha := 2 - math.Pow(1+2*edge/(high-low), -(index+1))
	r, beta := b.rng.Float64(), 0.0
	if r <= 1/alpha {
		beta = math.Pow(r*alpha, 1.0/(index+1))
	} else {
		beta = math.Pow(1/(2-r*alpha), 1.0/(index+1))
	}
	v := 0.5 * (low + high + beta*(high-low))
	if near {
		v = 0.5 * (low + high - beta*(high-low))
	}
	return min(max(v, 0), 1)
}

func (b *breeder) mutate(u []float64, rate float64) {
	for i := range u {
		if b.rng.Float64() < rate {
			b.mutateOne(u, i)
		}
	}
}

// mutateOne is polynomial mutation with index 20 (Deb and Goyal 1996) of a continuous
// variable; a discrete one goes a step up or down, or anywhere.
func (b *breeder) mutateOne(u []float64, i int) {
	if v := &b.space.variables[i]; v.Levels > 0 {
		b.mutateLevel(u, i, v)
		return
	}
	const power = 21 // index + 1
	r := b.rng.Float64()
	if r < 0.5 {
		u[i] += math.Pow(2*r+(1-2*r)*math.Pow(1-u[i], power), 1.0/power) - 1
	} else {
		u[i] += 1 - math.Pow(2*(1-r)+(2*r-1)*math.Pow(u[i], power), 1.0/power)
	}
	u[i] = min(max(u[i], 0), 1)
}

func (b *breeder) mutateLevel(u []float64, i int, v *Variable) {
	if v.Levels < 2 {
		return
	}
	step := 1 / v.High
	if !v.Categorical && b.rng.Float64() < 0.5 {
		if b.rng.Float64() < 0.5 {
			step = -step
		}
		if moved := u[i] + step; moved > -1e-9 && moved < 1+1e-9 {
			u[i] = min(max(moved, 0), 1)
			return
		}
		u[i] -= step
		return
	}
	level := b.rng.IntN(v.Levels - 1)
	if float64(level) >= math.Round(u[i]*v.High) {
		level++
	}
	u[i] = float64(level) / v.High
}

// hypercube fills members with a Latin hypercube: every variable's range is cut into as
// many strips as there are members, and each strip is used once.
func (b *breeder) hypercube(members []*member) {
	for i := range b.space.variables {
		for k, strip := range b.rng.Perm(len(members)) {
			members[k].u[i] = (float64(strip) + b.rng.Float64()) / float64(len(members))
		}
	}
	for _, m := range members {
		b.space.snap(m.u)
		b.space.natural(m.x, m.u)
	}
}
