package jobs

import (
	"math"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
)

// planar is a mechanism as its file states it, solved without anything of the program: each body
// that moves has three unknowns, where a point that was at p is at turned(p) + shift, and each
// joint two equations.
type planar struct {
	spec  *scheme.MechanismSpec
	at    map[string]kinematics.Point
	slot  map[string]int // first unknown of a body; the ground has none
	x     []float64      // shift along, shift ahead, turn
	rows  [][]float64    // Jacobian, and the residual at the end
	speed []float64      // unknowns per mm of travel
}

func newPlanar(spec *scheme.MechanismSpec, at map[string]kinematics.Point) *planar {
	p := &planar{spec: spec, at: at, slot: map[string]int{}}
	for _, b := range spec.Bodies {
		if b != spec.Ground {
			p.slot[b] = 3 * len(p.slot)
		}
	}
	p.x = make([]float64, 3*len(p.slot))
	return p
}

// place is where a body has a point, and its derivatives by shift and turn.
func (p *planar) place(body, point string) (along, ahead float64, turn [2]float64) {
	q := p.at[point]
	s, ok := p.slot[body]
	if !ok {
		return q.Along, q.Ahead, [2]float64{}
	}
	sin, cos := math.Sincos(p.x[s+2])
	a, b := cos*q.Along-sin*q.Ahead, sin*q.Along+cos*q.Ahead
	return a + p.x[s], b + p.x[s+1], [2]float64{-b, a}
}

// row adds an equation.
func (p *planar) row(residual float64, by map[int]float64) {
	row := make([]float64, len(p.x)+1)
	for i, d := range by {
		row[i] += d
	}
	row[len(p.x)] = residual
	p.rows = append(p.rows, row)
}

// point adds to by how a body's point moves along (nAlong, nAhead).
func (p *planar) point(by map[int]float64, body, point string, nAlong, nAhead float64) {
	if s, ok := p.slot[body]; ok {
		_, _, turn := p.place(body, point)
		by[s] += nAlong
		by[s+1] += nAhead
		by[s+2] += nAlong*turn[0] + nAhead*turn[1]
	}
}

func (p *planar) pins() {
	for _, pin := range p.spec.Pivots {
		first := pin.Bodies[0]
		for _, other := range pin.Bodies[1:] {
			a, b, _ := p.place(first, pin.Name)
			c, d, _ := p.place(other, pin.Name)
			for _, axis := range [][3]float64{{1, 0, a - c}, {0, 1, b - d}} {
				by := map[int]float64{}
				p.point(by, first, pin.Name, axis[0], axis[1])
				p.point(by, other, pin.Name, -axis[0], -axis[1])
				p.row(axis[2], by)
			}
		}
	}
}

// slides: both turn alike, and what lay on the guide's line at its first point stays on the line.
func (p *planar) slides() {
	turn := func(body string) float64 {
		if s, ok := p.slot[body]; ok {
			return p.x[s+2]
		}
		return 0
	}
	for _, sl := range p.spec.Slides {
		guide, shoe := sl.Bodies[0], sl.Bodies[1]
		by := map[int]float64{}
		if s, ok := p.slot[guide]; ok {
			by[s+2]--
		}
		if s, ok := p.slot[shoe]; ok {
			by[s+2]++
		}
		p.row(turn(shoe)-turn(guide), by)
		a, b := p.at[sl.Through[0]], p.at[sl.Through[1]]
		length := math.Hypot(b.Along-a.Along, b.Ahead-a.Ahead)
		sin, cos := math.Sincos(turn(guide))
		n, m := -(b.Ahead-a.Ahead)/length, (b.Along-a.Along)/length // across the line
		nAlong, nAhead := cos*n-sin*m, sin*n+cos*m
		u, v, _ := p.place(shoe, sl.Through[0])
		w, z, _ := p.place(guide, sl.Through[0])
		by = map[int]float64{}
		p.point(by, shoe, sl.Through[0], nAlong, nAhead)
		p.point(by, guide, sl.Through[0], -nAlong, -nAhead)
		if s, ok := p.slot[guide]; ok { // the normal turns with the guide
			by[s+2] += -nAhead*(u-w) + nAlong*(v-z)
		}
		p.row(nAlong*(u-w)+nAhead*(v-z), by)
	}
}

// solve brings the axle to a travel from where the bodies are, and finds their speeds.
func (p *planar) solve(t *testing.T, travel float64) {
	t.Helper()
	want := p.at[scheme.PointAxle].Along - travel
	for range 40 {
		p.rows = p.rows[:0]
		p.pins()
		p.slides()
		along, _, _ := p.place(p.spec.Axle, scheme.PointAxle)
		by := map[int]float64{}
		p.point(by, p.spec.Axle, scheme.PointAxle, 1, 0)
		p.row(along-want, by)
		worst := 0.0
		for _, row := range p.rows {
			worst = math.Max(worst, math.Abs(row[len(p.x)]))
		}
		if worst < 1e-11 {
			for i, row := range p.rows {
				row[len(p.x)] = 0
				if i == len(p.rows)-1 {
					row[len(p.x)] = -1 // the axle goes back along the axis by 1 per mm of travel
				}
			}
			p.speed = gauss(t, p.rows)
			return
		}
		for i, d := range gauss(t, p.rows) {
			p.x[i] -= d
		}
	}
	t.Fatalf("%s: Newton on all joints does not converge at %g mm", p.spec.Name, travel)
}

// gauss solves rows of coefficients with the right-hand side at their end.
func gauss(t *testing.T, rows [][]float64) []float64 {
	t.Helper()
	n := len(rows)
	for i := range n {
		best := i
		for r := i; r < n; r++ {
			if math.Abs(rows[r][i]) > math.Abs(rows[best][i]) {
				best = r
			}
		}
		rows[i], rows[best] = rows[best], rows[i]
		if math.Abs(rows[i][i]) < 1e-12 {
			t.Fatal("the equations of all joints are singular")
		}
		for r := range n {
			if f := rows[r][i] / rows[i][i]; r != i && f != 0 {
				for c := i; c <= n; c++ {
					rows[r][c] -= f * rows[i][c]
				}
			}
		}
	}
	x := make([]float64, n)
	for i := range x {
		x[i] = rows[i][n] / rows[i][i]
	}
	return x
}
