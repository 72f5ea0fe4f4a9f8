package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
)

// loopEquations are the vector loops of a mechanism with coordinates, and one worker's memory of where
// it stands. All rates are per mm of travel.
type loopEquations[T plane.Scalar] struct {
	of       *mechanism.Mechanism
	v        *vectorLoops   // its
	axleTop  T              // of the axle along at top-out
	vector   []plane.Vec[T] // by term, at top-out
	cos, sin []T            // by unknown
	way      []T            // by unknown, mm
	now      []plane.Vec[T] // by term: turned, and times its way
	x        []T            // right-hand sides and solutions
	rate     []T            // by unknown
	second   []T            // by unknown
	lu       plane.LU[T]
	size     float64 // mm: by it ways are compared with turns
}

// adopt finds the vector loops of a mechanism, unless they are known. It is false where there are none.
func (e *loopEquations[T]) adopt(m *mechanism.Mechanism) bool {
	if plain := m.Plain(); e.of != plain {
		e.of, e.v = plain, newVectorLoops(plain)
	}
	return e.v != nil
}

// set takes the coordinates, and stands at top-out. It is false where a slide has no direction.
func (e *loopEquations[T]) set(m *mechanism.Mechanism, layout []plane.Vec[T]) bool {
	if !e.adopt(m) {
		return false
	}
	n := e.v.unknowns
	e.axleTop = layout[m.Axle()].Along
	e.vector, e.now = plane.Resize(e.vector, len(e.v.terms)), plane.Resize(e.now, len(e.v.terms))
	e.cos, e.sin, e.way = plane.Resize(e.cos, n), plane.Resize(e.sin, n), plane.Resize(e.way, n)
	e.x, e.rate, e.second = plane.Resize(e.x, n), plane.Resize(e.rate, n), plane.Resize(e.second, n)
	e.size = 100
	for i := range e.v.terms {
		t := &e.v.terms[i]
		var sum plane.Vec[T]
		for _, p := range t.parts {
			if p.to >= 0 {
				sum = sum.Plus(layout[p.to])
			}
			if p.from >= 0 {
				sum = sum.Minus(layout[p.from])
			}
		}
		length := math.Hypot(plane.Real(sum.Along), plane.Real(sum.Ahead))
		if t.way >= 0 {
			if !(length > 1e-6) {
				return false
			}
			sum = sum.Times(plane.Inverse(plane.Sqrt(sum.Dot(sum))))
		} else if t.turn >= 0 {
			e.size = math.Max(e.size, length)
		}
		e.vector[i] = sum
	}
	for i := range n {
		e.cos[i], e.sin[i], e.way[i] = plane.Lift[T](1), plane.Lift[T](0), plane.Lift[T](0)
	}
	e.turnTerms()
	return true
}

// turnTerms turns all vectors to where the unknowns have them.
func (e *loopEquations[T]) turnTerms() {
	for i := range e.v.terms {
		t, r := &e.v.terms[i], e.vector[i]
		if t.turn >= 0 {
			c, s := e.cos[t.turn], e.sin[t.turn]
			r = plane.Vec[T]{Along: c*r.Along - s*r.Ahead, Ahead: s*r.Along + c*r.Ahead}
		}
		e.now[i] = r
	}
}

// sum is the value of a sum of vectors.
func (e *loopEquations[T]) sum(s span) plane.Vec[T] {
	var at plane.Vec[T]
	for i := s.from; i < s.to; i++ {
		if w := e.v.terms[i].way; w >= 0 {
			at = at.Plus(e.now[i].Times(e.way[w]))
			continue
		}
		at = at.Plus(e.now[i])
	}
	return at
}

// slope is the derivative of a sum for rates of the unknowns.
func (e *loopEquations[T]) slope(s span, rate []T) plane.Vec[T] {
	var v plane.Vec[T]
	for i := s.from; i < s.to; i++ {
		t, r := &e.v.terms[i], e.now[i]
		if t.way >= 0 {
			v = v.Plus(r.Times(rate[t.way]))
			r = r.Times(e.way[t.way])
		}
		if t.turn >= 0 {
			v = v.Plus(r.Quarter().Times(rate[t.turn]))
		}
	}
	return v
}

// bend is the second derivative of a sum for rates of the unknowns that do not change.
func (e *loopEquations[T]) bend(s span, rate []T) plane.Vec[T] {
	var v plane.Vec[T]
	for i := s.from; i < s.to; i++ {
		t, r := &e.v.terms[i], e.now[i]
		if t.turn < 0 {
			continue
		}
		w := rate[t.turn]
		if t.way >= 0 {
			v = v.Plus(r.Quarter().Times(2 * w * rate[t.way]))
			r = r.Times(e.way[t.way])
		}
		v = v.Minus(r.Times(w * w))
	}
	return v
}

