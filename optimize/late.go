package optimize

import (
	"context"
	"fmt"
	"math"
	"slices"

	"forkfront/optimize/surrogate"
	"forkfront/optimize/wire"
)

// Staged is a Problem some of whose objectives or constraints follow from values that take far longer to find than all
// else. The search finds these late values of few candidates only, learns to predict them from hints, and works with
// predictions; what it returns has its own late values. Its Evaluate finds everything.
type Staged interface {
	Problem
	// Late is how many late values there are, and how many hints Screen leaves.
	Late() (values, hints int)
	// Screen evaluates all but what follows from late values, which it leaves as if it were met, and writes hints: finite numbers, from which the late values
	// are predicted. It is false where a design cannot have late values.
	Screen(dst *Outcome, hints, x []float64) bool
	// Measure finds the late values, finite numbers; it is false where a design has none.
	Measure(values, x []float64) bool
	// Settle completes what Screen began by what follows from late values, found or predicted; nil: the design has none,
	// which is to be infeasible.
	Settle(dst *Outcome, values []float64)
}

// Agreement says how well a late value was predicted for candidates that are reported before it was found of them.
type Agreement struct {
	Count           int
	RankCorrelation float64 // Spearman's; 0 where there are fewer than two
	RMSError        float64
}

// late is what a member of a staged problem has beyond its outcome.
type late struct {
	hints, values []float64
	able          bool // it can have late values
	sound         bool // and meets all that does not follow from them
	measured      bool // the values are its own, or it has been found to have none
	void          bool // it has none, found or predicted
}

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
	lateFirst  = 24   // members measured as soon as there are as many
	lateRound  = 8    // and at least every time later
	latePart   = 0.25 // part of the known ones
	lateUsual  = 100  // members measured before the end, where it is not said
	lateMore   = 8    // members measured at the end beyond those to be reported, or a tenth of these
	lateAtOnce = 64   // members measured at the end between two states
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

// MostMeasured is how many late values of a Staged problem a search of these settings finds at most if it reports so many
// candidates.
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

// due is how many members are to be measured now: many more as the search goes on, in rounds that grow.
func (l *lateStage) due(e *engine) int {
	known := len(l.known)
	if known < lateFirst {
		return min(lateFirst, l.most) - known
	}
	share := min(float64(e.used)/e.horizon(), 1)
	n := int(share*float64(l.most)) - known
	if n < max(lateRound, int(latePart*float64(known))) {
		return 0
	}
	return n
}

// measureSome measures members when it is time to.
func (e *engine) measureSome() error {
	l := e.late
	if l == nil {
		return nil
	}
	chosen := l.promising(e, l.due(e))
	if len(chosen) == 0 {
		return nil
	}
	if err := e.measure(e.working, chosen); err != nil {
		return err
	}
	return e.learn(context.WithoutCancel(e.working))
}

// promising picks members to measure: of the archive, or the best of the population where it has too few.
func (l *lateStage) promising(e *engine, n int) []*member {
	if n <= 0 {
		return nil
	}
	open := l.open(e.archive.members)
	if len(open) >= n {
		return l.apart(open, n)
	}
	others := without(l.open(e.population), setOf(open))
	for _, m := range others {
		e.scaling.setViolation(m)
	}
	slices.SortStableFunc(others, byMerit)
	if open = append(open, others[:min(n-len(open), len(others))]...); len(open) < min(n, lateRound) {
		return nil // too few to be worth a round
	}
	return open
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

// measure finds the late values of members. Where it fails nothing has changed.
func (e *engine) measure(ctx context.Context, members []*member) error {
	l := e.late
	found, has := make([][]float64, len(members)), make([]bool, len(members))
	err := e.pool.Each(ctx, len(members), func(p Problem, i int) {
		found[i] = make([]float64, l.counts[0])
		has[i] = p.(Staged).Measure(found[i], members[i].x)
		for _, v := range found[i] {
			has[i] = has[i] && !math.IsNaN(v) && !math.IsInf(v, 0)
		}
	})
	if err != nil {
		return err
	}
	for i, m := range members {
		d := m.late
		if has[i] && !d.void && l.closing > 0 {
			for k, v := range d.values {
				l.pairs[k] = append(l.pairs[k], v, found[i][k])
			}
		}
		if d.measured, d.void = true, !has[i]; has[i] {
			copy(d.values, found[i])
		}
	}
	l.known = append(l.known, members...)
	return nil
}

// learn fits the model to what is known and settles all members again.
func (e *engine) learn(ctx context.Context) error {
	e.late.fit()
	all := newTable(e.population, e.archive.members, e.infeasible, e.evolution.replaced).members
	err := e.pool.Each(ctx, len(all), func(p Problem, i int) {
		e.late.settle(p.(Staged), all[i])
		all[i].sanitise()
	})
	if err != nil {
		return err
	}
	for _, m := range all {
		e.scaling.observe(m)
	}
	for _, m := range all {
		e.scaling.setViolation(m)
	}
	e.archive.refill()
	e.frame.again(e.archive.members, e.settings.Seed)
	return nil
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

// verify measures the candidates that are to be reported. Where that changes which these are, it measures those too, within
// limits. It may be stopped and begun again.
func (e *engine) verify(ctx context.Context) error {
	l := e.late
	if l == nil {
		return nil
	}
	if l.closing == 0 {
		l.closing = max(len(l.known), 1)
	}
	size := e.settings.FrontSize
	if size == 0 {
		size = len(e.archive.members)
	}
	most := l.closing + e.settings.MostMeasured(size) - l.most
	for {
		open := l.open(chooseFront(e.archive.members, size, e.settings.Seed, e.pool.Parts))
		if open = open[:min(len(open), most-len(l.known))]; len(open) == 0 {
			return nil
		}
		for len(open) > 0 {
			some := open[:min(lateAtOnce, len(open))]
			if err := e.measure(ctx, some); err != nil {
				return fmt.Errorf("optimize: stopped while the candidates found are measured: %w", err)
			}
			if open = open[len(some):]; len(open) > 0 {
				if err := e.checkpoint(); err != nil {
					return err
				}
			}
		}
		if err := e.learn(context.WithoutCancel(ctx)); err != nil {
			return err
		}
	}
}

// keepKnown leaves in the archive only members whose late values are known.
func (e *engine) keepKnown() {
	if e.late == nil {
		return
	}
	p := e.problem.(Staged)
	e.archive.rebuild(nil)
	for _, m := range e.late.known {
		e.late.settle(p, m)
		m.sanitise()
		e.archive.add(m)
	}
}

// observed is a member as Observe gets it: what is predicted of it is left out.
func (e *engine) observed(m *member) Candidate {
	c := m.candidate()
	if m.late != nil && !m.late.measured {
		c.F, c.G, c.Late = slices.Clone(c.F), slices.Clone(c.G), nil
		e.problem.(Staged).Settle(&c.Outcome, nil)
	}
	return c
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

func (d *late) pack(w *wire.Writer) {
	w.Floats(d.hints)
	w.Floats(d.values)
	for _, b := range []bool{d.able, d.sound, d.measured, d.void} {
		w.Bool(b)
	}
}

func (d *late) unpack(u *wire.Reader) {
	u.Floats(d.hints, false)
	u.Floats(d.values, false)
	for _, b := range []*bool{&d.able, &d.sound, &d.measured, &d.void} {
		*b = u.Bool()
	}
}
