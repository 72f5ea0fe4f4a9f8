package kinematics

import (
	"math"

	"forkfront/kinematics/plane"
)

// loopMarks are samples about which a continuation found how far its steps are certain, and which of them covers each interval
// between samples.
type loopMarks struct {
	unknowns int
	all      []loopMark
	weights  []float64 // by mark and unknown
	covers   []int     // by interval: the mark; −1: none
}

// loopMark is one of them: a travel no further than certain from its sample has one solution within 2 certain steps of the
// weights, and that is on the path through the sample.
type loopMark struct {
	sample  int
	certain float64
}

func (m *loopMarks) size(samples, unknowns int) {
	m.unknowns = unknowns
	m.covers = plane.Resize(m.covers, samples)
	for i := range m.covers {
		m.covers[i] = -1
	}
	m.all, m.weights = m.all[:0], m.weights[:0]
}

// certain proves that all samples are on the path from top-out, on which the axle does not turn back: that each follows from a
// marked one before it or behind it, in steps that are certain.
func (b *loopBatch) certain(st *batch, c *continuation) bool {
	b.marks.size(st.samples, b.solver.n)
	if !b.stand(st, c, 0) {
		return false
	}
	last, reached, mark := st.samples-1, 0, 0
	for {
		b.mark(c, mark, reached)
		for reached = mark; reached < last && b.follows(st, c, mark, reached+1); {
			reached++
			b.marks.covers[reached-1] = len(b.marks.all) - 1
		}
		if reached == last {
			return true
		}
		if reached == mark {
			if !b.walk(st, c, mark+1) {
				return false
			}
			mark++
			reached = mark
			continue
		}
		// The next mark is as far beyond as this one is before, and nearer where its own steps do not go back so far.
		for mark = min(last, 2*reached-mark); ; {
			if !b.stand(st, c, mark) {
				return false
			}
			back := mark
			for back > reached && b.follows(st, c, mark, back-1) {
				back--
			}
			if back == reached {
				break
			}
			mark = reached + min((mark-reached)/2, mark-back)
		}
	}
}

// stand puts the continuation at a sample and certifies it.
func (b *loopBatch) stand(st *batch, c *continuation, sample int) bool {
	n := b.solver.n
	for i, x := range b.at[sample*n : (sample+1)*n] {
		if c.v.slides[i] {
			c.way[i] = x
			continue
		}
		c.sin[i], c.cos[i] = math.Sincos(x)
	}
	c.turnTerms()
	c.travel = st.step * float64(sample)
	if !c.stand() {
		return false
	}
	c.certify()
	return c.certain >= leastStep
}

// follows tells whether a sample is on the path through a marked one, and all between them are.
func (b *loopBatch) follows(st *batch, c *continuation, mark, sample int) bool {
	if !(math.Abs(st.step*float64(sample-mark)) <= c.certain) {
		return false
	}
	n := b.solver.n
	from, to := b.at[mark*n:(mark+1)*n], b.at[sample*n:(sample+1)*n]
	for i, w := range c.weight {
		if !(math.Abs(to[i]-from[i]) <= 2*c.certain*w) {
			return false
		}
	}
	return true
}

// mark keeps what the continuation found of a sample, from which the samples back to another follow.
func (b *loopBatch) mark(c *continuation, sample, back int) {
	m := &b.marks
	for i := back; i < sample; i++ {
		m.covers[i] = len(m.all)
	}
	m.all, m.weights = append(m.all, loopMark{sample, c.certain}), append(m.weights, c.weight...)
}

// walk goes on to the next sample in shorter steps, and tells whether that is the one that was found.
func (b *loopBatch) walk(st *batch, c *continuation, sample int) bool {
	const same = 1e-8
	if !c.reach(st.step * float64(sample)) {
		return false
	}
	n := b.solver.n
	for i, x := range b.at[sample*n : (sample+1)*n] {
		from := b.at[(sample-1)*n+i]
		if !(math.Abs(from+c.sum[i]-x)*c.unit(i) <= same) {
			return false
		}
	}
	return b.stand(st, c, sample)
}

// within tells whether the position solved last, between two samples, is on the path.
func (b *loopBatch) within(st *batch, interval int) bool {
	m, n := &b.marks, b.solver.n
	if interval >= st.samples-1 || m.covers[interval] < 0 {
		return false
	}
	k := m.covers[interval]
	mark, weights := &m.all[k], m.weights[k*n:(k+1)*n]
	from, to := b.at[mark.sample*n:(mark.sample+1)*n], b.at[st.samples*n:(st.samples+1)*n]
	for i, w := range weights {
		if !(math.Abs(to[i]-from[i]) <= 2*mark.certain*w) {
			return false
		}
	}
	return true
}