// factor sets up and factors how the equations change with the unknowns; false where they do not
// determine these: at a dead point.
func (e *loopEquations[T]) factor() bool {
	n := e.v.unknowns
	e.lu.Reset(n)
	for k, s := range e.v.loops {
		e.rows(s, 2*k, 2*k+1)
	}
	e.rows(e.v.axle, n-1, -1)
	return e.lu.Factor()
}

func (e *loopEquations[T]) rows(s span, along, ahead int) {
	put := func(unknown int, v plane.Vec[T]) {
		*e.lu.At(along, unknown) += v.Along
		if ahead >= 0 {
			*e.lu.At(ahead, unknown) += v.Ahead
		}
	}
	for i := s.from; i < s.to; i++ {
		t, r := &e.v.terms[i], e.now[i]
		if t.way >= 0 {
			put(t.way, r)
			r = r.Times(e.way[t.way])
		}
		if t.turn >= 0 {
			put(t.turn, r.Quarter())
		}
	}
}

// correct does one Newton step towards a travel with the factored equations; x is left the step.
func (e *loopEquations[T]) correct(travel T) {
	for k, s := range e.v.loops {
		gap := e.sum(s)
		e.x[2*k], e.x[2*k+1] = -gap.Along, -gap.Ahead
	}
	e.x[len(e.x)-1] = e.axleTop - travel - e.sum(e.v.axle).Along
	e.lu.Solve(e.x)
	e.move(e.x)
}

// move changes the unknowns.
func (e *loopEquations[T]) move(by []T) {
	for i, x := range by {
		if e.v.slides[i] {
			e.way[i] += x
			continue
		}
		p := plane.Pose[T]{Cos: e.cos[i], Sin: e.sin[i]}
		p.Rotate(x)
		e.cos[i], e.sin[i] = p.Cos, p.Sin
	}
	e.turnTerms()
}

// rates finds how fast the unknowns change with the travel, from the factored equations.
func (e *loopEquations[T]) rates() {
	clear(e.rate)
	e.rate[len(e.rate)-1] = plane.Lift[T](-1)
	e.lu.Solve(e.rate)
}

// seconds finds their second derivatives; the rates must be those of the position.
func (e *loopEquations[T]) seconds() {
	for k, s := range e.v.loops {
		b := e.bend(s, e.rate)
		e.second[2*k], e.second[2*k+1] = -b.Along, -b.Ahead
	}
	e.second[len(e.second)-1] = -e.bend(e.v.axle, e.rate).Along
	e.lu.Solve(e.second)
}

// recall stands where a solved state has all bodies.
func (e *loopEquations[T]) recall(poses []plane.Pose[float64]) {
	for i, body := range e.v.body {
		if !e.v.slides[i] {
			e.cos[i], e.sin[i] = plane.Lift[T](poses[body].Cos), plane.Lift[T](poses[body].Sin)
		}
		e.way[i] = plane.Lift[T](0)
	}
	e.turnTerms()
	for i, body := range e.v.body {
		if e.v.slides[i] {
			s := e.v.anchors[body]
			at := e.sum(s)
			off := plane.Vec[T]{Along: plane.Lift[T](poses[body].At.Along) - at.Along, Ahead: plane.Lift[T](poses[body].At.Ahead) - at.Ahead}
			for k := s.from; k < s.to; k++ {
				if e.v.terms[k].way == i {
					e.way[i] = plane.Lift[T](plane.Real(off.Dot(e.now[k])))
				}
			}
		}
	}
}

// place sets the poses and rates of all bodies of a linkage, and optionally the second derivatives.
func (e *loopEquations[T]) place(l *linkage[T], second bool) {
	for b, s := range e.v.anchors {
		p, r, turn := &l.pose[b], &l.rate[b], e.v.turn[b]
		p.At, r.At = e.sum(s), e.slope(s, e.rate)
		p.Cos, p.Sin, r.Turn = plane.Lift[T](1), plane.Lift[T](0), plane.Lift[T](0)
		if turn >= 0 {
			p.Cos, p.Sin, r.Turn = e.cos[turn], e.sin[turn], e.rate[turn]
		}
		if second {
			a := &l.accel[b]
			a.At, a.Turn = e.bend(s, e.rate).Plus(e.slope(s, e.second)), plane.Lift[T](0)
			if turn >= 0 {
				a.Turn = e.second[turn]
			}
		}
	}
}
