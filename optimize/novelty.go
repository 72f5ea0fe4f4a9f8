package optimize

import "math"

// novelty is by how much the archive would have to be better in every objective, in parts of its ranges, for one of its
// members to dominate a candidate or equal it: the additive epsilon indicator (Zitzler et al., IEEE Trans. Evol. Comput. 7
// (2003) 117). It is 0 for candidates that are dominated, little for near copies and half a gap's width for one in its
// middle.
func (a *archive) novelty(m *member, span []float64) float64 {
	if !m.feasible {
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
			shift = max(shift, (f-m.outcome.F[i])/span[i])
		}
		if shift >= least {
			return false
		}
		least = shift
		for i, f := range m.outcome.F {
			const rounding = 1e-9
			reach := least * span[i]
			limit[i] = f + reach + rounding*(reach+math.Abs(f))
		}
		return true
	})
	return min(least, 1)
}

// spans are the ranges of the members' objectives, 1 where there is none.
func (a *archive) spans() []float64 {
	low, high := a.bounds()
	span := make([]float64, len(low))
	for i := range span {
		if span[i] = high[i] - low[i]; !(span[i] > 0) {
			span[i] = 1
		}
	}
	return span
}
