package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/stance"
)

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
	from    float64   // the travel of x0
	certain float64   // mm: travels no further than this from there are certain
	weight  []float64 // by unknown: what counts as a step of 1, at x0
	total   []float64 // by unknown: how far it has moved from x0
	sum     []float64 // by unknown: how far it has moved since stand
	passed  course
	curved  []float64 // by unknown and unknown: Γ F″, see certainty.go
	sums    []float64 // by unknown: Γ F″ for a step of the weights
	kept    []float64
	tired   bool // reach gave up after mostSteps
}

const (
	leastStep    = 1e-9  // mm of travel: a dead point is not much further than the steps are short
	mostSteps    = 50000 // between two samples: where two pivots of a link coincide to within rounding, no certain step is longer than some 1e-8 mm
	certainShare = 0.48  // of K η, at most ½
	corrections  = 12
	settled      = 1e-8  // of a step: the correction after it is lost in rounding
	sameFactors  = 1e-10 // of a step: the equations factored before it serve after it, and rates by them are off by that share
	negligibleMM = 1e-11 // a correction that no longer counts, as travel
)

// begin stands at top-out. It is false where the mechanism cannot move from there.
func (c *continuation) begin(m *mechanism.Mechanism, layout []Vec[float64]) bool {
	c.travel = 0
	if !c.set(m, layout) {
		return false
	}
	c.memory()
	if !c.stand() {
		return false
	}
	c.certify()
	return c.certain >= leastStep
}

func (c *continuation) memory() {
	n := c.v.unknowns
	if len(c.weight) != n {
		c.weight, c.total, c.sum = make([]float64, n), make([]float64, n), make([]float64, n)
		c.curved, c.sums, c.kept = make([]float64, n*n), make([]float64, n), make([]float64, 5*n)
	}
}

// resume stands at a solved state.
func (c *continuation) resume(s *stance.State[float64]) bool {
	c.recall(s.Pose)
	c.travel = s.TravelMM
	return c.stand()
}

// stand begins at a new position, of which nothing is known yet.
func (c *continuation) stand() bool {
	c.from, c.certain = c.travel, -1
	if !c.factor() {
		return false
	}
	c.rates()
	clear(c.sum)
	c.passed.clear()
	c.passed.add(c.travel, c.sum, c.rate)
	return true
}

// reach goes to a travel, the equations factored where it stands and the rates known. It is false where
// the motion ends before, and then stands as near to the end as leastStep tells, or where it is tired: so
// close to dead points all along that it got no further in mostSteps.
func (c *continuation) reach(travel float64) bool {
	c.tired = false
	for steps := 0; c.travel != travel; steps++ {
		if c.tired = steps == mostSteps; c.tired {
			return false
		}
		left := travel - c.travel
		if math.Abs(travel-c.from) <= c.certain && c.step(left, travel) {
			return true
		}
		c.certify()
		if c.certain < leastStep && c.certain < math.Abs(left) {
			return false
		}
		step := math.Min(c.certain, math.Abs(left))
		for !c.step(math.Copysign(step, left), travel) {
			if step /= 2; step < leastStep {
				return false
			}
		}
	}
	return true
}

// certify takes the position for x0.
func (c *continuation) certify() {
	c.from = c.travel
	clear(c.total)
	c.certain = c.longest()
}

// step advances by a step of travel, factors the equations there and finds the rates; it is false, and stands
// as before, where the solution found is not certainly that of the path.
func (c *continuation) step(by, goal float64) bool {
	n := c.v.unknowns
	travel := c.travel + by
	if math.Abs(goal-travel) < leastStep/2 {
		travel = goal
	}
	kept := c.kept
	copy(kept, c.cos)
	copy(kept[n:], c.sin)
	copy(kept[2*n:], c.way)
	copy(kept[3*n:], c.total)
	copy(kept[4*n:], c.sum)
	c.passed.predict(c.x, travel)
	for i, at := range c.x {
		c.x[i] = at - c.sum[i]
		c.total[i] += c.x[i]
		c.sum[i] = at
	}
	c.move(c.x)
	if c.settle(travel) && c.near() {
		c.travel = travel
		c.rates()
		c.passed.add(travel, c.sum, c.rate)
		return true
	}
	copy(c.cos, kept[:n])
	copy(c.sin, kept[n:])
	copy(c.way, kept[2*n:])
	copy(c.total, kept[3*n:])
	copy(c.sum, kept[4*n:])
	c.turnTerms()
	c.factor()
	return false
}

// settle does Newton's iteration at a travel and leaves the equations factored. A correction of s, in steps of
// the unknowns' weights, is followed by none of more than K s².
func (c *continuation) settle(travel float64) bool {
	for range corrections {
		if !c.factor() {
			return false
		}
		c.correct(travel)
		worst, steps := 0.0, 0.0
		for i, x := range c.x {
			c.total[i] += x
			c.sum[i] += x
			x = math.Abs(x)
			steps = math.Max(steps, x/c.weight[i])
			if c.v.slides[i] {
				x /= c.size
			}
			if !(x <= 1) {
				return false
			}
			worst = math.Max(worst, x)
		}
		if worst < sameFactors {
			return true
		}
		if worst < settled || steps*steps*certainShare < negligibleMM*c.certain {
			return c.factor()
		}
	}
	return false
}

// near tells whether the position is where the solution is the only one: no further from x0 than twice the
// longest certain step moves it.
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
