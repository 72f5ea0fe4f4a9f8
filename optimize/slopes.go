package optimize

import "math"

// slopes are the derivatives of objectives and constraints at a member, estimated from members that are known already: a
// linear function of each through the member, fitted to its nearest ones. They cost no evaluation (gradient subspace
// approximation: Schütze, Alvarado, Segura and Landa, Soft Computing 21 (2017) 6349; recalled). Its memory is kept from
// one fit to the next.
type slopes struct {
	free   []int       // the continuous variables
	of     [][]float64 // one row per objective and constraint, one column per continuous variable; 0 where unknown
	spread []float64   // of each row the largest difference among the members used; 0 where unknown
	reach  float64     // distance of the middle one of the members used

	near   []*member
	gaps   []float64 // squared distances of near
	step   []float64
	normal [][]float64
}

const (
	slopesNear  = 2    // members used, as a multiple of the variables
	slopesRidge = 1e-8 // of the unit weight of one member: a direction in which there is none gets no slope
)

// value is one of the objectives, or of the constraints behind them.
func (m *member) value(row int) float64 {
	if row < len(m.outcome.F) {
		return m.outcome.F[row]
	}
	return m.outcome.G[row-len(m.outcome.F)]
}

func finite(v float64) bool { return !math.IsInf(v, 0) }

// fit estimates the slopes at a member; false where there is too little to tell.
func (s *slopes) fit(space *space, at *member, lists ...[]*member) bool {
	s.prepare(space, at)
	n := len(s.free)
	if n == 0 || n > axesMost {
		return false
	}
	count := slopesNear*n + 1
	s.near, s.gaps = s.near[:0], s.gaps[:0]
	for _, list := range lists {
		for _, m := range list {
			s.consider(m, at, count)
		}
	}
	if len(s.near) < 2 {
		return false
	}
	s.reach = math.Sqrt(s.gaps[len(s.gaps)/2])
	s.accumulate(at)
	if !s.factorise() {
		return false
	}
	for _, row := range s.of {
		s.substitute(row)
	}
	return true
}

func (s *slopes) prepare(space *space, at *member) {
	rows := len(at.outcome.F) + len(at.outcome.G)
	if s.free == nil {
		s.free = space.continuous()
		n := len(s.free)
		s.of, s.spread, s.step, s.normal = zeros(rows, n), make([]float64, rows), make([]float64, n), zeros(n, n)
	}
	clear(s.spread)
	for _, row := range s.of {
		clear(row)
	}
	for _, row := range s.normal {
		clear(row)
	}
}

// consider puts a member among the nearest ones so far, in the order of their distances, where it has all values that at
// has.
func (s *slopes) consider(m, at *member, count int) {
	const same = 1e-16
	most := math.Inf(1)
	if len(s.gaps) == count {
		most = s.gaps[count-1]
	}
	gap := 0.0
	for i, v := range m.u {
		d := v - at.u[i]
		if gap += d * d; gap >= most {
			return // most members are far away, as a few variables tell
		}
	}
	if gap <= same {
		return
	}
	for row := range s.of {
		if finite(at.value(row)) && !finite(m.value(row)) {
			return
		}
	}
	if len(s.gaps) < count {
		s.near, s.gaps = append(s.near, nil), append(s.gaps, 0)
	}
	i := len(s.gaps) - 1
	for ; i > 0 && s.gaps[i-1] > gap; i-- {
		s.gaps[i], s.near[i] = s.gaps[i-1], s.near[i-1]
	}
	s.gaps[i], s.near[i] = gap, m
}

// accumulate sums up the normal equations of the fit, each member weighted by the inverse square of its distance.
func (s *slopes) accumulate(at *member) {
	for k, m := range s.near {
		for j, v := range s.free {
			s.step[j] = m.u[v] - at.u[v]
		}
		weight := 1 / s.gaps[k]
		for i, a := range s.step {
			for j, b := range s.step[:i+1] {
				s.normal[i][j] += weight * a * b
			}
		}
		for row, sum := range s.of {
			if !finite(at.value(row)) {
				continue
			}
			d := m.value(row) - at.value(row)
			s.spread[row] = max(s.spread[row], math.Abs(d))
			for j, a := range s.step {
				sum[j] += weight * d * a
			}
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

// substitute solves the factorised equations for one right-hand side, in place.
func (s *slopes) substitute(x []float64) {
	for i, row := range s.normal {
		for j := range i {
			x[i] -= row[j] * x[j]
		}
		x[i] /= row[i]
	}
	for i := len(x) - 1; i >= 0; i-- {
		for j := i + 1; j < len(x); j++ {
			x[i] -= s.normal[j][i] * x[j]
		}
		x[i] /= s.normal[i][i]
	}
}
