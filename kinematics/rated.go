package kinematics

import "forkfront/kinematics/plane"

// rated is a number with its derivative by the travel.
type rated struct{ x, dx float64 }

func (a rated) plus(b rated) rated  { return rated{a.x + b.x, a.dx + b.dx} }
func (a rated) minus(b rated) rated { return rated{a.x - b.x, a.dx - b.dx} }
func (a rated) times(b rated) rated { return rated{a.x * b.x, a.x*b.dx + a.dx*b.x} }

func (a rated) inverse() rated {
	x := 1 / a.x
	return rated{x, -a.dx * x * x}
}

// ratedVec is a position, direction or force with its derivative by the travel.
type ratedVec struct{ along, ahead rated }

func (a ratedVec) plus(b ratedVec) ratedVec {
	return ratedVec{a.along.plus(b.along), a.ahead.plus(b.ahead)}
}

func (a ratedVec) minus(b ratedVec) ratedVec {
	return ratedVec{a.along.minus(b.along), a.ahead.minus(b.ahead)}
}

func (a ratedVec) times(k rated) ratedVec { return ratedVec{a.along.times(k), a.ahead.times(k)} }

func (a ratedVec) cross(b ratedVec) rated {
	return a.along.times(b.ahead).minus(a.ahead.times(b.along))
}

func (a ratedVec) dot(b ratedVec) rated { return a.along.times(b.along).plus(a.ahead.times(b.ahead)) }

// value is an arrow without its derivative.
func (a ratedVec) value() plane.Vec[float64] {
	return plane.Vec[float64]{Along: a.along.x, Ahead: a.ahead.x}
}

// ratedTurn is how far a body has turned: turned takes an offset from top-out to now, back a force the
// other way.
type ratedTurn struct{ cos, sin rated }

func (t ratedTurn) turned(r plane.Vec[float64]) ratedVec {
	c, s := t.cos, t.sin
	return ratedVec{
		rated{c.x*r.Along - s.x*r.Ahead, c.dx*r.Along - s.dx*r.Ahead},
		rated{s.x*r.Along + c.x*r.Ahead, s.dx*r.Along + c.dx*r.Ahead},
	}
}

func (t ratedTurn) back(f ratedVec) ratedVec {
	return ratedVec{
		t.cos.times(f.along).plus(t.sin.times(f.ahead)),
		t.cos.times(f.ahead).minus(t.sin.times(f.along)),
	}
}

// minus is one turning less another; as a matrix, no turning itself.
func (t ratedTurn) minus(u ratedTurn) ratedTurn {
	return ratedTurn{t.cos.minus(u.cos), t.sin.minus(u.sin)}
}
