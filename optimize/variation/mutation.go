package variation

import (
	"math"

	"forkfront/optimize/problem"
)

func (b *breeder) mutate(u []float64, rate float64) {
	for i := range u {
		if b.rng.Float64() < rate {
			b.mutateOne(u, i)
		}
	}
}

// mutateOne changes a continuous variable by polynomial mutation with index 20 (Deb and Goyal 1996) or resets it; a
// discrete one goes a step up or down, or anywhere.
func (b *breeder) mutateOne(u []float64, i int) {
	if v := &b.space.Variables[i]; v.Levels > 0 {
		b.mutateLevel(u, i, v)
		return
	}
	if b.resets > 0 && b.rng.Float64() < b.resets {
		u[i] = b.reset()
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

// reset is uniform or boundary mutation, half of each (Michalewicz, Genetic Algorithms + Data Structures = Evolution
// Programs, 1992): any value, or one of the bounds, where optima often lie.
func (b *breeder) reset() float64 {
	v := b.rng.Float64()
	if b.rng.Float64() < 0.5 {
		return math.Round(v)
	}
	return v
}

func (b *breeder) mutateLevel(u []float64, i int, v *problem.Variable) {
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
