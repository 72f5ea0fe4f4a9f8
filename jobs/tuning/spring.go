package tuning

import (
	"fmt"
	"math"

	"forkfront/jobs/cases"
	"forkfront/objectives"
	"forkfront/objectives/ride"
	"forkfront/objectives/simulation"
)

// Spring is a coil on sale with its preload, and the sag that it gives; an air spring has neither.
type Spring struct {
	RateNPerMM, PreloadMM, SagPct float64
	Air                           bool
}

// sprung is the fork with a spring.
type sprung struct {
	Spring
	conditions *objectives.Conditions
	design     objectives.Design
	score      objectives.Score
	study      objectives.Study
	by         *simulation.Simulator
}

// with scores the fork with a spring of the given preload at a sag in % of the travel.
func (t *Tuner) with(preloadMM, sagPct float64) *sprung {
	s := &sprung{conditions: t.conditions, design: *t.design, by: t.by}
	if sagPct != t.conditions.SagPct {
		file := *t.file
		file.SagPct = sagPct
		s.conditions = cases.Conditions(&file)
	}
	s.design.Shock.PreloadMM = preloadMM
	s.study = objectives.NewScorer(s.conditions).Score(&s.score, &s.design)
	s.Spring = Spring{s.value(springRate), preloadMM, sagPct, t.design.Shock.Air != nil}
	return s
}

var springRate = objectives.Index("spring_rate_n_per_mm")

// value of a measure, NaN where it has none.
func (s *sprung) value(measure int) float64 {
	if s.score.Missing[measure] != "" {
		return math.NaN()
	}
	return s.score.Values[measure]
}

// springs are the coils on sale that give the sag asked for with a preload that is allowed; where none does, the two whose sag is
// nearest. An air spring is pumped up to the sag.
func (t *Tuner) springs() (all []*sprung, err error) {
	own := t.with(t.design.Shock.PreloadMM, t.conditions.SagPct)
	if own.study.Missing(ride.NeedSag) != "" {
		return nil, fmt.Errorf("%s", own.study.Missing(ride.NeedSag))
	}
	if own.Air {
		return []*sprung{own}, nil
	}
	least, most := own.PreloadMM, own.PreloadMM
	if p := t.file.PreloadRangeMM; p != nil {
		least, most = p[0], p[1]
	}
	r := own.study.Ride()
	compressed := r.Compression(&r.Sag)
	force := own.RateNPerMM * (compressed + own.PreloadMM) // of each shock at sag
	soft, firm := math.Inf(-1), math.Inf(1)                // coils too soft and too firm, next to those that fit
	for _, rate := range t.conditions.CoilRates {
		switch preload := force/rate - compressed; {
		case preload > most:
			soft = math.Max(soft, rate)
		case preload < least:
			firm = math.Min(firm, rate)
		default:
			all = append(all, t.with(preload, t.conditions.SagPct))
		}
	}
	if len(all) > 0 {
		return all, nil
	}
	for _, x := range [2]struct{ rate, preload float64 }{{soft, most}, {firm, least}} {
		if s := t.sagging(x.rate, x.preload); s != nil {
			all = append(all, s)
		}
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("no coil on sale gives a sag between %g and %g %%", leastSagPct, mostSagPct)
	}
	return all, nil
}

// The range of sags in which that of a coil is looked for, in % of the travel.
const leastSagPct, mostSagPct = 5.0, 60.0

// sagging is the fork at the sag that a coil with a preload gives, by bisection: the softer the spring, the larger the sag. It
// is nil where that lies outside the range.
func (t *Tuner) sagging(rate, preload float64) *sprung {
	if math.IsInf(rate, 0) {
		return nil
	}
	low, high := leastSagPct, mostSagPct
	if !(t.with(preload, low).RateNPerMM > rate && t.with(preload, high).RateNPerMM < rate) {
		return nil
	}
	for range 50 {
		middle := (low + high) / 2
		if t.with(preload, middle).RateNPerMM > rate {
			low = middle
		} else {
			high = middle
		}
	}
	return t.with(preload, low)
}
