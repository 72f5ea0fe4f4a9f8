package variation

import "forkfront/optimize/population"

// Where there are two objectives the front is a curve, and the archive, which is in the order of the first objective,
// tells where it has gaps. Two operators work there: one continues the curve into a gap, the other one improves
// the members at its edges, as predictor and corrector do in numerical continuation (Allgower and Georg, Numerical
// Continuation Methods, 1990, with the secant as the predictor; for fronts, with derivatives: Hillermeier, Nonlinear
// Multiobjective Optimization, 2001).

const (
	curveStart   = 0.2 // share of the budget before which the archive is too far from the front to be continued
	gapTries     = 50  // pairs of neighbours among which the widest gap is sought
	secantMost   = 30  // members between the ends of a secant
	secantFactor = 2   // longest step, in secants
	correctRate  = 0.1 // part of the variables that a correction changes
)

// gapEdge returns the place in an archive of a member at an edge of a wide gap, and the direction away from the gap.
func (b *breeder) gapEdge(archive []*population.Member) (at, away int) {
	last := len(archive) - 1
	for j := range b.low {
		b.low[j], b.high[j] = archive[0].Outcome.F[j], archive[last].Outcome.F[j]
		if b.low[j] == b.high[j] {
			b.high[j]++
		}
		b.high[j] -= b.low[j]
	}
	widest := -1.0
	for range gapTries {
		i := b.rng.IntN(last)
		if gap := population.SquaredGap(archive[i], archive[i+1], b.high); gap > widest {
			at, widest = i, gap
		}
	}
	if b.rng.Float64() < 0.5 {
		return at, -1
	}
	return at + 1, 1
}

// predict makes a child beyond the edge of a gap, along the secant through two members of the archive.
func (b *breeder) predict(child *population.Member, archive []*population.Member) *population.Member {
	at, away := b.gapEdge(archive)
	base, from := archive[at], at+away*(1+b.rng.IntN(secantMost))
	if from < 0 || from >= len(archive) {
		from = at + away
	}
	if from < 0 || from >= len(archive) { // at an end of the front: across the gap
		from = at - away
	}
	b.differential(child, base, base, base, archive[from], secantFactor*b.rng.Float64(), 1)
	return base
}

// correct makes a child that differs in few variables from a member at the edge of a gap, by a difference between its
// neighbours.
func (b *breeder) correct(child *population.Member, archive []*population.Member) (base, p, q *population.Member) {
	at, _ := b.gapEdge(archive)
	base = archive[at]
	p = b.neighbour(base, base, archive)
	q = b.neighbour(base, p, archive)
	b.differential(child, base, base, p, q, b.neighbourFactor(), correctRate)
	return base, p, q
}
