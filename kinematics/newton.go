package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
)

const (
	largestTurn = 0.3  // rad: a first correction beyond this may be on its way to another branch
	closedTurn  = 1e-8 // rad: after a correction below this, the next one is lost in rounding
	contraction = 0.5  // each correction has to be smaller than the one before by this
	maxClosings = 12
)

// close places a group whose known bodies have moved by a step of the drive since it was placed
// last. It is false where the group cannot close, where it comes to a position in which it is not
// held, and where the step is too large to tell the branch.
func (c *groupState[T]) close(l *linkage[T], g *mechanism.Group, by T) bool {
	switch g.Form {
	case mechanism.SlideOuter:
		return c.outer.close(l, g, c)
	case mechanism.SlideInner:
		return c.inner.close(l, g, c)
	}
	c.guess(l, g, by)
	last := math.Inf(1)
	for range maxClosings {
		if !c.factor(l, g) {
			return false
		}
		c.gaps(l, g, (*linkage[T]).at)
		c.a.Solve(c.x)
		size := c.correction(g)
		if !(size < contraction*last) && size > closedTurn || g.Form == mechanism.Iterated && size > largestTurn {
			return false
		}
		c.hang(l, g, c.x)
		if size < closedTurn || g.Form == mechanism.Linear {
			return c.onBranch()
		}
		last = size
	}
	return false
}

// onBranch tells whether the group is still on the branch of top-out: where two branches meet the
// determinant vanishes, and beyond it has the other sign.
func (c *groupState[T]) onBranch() bool {
	return plane.Real(c.sine) > leastSine && plane.Real(c.a.Det())*c.side > 0
}

// guess moves the group along its rates, and hangs it on the known bodies where they are now.
func (c *groupState[T]) guess(l *linkage[T], g *mechanism.Group, by T) {
	for i := range g.Links {
		b := &g.Links[i]
		p, r := &l.pose[b.Body], &l.rate[b.Body]
		p.At = p.At.Plus(r.At.Times(by))
		p.Rotate(r.Turn * by)
		if b.Slides() {
			guide := &l.pose[b.Parent]
			off := p.At.Minus(guide.At).Minus(guide.Turned(c.base[i]))
			c.way[i] = off.Dot(guide.Turned(c.unit[i]))
		}
	}
	clear(c.x)
	c.hang(l, g, c.x)
}

// correction is the largest of the unknowns' steps, as an angle.
func (c *groupState[T]) correction(g *mechanism.Group) float64 {
	worst := 0.0
	for i := range g.Links {
		by := math.Abs(plane.Real(c.x[i]))
		if g.Links[i].Slides() {
			by /= c.size
		}
		if math.IsNaN(by) {
			return math.Inf(1)
		}
		worst = math.Max(worst, by)
	}
	return worst
}
