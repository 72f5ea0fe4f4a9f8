package kinematics

import "math"

// continuation follows the motion of a mechanism by its vector loops in steps of travel that are certain: none
// passes a dead point or another branch. It is one worker's memory.
//
// For the equations F(x) = 0 at a travel, x0 being where the mechanism stands, Γ the inverse of the
// derivatives there, K a bound of |Γ F″| about x0 and η = |Γ F(x0)| what the first Newton step takes at
// the new travel, K η ≤ ½ proves that there is exactly one solution within (1 + √(1 − 2Kη))/K of x0, and
// that the derivatives are regular up to it (Kantorovich's theorem; Ortega and Rheinboldt, Iterative
// Solution of Nonlinear Equations, 12.6.2; recalled). That holds for all travels between, so the solution
// found there lies on the path from x0, on which the axle has not turned back.
type continuation struct {
	loopEquations[float64]
	travel  float64
	certain float64   // mm: the longest certain step of travel
	weight  []float64 // by unknown: what counts as a step of 1
	inverse []float64
	kept    []float64
	total   []float64
}

const (
	leastStep    = 1e-7 // mm of travel: a dead point is some ten times as near as the steps are short
	certainShare = 0.48 // of K η, at most ½
	corrections  = 12
	settled      = 1e-8 // of a step: the correction after it is lost in rounding
)

// begin stands at top-out. It is false where the mechanism cannot move from there.
func (c *continuation) begin(m *Mechanism, layout []Vec[float64]) bool {
	c.travel = 0
	if m.loops == nil || !c.set(m, layout) {
		return false
	}
	c.memory()
	return c.factor() && c.longest() >= leastStep
}

func (c *continuation) memory() {
	n := c.v.unknowns
	if len(c.weight) != n {
		c.weight, c.inverse, c.kept, c.total = make([]float64, n), make([]float64, n*n), make([]float64, 3*n), make([]float64, n)
	}
}

// resume stands at a solved state.
func (c *continuation) resume(s *State[float64]) bool {
	c.recall(s.Pose)
	c.travel = s.TravelMM
	return c.factor()
}

// reach goes to a travel, the equations factored where it stands. It is false where the motion ends
// before, and then stands as near to the end as leastStep tells.
func (c *continuation) reach(travel float64) bool {
	for c.travel != travel {
		c.certain = c.longest()
		left := math.Abs(travel - c.travel)
		if c.certain < leastStep && c.certain < left {
			return false
		}
		step := math.Min(c.certain, left)
		for !c.step(math.Copysign(step, travel-c.travel), travel) {
			if step /= 2; step < leastStep {
				return false
			}
		}
	}
	return true
}

// longest is the longest certain step of travel from where the equations are factored.
func (c *continuation) longest() float64 {
	n := c.v.unknowns
	c.rates()
	fastest := 0.0
	for i, r := range c.rate {
		if c.v.slides[i] {
			r /= c.size
		}
		fastest = math.Max(fastest, math.Abs(r))
	}
	if !(fastest > 0) || math.IsInf(fastest, 0) {
		return 0
	}
	// What moves little may move little: steps are measured by how much each unknown moves.
	for i, r := range c.rate {
		least := 0.1 * fastest
		if c.v.slides[i] {
			least *= c.size
		}
		c.weight[i] = math.Max(math.Abs(r), least)
	}
	for k := range n {
		column := c.inverse[k*n : (k+1)*n]
		clear(column)
		column[k] = 1
		c.lu.Solve(column)
	}
	// Nothing goes further than 1 rad, or the size along a slide; the solution is within twice the step.
	ball := 1 / fastest
	bound := 0.0
	for i := range n {
		sum := 0.0
		for k, s := range c.v.loops {
			sum += math.Hypot(c.inverse[2*k*n+i], c.inverse[(2*k+1)*n+i]) * c.bent(s, ball)
		}
		sum += math.Abs(c.inverse[(n-1)*n+i]) * c.bent(c.v.axle, ball)
		bound = math.Max(bound, sum/c.weight[i])
	}
	// The first Newton step for a step of travel moves no unknown by more than its weight times it.
	if !(bound > 0) {
		return ball / 2
	}
	return math.Min(ball/2, certainShare/bound)
}

// bent is a bound of the second derivative of a sum, for steps of the unknowns by their weights, within
// a number of such steps.
func (c *continuation) bent(s span, ball float64) float64 {
	sum := 0.0
	for i := s.from; i < s.to; i++ {
		t := &c.v.terms[i]
		if t.turn < 0 {
			continue
		}
		w := c.weight[t.turn]
		length := 1.0
		if t.way < 0 {
			length = math.Hypot(c.vector[i].Along, c.vector[i].Ahead)
		} else {
			length = math.Abs(c.way[t.way]) + ball*c.weight[t.way]
			sum += 2 * w * c.weight[t.way]
		}
		sum += length * w * w
	}
	return sum
}

// step advances by a step of travel and factors the equations there; it is false, and stands as before,
// where the solution found is not certainly that of the path.
func (c *continuation) step(by, goal float64) bool {
	n := c.v.unknowns
	travel := c.travel + by
	if math.Abs(goal-travel) < leastStep/2 {
		travel = goal
	}
	by = travel - c.travel
	copy(c.kept, c.cos)
	copy(c.kept[n:], c.sin)
	copy(c.kept[2*n:], c.way)
	for i := range c.total {
		c.total[i] = by * c.rate[i]
		c.x[i] = c.total[i]
	}
	c.move(c.x)
	if c.settle(travel) && c.near() {
		c.travel = travel
		return true
	}
	copy(c.cos, c.kept[:n])
	copy(c.sin, c.kept[n:])
	copy(c.way, c.kept[2*n:])
	c.turnTerms()
	c.factor()
	c.rates()
	return false
}

// settle does Newton's iteration at a travel and leaves the equations factored.
func (c *continuation) settle(travel float64) bool {
	for range corrections {
		if !c.factor() {
			return false
		}
		c.correct(travel)
		worst := 0.0
		for i, x := range c.x {
			c.total[i] += x
			x = math.Abs(x)
			if c.v.slides[i] {
				x /= c.size
			}
			if !(x <= 1) {
				return false
			}
			worst = math.Max(worst, x)
		}
		if worst < settled {
			return c.factor()
		}
	}
	return false
}

// near tells whether the step taken ends where the solution is the only one: no further than twice the
// longest certain step, however short it was.
func (c *continuation) near() bool {
	for i, x := range c.total {
		if !(math.Abs(x) <= 2*c.certain*c.weight[i]) {
			return false
		}
	}
	return true
}

// end is the travel at which the motion ends, from where reach could not go further. Close to a dead point at
// t* the unknowns go by the root of t* − t, so t* − t is half of the ratio of their first derivative to their
// second.
func (c *continuation) end() float64 {
	c.rates()
	c.seconds()
	fastest := 0
	for i, r := range c.rate {
		if math.Abs(r*c.unit(i)) > math.Abs(c.rate[fastest]*c.unit(fastest)) {
			fastest = i
		}
	}
	left := c.rate[fastest] / (2 * c.second[fastest])
	if left > 0 && left < 1000*leastStep {
		return c.travel + left
	}
	return c.travel
}

// unit is by what a step of an unknown is multiplied to compare it with a turn.
func (c *continuation) unit(unknown int) float64 {
	if c.v.slides[unknown] {
		return 1 / c.size
	}
	return 1
}
