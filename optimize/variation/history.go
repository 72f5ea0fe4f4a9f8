package variation

import (
	"math"
	randv2 "math/rand/v2"
)

// historyLength is that of Tanabe and Fukunaga (CEC 2014).
const historyLength = 6

// history remembers the step sizes and crossover rates that made better children, as Tanabe and Fukunaga (CEC
// 2014) do. Entries are offsets from one half, so that the zero value is where a search begins.
type history struct {
	factor, rate [historyLength]float64
	next         int // entry that is written next
}

// stepSize is how far a differential goes and which part of the variables it changes.
type stepSize struct{ factor, rate float64 }

// success is a child that was better than its parent, and by how much.
type success struct {
	stepSize
	gain     float64
	feasible bool // in the objective, not in violation
}

// noRate marks an entry whose successes all had crossover rate 0: it stays there.
const noRate = -1

// draw takes a random entry and varies it: the factor by a Cauchy distribution, cut to (0, 1], the rate by a
// normal one, cut to [0, 1].
func (h *history) draw(rng *randv2.Rand) stepSize {
	k := rng.IntN(historyLength)
	s := stepSize{}
	if h.rate[k] != noRate {
		s.rate = min(max(0.5+h.rate[k]+0.1*rng.NormFloat64(), 0), 1)
	}
	for s.factor <= 0 {
		s.factor = min(0.5+h.factor[k]+0.1*math.Tan(math.Pi*(rng.Float64()-0.5)), 1)
	}
	return s
}

// learn writes the weighted Lehmer means of one generation's successes into the next entry. Gains in violation and
// in the objective have no common unit, so each kind is divided by its largest.
func (h *history) learn(won []success) {
	if len(won) == 0 {
		return
	}
	var most [2]float64
	for _, s := range won {
		most[s.kind()] = max(most[s.kind()], s.gain)
	}
	var factor, factor2, rate, rate2 float64
	for _, s := range won {
		w := s.gain / most[s.kind()]
		if !(w > 0 && w <= 1) { // a gain too small or too large to be divided
			w = 1
		}
		factor, factor2 = factor+w*s.factor, factor2+w*s.factor*s.factor
		rate, rate2 = rate+w*s.rate, rate2+w*s.rate*s.rate
	}
	h.factor[h.next] = factor2/factor - 0.5
	switch {
	case rate == 0 || h.rate[h.next] == noRate:
		h.rate[h.next] = noRate
	default:
		h.rate[h.next] = rate2/rate - 0.5
	}
	h.next = (h.next + 1) % historyLength
}

func (s *success) kind() int {
	if s.feasible {
		return 1
	}
	return 0
}
