package variation

import (
	"math"

	"forkfront/optimize/matrix"
	"forkfront/optimize/population"
)

const (
	slopeBack    = 0.5 // chance that an infeasible parent is led back where others are feasible
	slopeDescent = 0.2 // part of those children that move towards the front besides
	slopeSweeps  = 50
	rounded      = 1 + 1e-9
)

// alongSlopes makes a child from target by the slopes around it: a feasible one moves down a random mixture of the objectives
// along the constraints, an infeasible one to the nearest point that the linearised constraints allow (repair by the
// constraints' gradients: Chootinan and Chen, Comput. Oper. Res. 33 (2006) 2263; recalled). Variables need not be
// independent of each other for it, nor much of the box feasible: a basin of its own becomes feasible before a
// better one has taken over. Where there are no slopes the child is a copy of target.
func (b *breeder) alongSlopes(child, target *population.Member, s *matingPool) {
	copy(child.U, target.U)
	known := s.crowd()
	if !b.slopes.fit(b.space, target, known) {
		return
	}
	reach, objectives := b.slopes.reach*(0.1+1.4*b.rng.Float64()), len(target.Outcome.F)
	descends, first := target.Feasible || b.rng.Float64() < slopeDescent, objectives
	if descends {
		first = 0
	}
	b.slopes.solve(target, known, first)
	d := b.slopes.step
	clear(d)
	if descends {
		b.descend(d, objectives, reach)
	}
	b.project(d, target)
	for j, v := range b.slopes.free {
		child.U[v] = min(max(target.U[v]+d[j], 0), 1)
	}
}

// descend sets a step of a length down a random mixture of objectives, in half of the cases nearly one of them alone.
func (b *breeder) descend(d []float64, objectives int, length float64) {
	const others = 0.02
	main := b.rng.IntN(2 * objectives)
	for k := range objectives {
		weight := b.rng.ExpFloat64()
		if main < objectives && main != k {
			weight *= others
		}
		if spread := b.slopes.spread[k]; spread > 0 {
			for j, v := range b.slopes.of[k] {
				d[j] -= weight * v / spread
			}
		}
	}
	norm := 0.0
	for _, v := range d {
		norm += v * v
	}
	if norm > 0 {
		norm = math.Sqrt(norm)
		for j := range d {
			d[j] *= length / norm
		}
	}
}

// project moves a step from target to the nearest one that the linearised constraints and the bounds allow, by
// Hildreth's procedure (Naval Res. Logist. Quart. 4 (1957) 79): one multiplier after the other, not always to the end. It
// stays inside by a random margin, since slopes are estimates.
func (b *breeder) project(d []float64, target *population.Member) {
	objectives := len(target.Outcome.F)
	margin := math.Pow(10, -2-4*b.rng.Float64())
	n, rows := len(d), len(target.Outcome.G)
	b.multipliers = append(b.multipliers[:0], make([]float64, 2*rows+2*n)...)
	multipliers, norms := b.multipliers[:rows], b.multipliers[rows:2*rows]
	low, high := b.multipliers[2*rows:2*rows+n], b.multipliers[2*rows+n:]
	for i := range norms {
		for _, v := range b.slopes.of[objectives+i] {
			norms[i] += v * v
		}
	}
	for range slopeSweeps {
		moved := 0.0
		longest := math.Sqrt(matrix.Dot(d, d)) // that d may have become
		for i, g := range target.Outcome.G {
			norm2 := norms[i]
			if norm2 == 0 {
				continue
			}
			slope, value := b.slopes.of[objectives+i], g+margin*b.slopes.spread[objectives+i]
			norm := math.Sqrt(norm2)
			if multipliers[i] == 0 && value+rounded*norm*longest < 0 {
				continue // a step as long as that does not meet it, whatever its direction
			}
			for j, v := range slope {
				value += v * d[j]
			}
			more := max(-multipliers[i], value/norm2)
			if more == 0 {
				continue
			}
			multipliers[i] += more
			for j, v := range slope {
				d[j] -= more * v
			}
			longest += math.Abs(more) * norm
			moved = max(moved, math.Abs(more)*norm)
		}
		for j, v := range b.slopes.free {
			more := max(-low[j], -(target.U[v] + d[j]))
			low[j] += more
			d[j] += more
			moved = max(moved, math.Abs(more))
			more = max(-high[j], target.U[v]+d[j]-1)
			high[j] += more
			d[j] -= more
			moved = max(moved, math.Abs(more))
		}
		if moved < 1e-7 {
			break
		}
	}
}
