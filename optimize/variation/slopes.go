package variation

import (
	"math"
	"slices"

	"forkfront/optimize/matrix"
	"forkfront/optimize/population"
	"forkfront/optimize/problem"
	"forkfront/optimize/spacing"
)

// slopes are the derivatives of objectives and constraints at a member, estimated from members that are known already: a
// linear function of each through the member, fitted to its nearest ones. They cost no evaluation (gradient subspace
// approximation: Schütze, Alvarado, Segura and Landa, Soft Computing 21 (2017) 6349; recalled). Its memory is kept from
// one fit to the next.
type slopes struct {
	free   []int       // the continuous variables
	of     [][]float64 // one row per objective and constraint, one column per continuous variable; 0 where unknown
	spread []float64   // of each row the largest difference among the members used; 0 where unknown
	reach  float64     // distance of the middle one of the members used

	all    []float64 // squared distances of all members known
	near   []int     // those used, among them
	gaps   []float64 // their squared distances
	normal [][]float64
	rows   []int       // those that are asked for
	right  [][]float64 // right-hand sides: one row per continuous variable, one column per row asked for
	change []float64   // scratch, as long as rows
	step   []float64
}

// crowd is the members that slopes are fitted to. Their variables lie side by side, since a fit looks at all of them.
type crowd struct {
	members []*population.Member
	u       []float64
}

func (c *crowd) fill(lists ...[]*population.Member) {
	c.members, c.u = c.members[:0], c.u[:0]
	for _, list := range lists {
		for _, m := range list {
			c.members, c.u = append(c.members, m), append(c.u, m.U...)
		}
	}
}

const (
	slopesNear  = 2    // members used, as a multiple of the variables
	slopesRidge = 1e-8 // of the unit weight of one member: a direction in which there is none gets no slope
)

// value is one of the objectives, or of the constraints behind them.
func value(m *population.Member, row int) float64 {
	if row < len(m.Outcome.F) {
		return m.Outcome.F[row]
	}
	return m.Outcome.G[row-len(m.Outcome.F)]
}

// fit prepares the slopes at a member; false where there is too little to tell.
func (s *slopes) fit(space *problem.Space, at *population.Member, known *crowd) bool {
	s.prepare(space, at)
	n := len(s.free)
	if n == 0 || n > axesMost {
		return false
	}
	if s.seek(at, known, slopesNear*n+1); len(s.near) < 2 {
		return false
	}
	s.reach = math.Sqrt(s.gaps[len(s.gaps)/2])
	for k, m := range s.near {
		s.towards(known.members[m], at)
		weight := 1 / s.gaps[k]
		for i, a := range s.step {
			row, a := s.normal[i], weight*a
			for j, b := range s.step[:i+1] {
				row[j] += float64(a * b)
			}
		}
	}
	return s.factorise()
}

func (s *slopes) prepare(space *problem.Space, at *population.Member) {
	rows := len(at.Outcome.F) + len(at.Outcome.G)
	if s.free == nil {
		s.free = space.Continuous()
		n := len(s.free)
		s.of, s.spread, s.step, s.normal = matrix.Zeros(rows, n), make([]float64, rows), make([]float64, n), matrix.Zeros(n, n)
		s.right = make([][]float64, n)
	}
	for _, row := range s.normal {
		clear(row)
	}
}

// seek finds the members nearest to at, in the order of their distances, that have all values that at has. It works out all distances
// first: to leave one as soon as it is too large takes longer, since nobody foresees where.
func (s *slopes) seek(at *population.Member, known *crowd, count int) {
	const same = 1e-16
	s.all, s.near, s.gaps = s.all[:0], s.near[:0], s.gaps[:0]
	for u := known.u; len(u) > 0; u = u[len(at.U):] {
		s.all = append(s.all, spacing.Distance2(u[:len(at.U)], at.U))
	}
	most := math.Inf(1)
	for k, gap := range s.all {
		if gap >= most || gap <= same {
			continue
		}
		if m := known.members[k]; !m.Whole && !s.comparable(m, at) {
			continue
		}
		if len(s.gaps) < count {
			s.near, s.gaps = append(s.near, 0), append(s.gaps, 0)
		}
		last := len(s.gaps) - 1
		place := last
		for ; place > 0 && s.gaps[place-1] > gap; place-- {
			s.gaps[place], s.near[place] = s.gaps[place-1], s.near[place-1]
		}
		s.gaps[place], s.near[place] = gap, k
		if len(s.gaps) == count {
			most = s.gaps[last]
		}
	}
}

