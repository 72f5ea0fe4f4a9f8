package optimize

import (
	"math"

	"forkfront/optimize/population"
	"forkfront/optimize/surrogate"
	"forkfront/optimize/wire"
)

// lateStage is what is known of late values.
type lateStage struct {
	counts  [2]int // of values and hints
	most    int    // measured before the end
	model   *surrogate.Model
	known   []*population.Member // measured, in this order
	pairs   [][]float64          // by value: predicted and found, in turn, of those measured at the end
	closing int                  // known when the measuring at the end began; 0: not yet
}

const (
	lateUsual = 100 // members measured before the end, where it is not said
	lateMore  = 8   // members measured at the end beyond those to be reported, or a tenth of these
)

func newLateStage(p Problem, s *Settings) *lateStage {
	staged, ok := p.(Staged)
	if !ok {
		return nil
	}
	l := &lateStage{most: s.Measurements, model: &surrogate.Model{}}
	if l.most == 0 {
		l.most = lateUsual
	}
	l.counts[0], l.counts[1] = staged.Late()
	l.pairs = make([][]float64, l.counts[0])
	return l
}

// MostMeasured is the largest number of members of a Staged problem that a search with these settings measures, for a given
// number of reported candidates.
func (s *Settings) MostMeasured(reported int) int {
	during := s.Measurements
	if during == 0 {
		during = lateUsual
	}
	return during + reported + max(lateMore, reported/10)
}

// equip gives members room for late values.
func (l *lateStage) equip(members []*population.Member) []*population.Member {
	if l != nil {
		for _, m := range members {
			slab := make([]float64, l.counts[0]+l.counts[1])
			m.Late = &population.LateValues{Values: slab[:l.counts[0]:l.counts[0]], Hints: slab[l.counts[0]:]}
		}
	}
	return members
}

// assess evaluates a member, with late values as predicted. It may be called by many goroutines at once.
func (l *lateStage) assess(p Problem, m *population.Member) {
	if l == nil {
		p.Evaluate(&m.Outcome, m.X)
	} else {
		staged := p.(Staged)
		m.Late.Able = staged.Screen(&m.Outcome, m.Late.Hints, m.X)
		m.Late.Sound = m.Late.Able && m.Outcome.Feasible()
		l.settle(staged, m)
	}
	m.Sanitise()
}

// settle completes a member by its late values, predicted unless they are known.
func (l *lateStage) settle(p Staged, m *population.Member) {
	d := m.Late
	if !d.Measured {
		d.Void = !d.Able || !l.model.Predict(d.Values, d.Hints)
	}
	if d.Void {
		p.Settle(&m.Outcome, nil)
	} else {
		p.Settle(&m.Outcome, d.Values)
	}
}

// open are the members that are worth measuring and have not been. Designs far from being allowed teach little: with them in
// the examples the error was ten times as large.
func (l *lateStage) open(members []*population.Member) (open []*population.Member) {
	for _, m := range members {
		if m.Late.Sound && !m.Late.Measured {
			open = append(open, m)
		}
	}
	return open
}

// apart picks n of some members, each as far from all known ones and those picked before as any.
func (l *lateStage) apart(from []*population.Member, n int) []*population.Member {
	hints := make([][]float64, len(from))
	for i, m := range from {
		hints[i] = m.Late.Hints
	}
	return population.Subset(from, surrogate.Farthest(hints, l.knownHints(), n))
}

func (l *lateStage) knownHints() [][]float64 {
	all := make([][]float64, len(l.known))
	for i, m := range l.known {
		all[i] = m.Late.Hints
	}
	return all
}

func (l *lateStage) fit() {
	values := make([][]float64, len(l.known))
	for i, m := range l.known {
		if !m.Late.Void {
			values[i] = m.Late.Values
		}
	}
	l.model = surrogate.Fit(l.knownHints(), values)
}

// agreements tell how well each late value was predicted.
func (l *lateStage) agreements() (all []Agreement) {
	if l == nil {
		return nil
	}
	for _, pairs := range l.pairs {
		n := len(pairs) / 2
		predicted, found := make([]float64, n), make([]float64, n)
		square := 0.0
		for i := range n {
			predicted[i], found[i] = pairs[2*i], pairs[2*i+1]
			off := predicted[i] - found[i]
			square += float64(off * off)
		}
		a := Agreement{Count: n, RankCorrelation: surrogate.RankCorrelation(predicted, found)}
		if n > 0 {
			a.RMSError = math.Sqrt(square / float64(n))
		}
		all = append(all, a)
	}
	return all
}

func (l *lateStage) pack(w *wire.Writer) {
	w.Int(l.closing)
	for _, pairs := range l.pairs {
		w.Int(len(pairs))
		w.Floats(pairs)
	}
}

func (l *lateStage) unpack(u *wire.Reader, t *population.Table) {
	l.known = t.UnpackList(u)
	l.closing = u.Int(0, math.MaxInt)
	for k := range l.pairs {
		l.pairs[k] = make([]float64, u.Count(8))
		u.Floats(l.pairs[k], false)
	}
	l.fit()
}
