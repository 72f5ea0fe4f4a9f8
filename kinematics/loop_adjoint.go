package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// loopAdjoint does what Adjoint does for mechanisms that are not solved by a driver and dyads: from their vector loops
// E(u, layout) = 0, whose unknowns u are the turns and ways of bodies. With Eᵤᵀ λ = oᵤ for an output o(u, layout),
//
//	d o / d layout = o_layout − E_layoutᵀ λ
//
// and as everything carries its derivative by the travel, so do λ and the sensitivities. It is one worker's memory.
type loopAdjoint struct {
	loops   loopEquations[float64]
	eyes    [2]span    // where those of the shock are
	lengths []float64  // by term: between the two points of a slide, mm
	now     []ratedVec // by term: where it has turned to; of a way, its direction
	ways    []rated    // by unknown
	pull    []rated    // by unknown: what the loads on all sums do per unit of it
	hold    []rated    // by equation: −λ, the loads that keep loops closed and the travel as it is
	loads   []sumLoad  // on loops, axle and eyes
	x       []float64  // right-hand sides and solutions
}

// set takes a motion that was swept through; false where the mechanism has no vector loops.
func (p *loopAdjoint) set(mo *Motion) bool {
	e, m := &p.loops, mo.link.m
	if known := e.of == m.Plain(); !e.adopt(m) {
		return false
	} else if !known && m.HasShock() {
		for end := range p.eyes {
			at := m.Eye(end)
			p.eyes[end] = e.v.add(e.v.chain(e.v.tree, at.Body, at.Point))
		}
	}
	if !e.set(m, mo.link.layout) {
		return false
	}
	n, terms := e.v.unknowns, e.v.terms
	p.lengths, p.now = plane.Resize(p.lengths, len(terms)), plane.Resize(p.now, len(terms))
	p.ways, p.pull, p.hold, p.x = plane.Resize(p.ways, n), plane.Resize(p.pull, n), plane.Resize(p.hold, n), plane.Resize(p.x, n)
	for i := range terms {
		if t := &terms[i]; t.way >= 0 {
			line := mo.link.layout[t.parts[0].to].Minus(mo.link.layout[t.parts[0].from])
			p.lengths[i] = math.Hypot(line.Along, line.Ahead)
		}
	}
	return true
}

// stand takes a state.
func (p *loopAdjoint) stand(s *stance.State[float64]) {
	e := &p.loops
	e.recall(s.Pose)
	e.factor()
	e.rates()
	for i, r := range e.now {
		var turn plane.Vec[float64]
		if by := e.v.terms[i].turn; by >= 0 {
			turn = r.Quarter().Times(e.rate[by])
		}
		p.now[i] = ratedVec{rated{r.Along, turn.Along}, rated{r.Ahead, turn.Ahead}}
	}
	for i := range p.ways {
		p.ways[i] = rated{e.way[i], e.rate[i]}
	}
}

// sumLoad is a load on where the vectors of a sum lead.
type sumLoad struct {
	on   span
	load ratedVec
}

// apply loads the axle ahead, the caliper's body with a moment and the shock's eyes apart, and adds what every point of the layout
// works against to work, by point.
func (p *loopAdjoint) apply(work []ratedVec, m *mechanism.Mechanism, s *stance.State[float64], ahead, moment, apart rated) {
	v, n := p.loops.v, len(p.hold)
	p.loads = p.loads[:0]
	for _, loop := range v.loops {
		p.loads = append(p.loads, sumLoad{on: loop})
	}
	p.loads = append(p.loads, sumLoad{v.axle, ratedVec{ahead: ahead}})
	if apart != (rated{}) {
		gap := p.sum(p.eyes[1]).minus(p.sum(p.eyes[0]))
		force := gap.times(rated{s.ShockMM, -s.ShockRate}.inverse()).times(apart)
		p.loads = append(p.loads, sumLoad{p.eyes[1], force}, sumLoad{p.eyes[0], ratedVec{}.minus(force)})
	}
	clear(p.hold)
	for _, derivative := range [2]bool{false, true} { // that of λ follows once λ is known
		p.balance(m, moment)
		for i, by := range p.pull {
			if p.x[i] = by.x; derivative {
				p.x[i] = by.dx
			}
		}
		p.loops.lu.SolveTransposed(p.x)
		for i, x := range p.x {
			if derivative {
				p.hold[i].dx = -x
			} else {
				p.hold[i].x = -x
			}
		}
		for k := range v.loops {
			p.loads[k].load = ratedVec{p.hold[2*k], p.hold[2*k+1]}
		}
		p.loads[len(v.loops)].load.along = p.hold[n-1]
	}
	for i := range p.loads {
		p.work(work, p.loads[i].on, p.loads[i].load)
	}
}

// balance finds what all loads, and a moment on the caliper's body, do per unit of each unknown.
func (p *loopAdjoint) balance(m *mechanism.Mechanism, moment rated) {
	clear(p.pull)
	if by := p.loops.v.turn[m.Brake()]; by >= 0 {
		p.pull[by] = moment
	}
	for k := range p.loads {
		on, load := p.loads[k].on, p.loads[k].load
		for i := on.from; i < on.to; i++ {
			t, r := &p.loops.v.terms[i], p.now[i]
			if t.way >= 0 {
				p.pull[t.way] = p.pull[t.way].plus(r.dot(load))
				r = r.times(p.ways[t.way])
			}
			if t.turn >= 0 {
				p.pull[t.turn] = p.pull[t.turn].plus(r.cross(load))
			}
		}
	}
}

// work adds what the points of a sum's vectors work against under a load on it.
func (p *loopAdjoint) work(work []ratedVec, s span, load ratedVec) {
	for i := s.from; i < s.to; i++ {
		t, by := &p.loops.v.terms[i], load
		if t.turn >= 0 {
			e := &p.loops
			cos, sin, rate := e.cos[t.turn], e.sin[t.turn], e.rate[t.turn]
			by = ratedTurn{rated{cos, -sin * rate}, rated{sin, cos * rate}}.back(load)
		}
		if t.way >= 0 { // only the direction of a slide counts, not how far apart its points are
			unit := p.loops.vector[i]
			along := by.along.times(rated{x: unit.Along}).plus(by.ahead.times(rated{x: unit.Ahead}))
			off := by.minus(ratedVec{along.times(rated{x: unit.Along}), along.times(rated{x: unit.Ahead})})
			by = off.times(p.ways[t.way]).times(rated{x: 1 / p.lengths[i]})
		}
		for _, pair := range t.parts {
			if pair.to >= 0 {
				work[pair.to] = work[pair.to].plus(by)
			}
			if pair.from >= 0 {
				work[pair.from] = work[pair.from].minus(by)
			}
		}
	}
}

// sum is where the vectors of a sum lead.
func (p *loopAdjoint) sum(s span) (at ratedVec) {
	for i := s.from; i < s.to; i++ {
		r := p.now[i]
		if w := p.loops.v.terms[i].way; w >= 0 {
			r = r.times(p.ways[w])
		}
		at = at.plus(r)
	}
	return at
}
