package cases

import (
	"math"

	"forkfront/constraints"
	"forkfront/kinematics"
	"forkfront/objectives"
)

// Sampler scores designs of a case for all measures, with memory for one goroutine.
type Sampler struct {
	c        *Case
	designer *Designer
	slow     bool
	scorer   *objectives.Scorer
	design   objectives.Design
	score    objectives.Score
}

// Sampler makes one. Slow tells whether it takes measures that take long (see Measure.Slow).
func (c *Case) Sampler(slow bool) *Sampler {
	return &Sampler{
		c: c, designer: c.Designer(), slow: slow, scorer: objectives.NewScorer(c.Conditions),
		design: objectives.Design{Mechanism: c.Mechanism, Layout: make([]kinematics.Vec[float64], len(c.Fixed))},
	}
}

// Evaluate fills in the value of every measure in the order of objectives.Measures, NaN where the design x has none or is
// not asked for it. It returns whether the fork works: whether it has its full travel and can be built.
func (s *Sampler) Evaluate(dst, x []float64) bool {
	s.c.Gate.enter()
	defer s.c.Gate.leave()
	s.designer.Design(&s.design, x)
	study := s.scorer.Score(&s.score, &s.design)
	works := constraints.Works(&s.score, s.c.Conditions.TravelMM) <= 0 && s.c.Beyond(&s.score) <= 0
	if works && s.slow {
		study.Complete(&s.score)
	}
	for i := range dst {
		dst[i] = math.NaN()
		if s.score.Missing[i] == "" && (works && s.slow || !objectives.Measures[i].Slow()) {
			dst[i] = s.score.Values[i]
		}
	}
	return works
}