// comparable reports whether m has all values that at has.
func (s *slopes) comparable(m, at *population.Member) bool {
	for row := range s.of {
		if !math.IsInf(value(at, row), 0) && math.IsInf(value(m, row), 0) {
			return false
		}
	}
	return true
}

// towards sets step to the way from at to a member.
func (s *slopes) towards(m, at *population.Member) {
	for j, v := range s.free {
		s.step[j] = m.U[v] - at.U[v]
	}
}

// solve works out the slopes of the rows from one on at the member that fit has prepared. A row's slopes do not depend on which others are
// asked for. All of them go through each step together: one after the other, every step would wait for the one before.
func (s *slopes) solve(at *population.Member, known *crowd, first int) {
	clear(s.spread)
	for _, row := range s.of {
		clear(row)
	}
	s.rows = s.rows[:0]
	for row := first; row < len(s.of); row++ {
		if !math.IsInf(value(at, row), 0) {
			s.rows = append(s.rows, row)
		}
	}
	s.change = slices.Grow(s.change[:0], len(s.rows))[:len(s.rows)]
	for j := range s.right {
		s.right[j] = slices.Grow(s.right[j][:0], len(s.rows))[:len(s.rows)]
		clear(s.right[j])
	}
	for k, i := range s.near {
		s.accumulate(known.members[i], at, 1/s.gaps[k])
	}
	s.substitute()
	for r, row := range s.rows {
		for j := range s.right {
			s.of[row][j] = s.right[j][r]
		}
	}
}

// accumulate adds one member to the right-hand sides, weighted by the inverse square of its distance.
func (s *slopes) accumulate(m, at *population.Member, weight float64) {
	s.towards(m, at)
	for r, row := range s.rows {
		d := value(m, row) - value(at, row)
		s.spread[row] = max(s.spread[row], math.Abs(d))
		s.change[r] = weight * d
	}
	for j, a := range s.step {
		right := s.right[j][:len(s.change)]
		for r, d := range s.change {
			right[r] += float64(d * a)
		}
	}
}

// factorise is Cholesky's decomposition of the normal equations, in place.
func (s *slopes) factorise() bool {
	for i, row := range s.normal {
		row[i] += slopesRidge
		for j := range i + 1 {
			sum := row[j]
			for k := range j {
				sum -= row[k] * s.normal[j][k]
			}
			if j < i {
				row[j] = sum / s.normal[j][j]
				continue
			}
			if !(sum > 0) {
				return false
			}
			row[i] = math.Sqrt(sum)
		}
	}
	return true
}

// substitute solves the factorised equations for all right-hand sides, in place.
func (s *slopes) substitute() {
	for i, row := range s.normal {
		x := s.right[i]
		for j := range i {
			subtract(x, s.right[j], row[j])
		}
		for r := range x {
			x[r] /= row[i]
		}
	}
	for i := len(s.right) - 1; i >= 0; i-- {
		x := s.right[i]
		for j := i + 1; j < len(s.right); j++ {
			subtract(x, s.right[j], s.normal[j][i])
		}
		for r := range x {
			x[r] /= s.normal[i][i]
		}
	}
}

// subtract takes a multiple of y from x.
func subtract(x, y []float64, factor float64) {
	y = y[:len(x)]
	for r, v := range y {
		x[r] -= float64(factor * v)
	}
}
