package variation

import (
	"math"

	"forkfront/optimize/population"
)

// crossover is the simulated binary one, bounded, index 15 (Deb and Agrawal 1995, with the
// bounds of Deb's later code; from memory). One of the two children is kept; each crossed
// variable lies near either parent, or nothing would be recombined.
func (b *breeder) crossover(child, p, q *population.Member) {
	copy(child.U, p.U)
	if b.rng.Float64() >= 0.9 {
		return
	}
	for i := range child.U {
		if b.rng.Float64() < 0.5 || p.U[i] == q.U[i] {
			continue
		}
		if v := &b.space.Variables[i]; v.Levels > 0 && v.Categorical {
			child.U[i] = q.U[i]
			continue
		}
		child.U[i] = b.blend(min(p.U[i], q.U[i]), max(p.U[i], q.U[i]), b.rng.Float64() < 0.5)
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
