package kinematics

import (
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// loopBatch solves all samples of a sweep by the vector loops, each from those around it, where a driver and dyads do not do:
// it predicts a sample from the unknowns and rates of samples solved before, corrects it, and proves afterwards that all are on
// the path from top-out. Where they are not, the walk tells what happens. It is one worker's memory.
type loopBatch struct {
	solver loopSolver
	hung   []hungBody
	at     []float64 // by sample and unknown
	slope  []float64 // by sample and unknown: rate per sample
	marks  loopMarks
	solved bool // the last sweep was
}

// hungBody is a body with what it hangs on.
type hungBody struct {
	body, parent, unknown int
	slides                bool
	in                    plane.Vec[float64] // from the parent's anchor to the pin, or to what coincides with the anchor at top-out
	own                   plane.Vec[float64] // from the pin to the anchor
	line                  plane.Vec[float64] // direction of a slide
}

// sweep solves all samples, and is false where they are not certain.
func (b *loopBatch) sweep(mo *Motion, travelMM float64) bool {
	l, st, c := &mo.link, &mo.batch, &mo.path
	if !c.set(l.m, l.layout) {
		return false
	}
	c.memory()
	st.size(mo.States, len(l.m.Bodies))
	st.take(l, &mo.attitude)
	st.ground()
	st.step = travelMM / float64(st.samples-1)
	n := c.v.unknowns
	b.at, b.slope = plane.Resize(b.at, (st.samples+1)*n), plane.Resize(b.slope, (st.samples+1)*n)
	b.solver.take(c)
	b.hang(l, c.v)
	clear(b.at[:n])
	if !b.settle(st, 0, 0) {
		return false
	}
	// As the batch of dyads does: from all over the travel first, then each from those before it.
	if !(b.solve(st, st.stages) && b.certain(st, c)) && !(b.solve(st, st.orderly) && b.certain(st, c)) {
		return false
	}
	st.read(mo.States, 0)
	st.angles(mo.States)
	b.solved = true
	return true
}

// hang finds how each body hangs on the one before.
func (b *loopBatch) hang(l *linkage[float64], v *vectorLoops) {
	b.hung = b.hung[:0]
	for i := range v.tree.Links {
		t := &v.tree.Links[i]
		from, to := l.layout[l.m.Anchors()[t.Parent]], l.layout[l.m.Anchors()[t.Body]]
		h := hungBody{body: t.Body, parent: t.Parent, unknown: i, slides: t.Slides(), in: to.Minus(from)}
		if h.slides {
			line := l.layout[t.Through[1]].Minus(l.layout[t.Through[0]])
			h.line = line.Times(1 / plane.Sqrt(line.Dot(line)))
		} else {
			h.in, h.own = l.layout[t.Point].Minus(from), to.Minus(l.layout[t.Point])
		}
		b.hung = append(b.hung, h)
	}
}

// solve goes through the stages.
func (b *loopBatch) solve(st *batch, stages []stage) bool {
	for i := range stages {
		stage := &stages[i]
		for j, k := range stage.samples {
			if b.predict(&stage.from[j], k); !b.settle(st, k, st.step*float64(k)) {
				return false
			}
		}
	}
	return true
}

// predict guesses the unknowns of a sample.
func (b *loopBatch) predict(s *stencil, sample int) {
	n := b.solver.n
	at := b.at[sample*n : (sample+1)*n]
	clear(at)
	for i, k := range &s.nodes {
		value, rate := s.value[i], s.rate[i]
		if value == 0 && rate == 0 {
			continue
		}
		of, slope := b.at[k*n : (k+1)*n][:len(at)], b.slope[k*n : (k+1)*n][:len(at)]
		for u := range at {
			at[u] += value*of[u] + rate*slope[u]
		}
	}
}

// settle solves a sample from its prediction and places its bodies.
func (b *loopBatch) settle(st *batch, k int, travel float64) bool {
	s, n := &b.solver, b.solver.n
	if !s.settle(b.at[k*n:(k+1)*n], travel) {
		return false
	}
	slope := b.slope[k*n : (k+1)*n]
	for u, r := range s.rate {
		slope[u] = r * st.step
	}
	b.place(st, k)
	return true
}

// place puts all bodies where the solver stands, with their rates. Products are written out: by the methods of poses and vectors a
// sweep takes an eighth longer.
func (b *loopBatch) place(st *batch, k int) {
	s, poses, rates := &b.solver, st.poses[k*st.bodies:][:st.bodies], st.rates[k*st.bodies:][:st.bodies]
	for i := range b.hung {
		h := &b.hung[i]
		p, r := poses[h.parent], rates[h.parent]
		x, y := p.Cos*h.in.Along-p.Sin*h.in.Ahead, p.Sin*h.in.Along+p.Cos*h.in.Ahead
		if h.slides {
			u, way := p.Turned(h.line), b.at[k*s.n+h.unknown]
			x, y = x+way*u.Along, y+way*u.Ahead
			r.At = r.At.Plus(u.Times(s.rate[h.unknown]))
		}
		p.At.Along, p.At.Ahead = p.At.Along+x, p.At.Ahead+y
		r.At.Along, r.At.Ahead = r.At.Along-y*r.Turn, r.At.Ahead+x*r.Turn
		if !h.slides {
			p.Cos, p.Sin, r.Turn = s.cos[h.unknown], s.sin[h.unknown], s.rate[h.unknown]
			x, y = p.Cos*h.own.Along-p.Sin*h.own.Ahead, p.Sin*h.own.Along+p.Cos*h.own.Ahead
			p.At.Along, p.At.Ahead = p.At.Along+x, p.At.Ahead+y
			r.At.Along, r.At.Ahead = r.At.Along-y*r.Turn, r.At.Ahead+x*r.Turn
		}
		poses[h.body], rates[h.body] = p, r
	}
	st.perMM[k], st.off[k], st.sines[k], st.drive[k] = 1, 0, 1, 0
	if first := &st.link.m.Steps()[0]; first.Kind == mechanism.SlideDrive {
		st.drive[k] = poses[first.Body[0]].At.Minus(st.first.at).Dot(st.first.slide)
	}
}

// state finds the state at any travel of a sweep that was solved; it is the batch's own, or a sample's. It is nil where the
// travel is not certain.
func (b *loopBatch) state(st *batch, states []stance.State[float64], travelMM float64) *stance.State[float64] {
	place := travelMM / st.step
	k := int(place)
	if !b.solved || !(place >= 0) || k >= len(states) {
		return nil
	}
	if states[k].TravelMM == travelMM {
		return &states[k]
	}
	from := between(place, st.samples)
	b.predict(&from, st.samples)
	if !b.settle(st, st.samples, travelMM) || !b.within(st, k) {
		return nil
	}
	st.read(st.solved[:], st.samples)
	st.angles(st.solved[:])
	st.solved[0].TravelMM = travelMM
	return &st.solved[0]
}
