package archive

import (
	"math"

	"forkfront/optimize/population"
)

// Novelty is by how much the archive would have to be better in every objective, in parts of its ranges, for one of its
// members to dominate a candidate or equal it: the additive epsilon indicator (Zitzler et al., IEEE Trans. Evol. Comput. 7
// (2003) 117). It is 0 for candidates that are dominated, little for near copies and half a gap's width for one in its
// middle; never more than 1. Spans are the ranges of the objectives (see Spans), one each. Several goroutines may call it.
func (a *Archive) Novelty(m *population.Member, span []float64) float64 {
	if !m.Feasible {
		return 0
	}
	least := math.Inf(1)
	var room [8]float64
	limit := append(room[:0], span...) // a value beyond shifts by least or more
	for i := range limit {
		limit[i] = math.Inf(1)
	}
	a.below(limit, func(values []float64) bool {
		shift := 0.0
		for i, f := range values {
			shift = max(shift, (f-m.Outcome.F[i])/span[i])
		}
		if shift >= least {
			return false
		}
		least = shift
		for i, f := range m.Outcome.F {
			const rounding = 1e-9
			reach := least * span[i]
			limit[i] = f + reach + rounding*(reach+math.Abs(f))
		}
		return true
	})
	return min(least, 1)
}

// Spans are the ranges of the members' objectives, of which there is one at least, 1 where they all agree.
func (a *Archive) Spans() []float64 {
	low, high := a.Bounds()
	span := make([]float64, len(low))
	for i := range span {
		if span[i] = high[i] - low[i]; !(span[i] > 0) {
			span[i] = 1
		}
	}
	return span
}
