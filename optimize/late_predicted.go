package optimize

import (
	"math"

	"forkfront/optimize/surrogate"
	"forkfront/optimize/wire"
)

// lateStage is what is known of late values.
type lateStage struct {
	counts  [2]int // of values and hints
	most    int    // measured before the end
	model   *surrogate.Model
	known   []*member   // measured, in this order
	pairs   [][]float64 // by value: predicted and found, in turn, of those measured at the end
	closing int         // known when the measuring at the end began; 0: not yet
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
func (l *lateStage) equip(members []*member) []*member {
	if l != nil {
		for _, m := range members {
			slab := make([]float64, l.counts[0]+l.counts[1])
			m.late = &late{values: slab[:l.counts[0]:l.counts[0]], hints: slab[l.counts[0]:]}
		}
	}
	return members
}

// assess evaluates a member, with late values as predicted. It may be called by many goroutines at once.
func (l *lateStage) assess(p Problem, m *member) {
	if l == nil {
		p.Evaluate(&m.outcome, m.x)
	} else {
		staged := p.(Staged)
		m.late.able = staged.Screen(&m.outcome, m.late.hints, m.x)
		m.late.sound = m.late.able && m.outcome.Feasible()
		l.settle(staged, m)
	}
	m.sanitise()
}

// settle completes a member by its late values, predicted unless they are known.
func (l *lateStage) settle(p Staged, m *member) {
	d := m.late
	if !d.measured {
		d.void = !d.able || !l.model.Predict(d.values, d.hints)
	}
	if d.void {
		p.Settle(&m.outcome, nil)
	} else {
		p.Settle(&m.outcome, d.values)
	}
}

// open are the members that are worth measuring and have not been. Designs far from being allowed teach little: with them in
// the examples the error was ten times as large.
func (l *lateStage) open(members []*member) (open []*member) {
	for _, m := range members {
		if m.late.sound && !m.late.measured {
			open = append(open, m)
		}
	}
	return open
}

// apart picks n of some members, each as far from all known ones and those picked before as any.
func (l *lateStage) apart(from []*member, n int) []*member {
	hints := make([][]float64, len(from))
	for i, m := range from {
		hints[i] = m.late.hints
	}
	return subset(from, surrogate.Farthest(hints, l.knownHints(), n))
}

func (l *lateStage) knownHints() [][]float64 {
	all := make([][]float64, len(l.known))
	for i, m := range l.known {
		all[i] = m.late.hints
	}
	return all
}

func (l *lateStage) fit() {
	values := make([][]float64, len(l.known))
	for i, m := range l.known {
		if !m.late.void {
			values[i] = m.late.values
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

func (l *lateStage) unpack(u *wire.Reader, t *table) {
	l.known = t.unpackList(u)
	l.closing = u.Int(0, math.MaxInt)
	for k := range l.pairs {
		l.pairs[k] = make([]float64, u.Count(8))
		u.Floats(l.pairs[k], false)
	}
	l.fit()
}
