package kinematics

import (
	"math"

	"forkfront/kinematics/plane"
)

// loopSolver are the vector loops of a mechanism in plain numbers, arranged for the many positions of a sweep: what
// loopEquations do in a step, this does in one pass over flat lists, with the rates as a second right-hand side.
type loopSolver struct {
	n, width int // unknowns; entries of a row: these, what is left open, and the rates' right-hand side
	pins     []loopVector
	ways     []loopVector
	axle     []loopVector
	still    []float64 // by equation: the sum of what does not turn, the sign reversed
	slides   []bool
	unit     []float64 // by unknown: by what a step is multiplied to compare it with a turn
	rows     []float64
	cos, sin []float64 // by unknown, of the position that the equations stand for
	step     []float64 // by unknown: the correction
	rate     []float64 // by unknown, per mm of travel
}

// loopVector is a vector of a sum: of constant length, or the direction of a way.
type loopVector struct {
	at        int // of the sum's first equation, its first entry
	turn, way int // as vectorTerm's
	r         plane.Vec[float64]
}

// take copies equations whose coordinates are set.
func (s *loopSolver) take(e *continuation) {
	n := e.v.unknowns
	s.n, s.width, s.slides = n, n+2, e.v.slides
	s.still, s.unit = plane.Resize(s.still, n), plane.Resize(s.unit, n)
	s.cos, s.sin = plane.Resize(s.cos, n), plane.Resize(s.sin, n)
	s.step, s.rate, s.rows = plane.Resize(s.step, n), plane.Resize(s.rate, n), plane.Resize(s.rows, n*(n+2))
	clear(s.still)
	s.pins, s.ways, s.axle = s.pins[:0], s.ways[:0], s.axle[:0]
	add := func(sum span, row int) {
		for i := sum.from; i < sum.to; i++ {
			t, r := &e.v.terms[i], e.vector[i]
			v := loopVector{row * s.width, t.turn, t.way, r}
			switch {
			case row == n-1 && (t.turn >= 0 || t.way >= 0):
				s.axle = append(s.axle, v)
			case t.way >= 0:
				s.ways = append(s.ways, v)
			case t.turn >= 0:
				s.pins = append(s.pins, v)
			default:
				if s.still[row] -= r.Along; row < n-1 {
					s.still[row+1] -= r.Ahead
				}
			}
		}
	}
	for k, sum := range e.v.loops {
		add(sum, 2*k)
	}
	add(e.v.axle, n-1)
	s.still[n-1] += e.axleTop
	for i := range n {
		s.cos[i], s.sin[i], s.unit[i] = 1, 0, e.unit(i)
	}
}

// correct finds Newton's correction and the rates at a position: turns, in radians, and ways, in mm. It is false where the
// equations do not determine them.
func (s *loopSolver) correct(at []float64, travel float64) bool {
	n, w := s.n, s.width
	for i, x := range at {
		if !s.slides[i] {
			s.sin[i], s.cos[i] = math.Sincos(x)
		}
	}
	rows := s.rows
	clear(rows)
	for i, x := range s.still {
		rows[i*w+n] = x
	}
	rows[n*w-2] -= travel
	rows[n*w-1] = -1
	for i := range s.pins {
		p := &s.pins[i]
		c, sn := s.cos[p.turn], s.sin[p.turn]
		x, y := c*p.r.Along-sn*p.r.Ahead, sn*p.r.Along+c*p.r.Ahead
		along, ahead := rows[p.at:p.at+w], rows[p.at+w:p.at+2*w]
		along[p.turn] -= y
		ahead[p.turn] += x
		along[n] -= x
		ahead[n] -= y
	}
	for i := range s.ways {
		p := &s.ways[i]
		along, ahead := rows[p.at:p.at+w], rows[p.at+w:p.at+2*w]
		r := s.turned(p)
		along[p.way] += r.Along
		ahead[p.way] += r.Ahead
		r = r.Times(at[p.way])
		along[n] -= r.Along
		ahead[n] -= r.Ahead
		if p.turn >= 0 {
			along[p.turn] -= r.Ahead
			ahead[p.turn] += r.Along
		}
	}
	row := rows[(n-1)*w:]
	for i := range s.axle {
		p := &s.axle[i]
		r := s.turned(p)
		if p.way >= 0 {
			row[p.way] += r.Along
			r = r.Times(at[p.way])
		}
		if row[n] -= r.Along; p.turn >= 0 {
			row[p.turn] -= r.Ahead
		}
	}
	return s.eliminate()
}

// turned is a vector as it stands.
func (s *loopSolver) turned(p *loopVector) plane.Vec[float64] {
	if p.turn < 0 {
		return p.r
	}
	c, sn := s.cos[p.turn], s.sin[p.turn]
	return plane.Vec[float64]{Along: c*p.r.Along - sn*p.r.Ahead, Ahead: sn*p.r.Along + c*p.r.Ahead}
}

// eliminate solves for both right-hand sides, with partial pivoting. Most entries of a column are zero: an unknown is in one or
// two loops.
func (s *loopSolver) eliminate() bool {
	n, w, rows := s.n, s.width, s.rows
	for c := range n {
		best, size := c, math.Abs(rows[c*w+c])
		for r := c + 1; r < n; r++ {
			if x := math.Abs(rows[r*w+c]); x > size {
				best, size = r, x
			}
		}
		top := rows[c*w+c : c*w+w]
		if best != c {
			other := rows[best*w+c : best*w+w][:len(top)]
			for k, x := range top {
				top[k], other[k] = other[k], x
			}
		}
		if !(size > 0) || math.IsInf(size, 0) {
			return false
		}
		inverse := 1 / top[0]
		top[0] = inverse
		top = top[1:]
		for r := c + 1; r < n; r++ {
			row := rows[r*w+c : r*w+w]
			f := row[0]
			if f == 0 {
				continue
			}
			f *= inverse
			row = row[1:][:len(top)]
			for k, x := range top {
				row[k] -= f * x
			}
		}
	}
	step, rate := s.step, s.rate
	for r := n - 1; r >= 0; r-- {
		row := rows[r*w : r*w+w]
		x, y := row[n], row[n+1]
		for k := r + 1; k < n; k++ {
			x -= row[k] * step[k]
			y -= row[k] * rate[k]
		}
		step[r], rate[r] = x*row[r], y*row[r]
	}
	return true
}

// settle does Newton's iteration from a position that it moves; cos, sin and rate are then the solution's.
func (s *loopSolver) settle(at []float64, travel float64) bool {
	for range corrections {
		if !s.correct(at, travel) {
			return false
		}
		worst := 0.0
		for i, x := range s.step {
			at[i] += x
			if x = math.Abs(x * s.unit[i]); !(x <= worst) {
				worst = x
			}
		}
		if !(worst <= 1) {
			return false
		}
		if worst < sameFactors {
			for i, x := range s.step {
				if !s.slides[i] {
					s.cos[i], s.sin[i] = s.cos[i]-s.sin[i]*x, s.sin[i]+s.cos[i]*x
				}
			}
			return true
		}
	}
	return false
}
