package kinematics

import "forkfront/kinematics/plane"

// dual is a number with its derivative by the travel.
type dual struct{ x, dx float64 }

func (a dual) plus(b dual) dual  { return dual{a.x + b.x, a.dx + b.dx} }
func (a dual) minus(b dual) dual { return dual{a.x - b.x, a.dx - b.dx} }
func (a dual) times(b dual) dual { return dual{a.x * b.x, a.x*b.dx + a.dx*b.x} }

func (a dual) inverse() dual {
	x := 1 / a.x
	return dual{x, -a.dx * x * x}
}

// arrow is a position, direction or force with its derivative by the travel.
type arrow struct{ along, ahead dual }

func (a arrow) plus(b arrow) arrow { return arrow{a.along.plus(b.along), a.ahead.plus(b.ahead)} }

func (a arrow) minus(b arrow) arrow { return arrow{a.along.minus(b.along), a.ahead.minus(b.ahead)} }

func (a arrow) times(k dual) arrow { return arrow{a.along.times(k), a.ahead.times(k)} }

func (a arrow) cross(b arrow) dual { return a.along.times(b.ahead).minus(a.ahead.times(b.along)) }

// value is an arrow without its derivative.
func (a arrow) value() plane.Vec[float64] {
	return plane.Vec[float64]{Along: a.along.x, Ahead: a.ahead.x}
}

// turning is how far a body has turned: turned takes an offset from top-out to now, back a force the
// other way.
type turning struct{ cos, sin dual }

func (t turning) turned(r plane.Vec[float64]) arrow {
	c, s := t.cos, t.sin
	return arrow{
		dual{c.x*r.Along - s.x*r.Ahead, c.dx*r.Along - s.dx*r.Ahead},
		dual{s.x*r.Along + c.x*r.Ahead, s.dx*r.Along + c.dx*r.Ahead},
	}
}

func (t turning) back(f arrow) arrow {
	return arrow{
		t.cos.times(f.along).plus(t.sin.times(f.ahead)),
		t.cos.times(f.ahead).minus(t.sin.times(f.along)),
	}
}

// minus is one turning less another; as a matrix, no turning itself.
func (t turning) minus(u turning) turning {
	return turning{t.cos.minus(u.cos), t.sin.minus(u.sin)}
}
