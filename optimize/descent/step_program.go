package descent

import (
	"math"

	"forkfront/optimize/matrix"
	"forkfront/optimize/population"
)

const (
	stretches        = 6    // times that t is adapted
	edgeMargin       = 1e-6 // by which a step stays inside, since the program is not solved any closer
	correctionMargin = 0.1  // of a violation, by which its correction goes further
)

// stepProgram is the quadratic program of one step d in the scaled variables:
//
//	least grad·d + |d|²/2t  with  c + A d ≤ 0,  |d| ≤ trust and u + d within 0..1
//
// where t takes the steepest variable to the trust region's edge, or, where constraints cancel most of the gradient, what
// is left of it. Its dual is solved one multiplier at a time, not to the end where that is slow: a step that leaves the
// constraints is noticed, and shortened.
type stepProgram struct {
	run        *Run
	free       []int
	grad, u, d []float64
	a          [][]float64 // one row per constraint
	values, c  []float64   // of the constraints at the point; of the linearised ones at d = 0
	near       []int       // constraints that a step within the trust region can meet
	multiplier []float64
	pull       []float64 // grad + Σ multiplier · a
	low, high  []float64 // bounds of d within the trust region
	trust, t   float64
}

func newStepProgram(r *Run) *stepProgram {
	n := len(r.Space.Variables)
	return &stepProgram{
		run: r, free: r.Space.Continuous(), grad: make([]float64, n), d: make([]float64, n), pull: make([]float64, n),
		low: make([]float64, n), high: make([]float64, n),
		a: matrix.Zeros(r.Constraints, n), c: make([]float64, r.Constraints), values: make([]float64, r.Constraints),
		multiplier: make([]float64, r.Constraints),
	}
}

// linearise takes the constraints' values and derivatives at a member, those of the run's last slope; false where a
// derivative is not a number.
func (q *stepProgram) linearise(m *population.Member) bool {
	q.u = m.U
	for i, g := range m.Outcome.G {
		q.values[i] = g
		for _, j := range q.free {
			q.a[i][j] = q.run.scaledSlope(i, j)
			if math.IsNaN(q.a[i][j]) || math.IsInf(q.a[i][j], 0) {
				return false
			}
		}
	}
	clear(q.multiplier)
	return true
}

// reset undoes a correction.
func (q *stepProgram) reset() {
	for i, g := range q.values {
		q.c[i] = g + edgeMargin
	}
}

// correct moves the linearised constraints so that they agree with the values found at the last step, a second-order
// correction without another derivative; false where a value is not finite.
func (q *stepProgram) correct(n *population.Member) bool {
	for i, g := range n.Outcome.G {
		if math.IsInf(g, 0) {
			return false
		}
		along := 0.0
		for _, j := range q.free {
			along += q.a[i][j] * q.d[j]
		}
		q.c[i] = g - along + correctionMargin*max(g, 0) + edgeMargin
	}
	return true
}

// solve finds the step within a trust region.
func (q *stepProgram) solve(trust float64) {
	steepest := 0.0
	for _, j := range q.free {
		if v := math.Abs(q.grad[j]); v > steepest && !q.held(j, q.grad[j]) {
			steepest = v
		}
	}
	q.trust, q.t = trust, 0
	if steepest > 0 {
		q.t = trust / steepest
	}
	for j, u := range q.u {
		q.low[j], q.high[j] = max(-trust, -u), min(trust, 1-u)
	}
	q.near = q.near[:0]
	for i, row := range q.a {
		reach := 0.0
		for _, j := range q.free {
			reach += math.Abs(row[j])
		}
		if q.c[i]+trust*reach > 0 {
			q.near = append(q.near, i)
		} else {
			q.multiplier[i] = 0
		}
	}
	for range stretches {
		q.ascend()
		longest := 0.0
		for _, j := range q.free {
			longest = max(longest, math.Abs(q.d[j]))
		}
		if longest == 0 || longest > trust/2 {
			return
		}
		q.t *= trust / longest
	}
}

// ascend solves the dual for the present t.
func (q *stepProgram) ascend() {
	copy(q.pull, q.grad)
	for i, l := range q.multiplier {
		q.add(i, l)
	}
	q.place()
	const sweeps = 30
	for range sweeps {
		changed := 0.0
		for _, i := range q.near {
			changed = max(changed, q.balance(i))
		}
		if changed < 1e-6 {
			break
		}
	}
}

// held tells whether a variable is at a bound and pushed against it.
func (q *stepProgram) held(j int, slope float64) bool {
	return q.u[j] <= 0 && slope > 0 || q.u[j] >= 1 && slope < 0
}

func (q *stepProgram) add(i int, l float64) {
	for _, j := range q.free {
		q.pull[j] += l * q.a[i][j]
	}
}

// place sets the step that belongs to the multipliers.
func (q *stepProgram) place() {
	for _, j := range q.free {
		q.d[j] = q.within(j, -q.t*q.pull[j])
	}
}

// residual is a linearised constraint's value at the step, were its multiplier greater by more.
func (q *stepProgram) residual(i int, more float64) float64 {
	sum := q.c[i]
	for _, j := range q.free {
		sum += q.a[i][j] * q.within(j, -q.t*(q.pull[j]+more*q.a[i][j]))
	}
	return sum
}

// within is a part of the step, or the bound that it would pass. Comparisons take a part of the time of min and max.
func (q *stepProgram) within(j int, d float64) float64 {
	if d < q.low[j] {
		return q.low[j]
	}
	if d > q.high[j] {
		return q.high[j]
	}
	return d
}

// balance moves one multiplier to where its constraint just holds, or to 0, and returns the change of the pull.
func (q *stepProgram) balance(i int) float64 {
	norm := 0.0
	for _, j := range q.free {
		norm = max(norm, math.Abs(q.a[i][j]))
	}
	if norm == 0 || q.t == 0 {
		return 0
	}
	low, high := -q.multiplier[i], 0.0
	if q.residual(i, 0) > 0 {
		low, high = 0, q.trust/(q.t*norm)
		for range 40 {
			if q.residual(i, high) <= 0 {
				break
			}
			low, high = high, 2*high
		}
	} else if q.multiplier[i] == 0 {
		return 0
	} else if q.residual(i, low) <= 0 {
		high = low
	}
	for range 30 {
		if high-low <= 1e-9*(math.Abs(high)+math.Abs(low)) {
			break
		}
		if middle := (low + high) / 2; q.residual(i, middle) > 0 {
			low = middle
		} else {
			high = middle
		}
	}
	q.multiplier[i] += high
	q.add(i, high)
	q.place()
	return math.Abs(high) * norm * q.t / q.trust
}

// small tells whether the step is too short to be worth an evaluation.
func (q *stepProgram) small() bool {
	for _, j := range q.free {
		if math.Abs(q.d[j]) > trustLeast {
			return false
		}
	}
	return true
}

// moved is where the step leads.
func (q *stepProgram) moved(m *population.Member) []float64 {
	u := append([]float64(nil), m.U...)
	for _, j := range q.free {
		u[j] = min(max(u[j]+q.d[j], 0), 1)
	}
	return u
}
