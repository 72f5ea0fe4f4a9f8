package mechanism

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"forkfront/kinematics/plane"
)

// velocities are those of all bodies, three unknowns each (along, ahead, turn about the frame's
// origin), in a layout whose coordinates have nothing in common: each joint gives two equations, the
// ground stands, and the body that the first joint holds to the ground is driven at a rate of 1.
func (m *Mechanism) velocities(joints []Joint) (*mat.VecDense, bool) {
	n := 3 * len(m.Bodies)
	if 2*len(joints)+4 != n {
		return nil, false
	}
	layout := m.generic()
	a, rates := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	row := 0
	for _, j := range joints {
		m.constrain(a, row, j, layout)
		row += 2
	}
	for i := range 3 {
		a.Set(row+i, 3*m.ground+i, 1)
	}
	m.drives(a, row+3, joints[0], layout)
	rates.SetVec(row+3, 1)
	var lu mat.LU
	lu.Factorize(a)
	if !(lu.Cond() < leastDetermined) {
		return nil, false
	}
	x := mat.NewVecDense(n, nil)
	return x, lu.SolveVecTo(x, false, rates) == nil
}

// leastDetermined is the condition beyond which equations hang on each other. Those of a layout whose
// coordinates have nothing in common are below 1e8, and those that hang on each other above 1e14.
const leastDetermined = 1e11

// constrain writes the two equations of a joint. Lengths are taken in units of the layout's size.
func (m *Mechanism) constrain(a *mat.Dense, row int, j Joint, layout []plane.Vec[float64]) {
	if !j.Slides() {
		p := layout[j.Point]
		for body, sign := range map[int]float64{j.A: 1, j.B: -1} {
			a.Set(row, 3*body, sign)
			a.Set(row, 3*body+2, -sign*p.Ahead)
			a.Set(row+1, 3*body+1, sign)
			a.Set(row+1, 3*body+2, sign*p.Along)
		}
		return
	}
	from, to := layout[j.Through[0]], layout[j.Through[1]]
	line := to.Minus(from)
	length := math.Hypot(line.Along, line.Ahead)
	square := line.Times(1 / length).Quarter()
	for body, sign := range map[int]float64{j.A: 1, j.B: -1} {
		a.Set(row, 3*body+2, sign) // neither turns against the other
		a.Set(row+1, 3*body, sign*square.Along)
		a.Set(row+1, 3*body+1, sign*square.Ahead)
		a.Set(row+1, 3*body+2, sign*from.Cross(square))
	}
}

// drives writes the equation of the driver: it turns, or slides along its line.
func (m *Mechanism) drives(a *mat.Dense, row int, j Joint, layout []plane.Vec[float64]) {
	body := j.A + j.B - m.ground
	if !j.Slides() {
		a.Set(row, 3*body+2, 1)
		return
	}
	line := layout[j.Through[1]].Minus(layout[j.Through[0]])
	line = line.Times(1 / math.Hypot(line.Along, line.Ahead))
	a.Set(row, 3*body, line.Along)
	a.Set(row, 3*body+1, line.Ahead)
}

// determined tells whether the driver holds all bodies somewhere: whether the equations are independent
// with coordinates that have nothing in common.
func (m *Mechanism) determined(joints []Joint) bool {
	_, ok := m.velocities(joints)
	return ok
}

// axleMoves tells whether the driver moves the axle, with coordinates that have nothing in common.
func (m *Mechanism) axleMoves(joints []Joint) bool {
	x, ok := m.velocities(joints)
	if !ok {
		return false
	}
	p := m.generic()[m.axle]
	turn := x.AtVec(3*m.wheel + 2)
	return math.Hypot(x.AtVec(3*m.wheel)-turn*p.Ahead, x.AtVec(3*m.wheel+1)+turn*p.Along) > 1e-6
}

// generic is a layout in which no two lines are parallel and no three points in line.
func (m *Mechanism) generic() []plane.Vec[float64] {
	layout := make([]plane.Vec[float64], len(m.Points))
	state := uint32(12345)
	next := func() float64 {
		state = state*1664525 + 1013904223 // a linear congruential generator (Numerical Recipes)
		return float64(state>>8) / (1 << 24)
	}
	for i := range layout {
		layout[i] = plane.Vec[float64]{Along: next(), Ahead: next()}
	}
	return layout
}
