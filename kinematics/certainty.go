package kinematics

import "math"

// How far a step is certain: a bound of K = |Γ F″| about a position.
//
// A vector that turns by an unknown τ is −1 times its own second derivative by τ, and all vectors that turn by τ turn
// together. So with R the sum of theirs in each equation, J for a quarter turn and δ for how far τ has turned since,
//
//	Γ ∂²F/∂τ² = −cos δ Γ R − sin δ Γ J R
//
// in which J R is the column of τ in the derivatives that Γ is the inverse of, and Γ J R therefore 1 for τ itself and 0 for all
// others. A way s along a direction that turns by τ adds 2 ∂²F/∂τ∂s, by the same rule from J Q, with Q the column of s.

const (
	weighings  = 2    // of the unknowns
	fallow     = 0.5  // an unknown is measured by what it would come to move with this part of the largest curvature
	leastShare = 1e-3 // of the fastest unknown: none is measured by less
)

// longest is the longest certain step of travel from where the equations are factored.
func (c *continuation) longest() float64 {
	fastest := 0.0
	for i, r := range c.rate {
		fastest = math.Max(fastest, math.Abs(r*c.unit(i)))
	}
	if !(fastest > 0) || math.IsInf(fastest, 0) {
		return 0
	}
	n := c.v.unknowns
	for k := range n {
		column := c.curved[k*n : (k+1)*n]
		c.curve(k, column)
		c.lu.Solve(column)
	}
	bound := c.weigh(fastest)
	// The solution is within twice the step. Nothing has to go further than 1 rad, or the size along a slide.
	ball := 1 / fastest
	if bound*ball > 1 {
		ball = 1 / bound
	}
	// The first Newton step for a step of travel moves no unknown by more than its weight times it.
	bound = c.curvature(ball)
	switch {
	case bound*ball > 2*certainShare:
		return certainShare / bound
	case bound >= 0:
		return ball / 2
	}
	return 0 // no number: a singular position
}

// weigh chooses by how much of each unknown steps are measured: by how much it moves, and what moves little by how much it may
// come to. It gives the bound of the curvature at the position.
func (c *continuation) weigh(fastest float64) float64 {
	n := c.v.unknowns
	for i, r := range c.rate {
		c.weight[i] = math.Max(math.Abs(r), 0.1*fastest/c.unit(i))
	}
	bound := c.curvature(0)
	for range weighings {
		if !(bound > 0) {
			break
		}
		before := c.kept[:n]
		copy(before, c.weight)
		for i, r := range c.rate {
			c.weight[i] = max(math.Abs(r), c.sums[i]/(fallow*bound), leastShare*fastest/c.unit(i))
		}
		now := c.curvature(0)
		if !(now < bound) {
			copy(c.weight, before)
			break
		}
		bound = now
	}
	return bound
}

// curve fills in the column R of an unknown that turns bodies, J Q of one that slides.
func (c *continuation) curve(unknown int, column []float64) {
	clear(column)
	for k, s := range c.v.loops {
		sum := c.curving(s, unknown)
		column[2*k], column[2*k+1] = sum.Along, sum.Ahead
	}
	column[len(column)-1] = c.curving(c.v.axle, unknown).Along
}

// curving is what a sum of vectors has of that column.
func (c *continuation) curving(s span, unknown int) Vec[float64] {
	var sum Vec[float64]
	for i := s.from; i < s.to; i++ {
		t := &c.v.terms[i]
		switch {
		case t.turn < 0:
		case t.way == unknown:
			sum = sum.Plus(c.now[i].Quarter())
		case t.turn == unknown && t.way >= 0:
			sum = sum.Plus(c.now[i].Times(c.way[t.way]))
		case t.turn == unknown:
			sum = sum.Plus(c.now[i])
		}
	}
	return sum
}

// curvature is the bound of K within a number of steps of the weights.
func (c *continuation) curvature(ball float64) float64 {
	n, w := c.v.unknowns, c.weight
	clear(c.sums)
	for k := range n {
		column, guide := c.curved[k*n:(k+1)*n], c.v.guide[k]
		if !c.v.slides[k] {
			square := w[k] * w[k]
			for i, x := range column {
				c.sums[i] += math.Abs(x) * square
			}
			c.sums[k] += ball * w[k] * square
			continue
		}
		if guide < 0 {
			continue
		}
		square, both, turn, way := w[guide]*w[guide], 2*w[guide]*w[k], ball*w[guide], ball*w[k]
		for i, x := range column {
			c.sums[i] += math.Abs(x) * (both + way*turn*square)
		}
		c.sums[k] += turn*both + way*square
	}
	most := 0.0
	for i, sum := range c.sums {
		if bound := sum / w[i]; !(bound <= most) {
			if most = bound; math.IsNaN(most) {
				return most
			}
		}
	}
	return most
}
