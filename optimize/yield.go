package optimize

import (
	"math"

	"forkfront/optimize/wire"
)

// yield is what evaluations of one kind have lately gained the archive: see engine.novelty.
type yield struct{ Gain, Spent float64 }

const (
	variationKept = 0.8 // of what came before, at every generation
	stageKept     = 0.5 // and at every burst
	yieldEvery    = 8   // children of which one is measured
)

func (y *yield) add(gain float64, spent int, kept float64) {
	y.Gain, y.Spent = kept*y.Gain+gain, kept*y.Spent+float64(spent)
}

// rate is the gain per evaluation, 0 while there were none.
func (y *yield) rate() float64 {
	if y.Spent == 0 {
		return 0
	}
	return y.Gain / y.Spent
}

// novelty is by how much the archive would have to be better in every objective, in parts of its ranges, for one of its
// members to dominate a candidate or equal it: the additive epsilon indicator (Zitzler et al., IEEE Trans. Evol. Comput. 7
// (2003) 117). It is 0 for candidates that are dominated, little for near copies and half a gap's width for one in its
// middle.
func (e *engine) novelty(m *member, span []float64) float64 {
	if !m.feasible {
		return 0
	}
	least := math.Inf(1)
	var room [8]float64
	limit := append(room[:0], span...) // a value beyond shifts by least or more
	for i := range limit {
		limit[i] = math.Inf(1)
	}
	e.archive.below(limit, func(values []float64) bool {
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

// weigh notes what a generation of children is worth, where the gradient stage will want to know.
func (e *engine) weigh(children []*member) {
	if e.singleObjective() || e.settings.GradientShare == 0 || len(e.archive.members) == 0 {
		return
	}
	span, gain := e.spans(), 0.0
	gains := make([]float64, (len(children)+yieldEvery-1)/yieldEvery)
	e.pool.Parts(len(gains), func(from, to int) {
		for k := from; k < to; k++ {
			gains[k] = yieldEvery * e.novelty(children[k*yieldEvery], span)
		}
	})
	for _, g := range gains {
		gain += g
	}
	e.gradient.variation.add(gain, len(children), variationKept)
}

// gained is what the ends of runs are worth to the archive as it is.
func (e *engine) gained(runs []*localSearch) float64 {
	if e.singleObjective() {
		return 0
	}
	span, gain := e.spans(), 0.0
	for _, r := range runs {
		if r.best != nil {
			gain += e.novelty(r.best, span)
		}
	}
	return gain
}

// spans are the ranges of the archive's objectives, 1 where there is none.
func (e *engine) spans() []float64 {
	low, high := e.archive.bounds()
	span := make([]float64, len(low))
	for i := range span {
		if span[i] = high[i] - low[i]; !(span[i] > 0) {
			span[i] = 1
		}
	}
	return span
}

func (y *yield) pack(w *wire.Writer) { w.Floats([]float64{y.Gain, y.Spent}) }

func (y *yield) unpack(u *wire.Reader) {
	if y.Gain, y.Spent = u.Finite(), u.Finite(); y.Gain < 0 || y.Spent < 0 {
		u.Reject()
	}
}
