package kinematics

import (
	"math"

	"forkfront/kinematics/plane"
)

// groupState is a group with coordinates, and one worker's memory of its equations. Position is the
// business of slide_dyad.go and newton.go; rates and accelerations are linear and the same for all.
type groupState[T plane.Scalar] struct {
	unit  []plane.Vec[T] // by tree link: direction of its slide at top-out
	base  []plane.Vec[T] // by tree link that slides: its anchor from the parent's, at top-out
	way   []T            // by tree link: along its slide
	turn  []T            // by tree link: how far it turns in the step at hand
	x     []T            // unknowns or right-hand sides
	a     plane.LU[T]
	sizes T       // see bodySizes
	size  float64 // largest arm, mm: by it ways are compared with turns
	side  float64 // sign of the determinant, or of the root, at top-out
	sine  T       // see measure
	outer sliderOuter[T]
	inner sliderInner[T]
}

// set takes the coordinates of a group; all bodies of the linkage stand at top-out.
func (c *groupState[T]) set(l *linkage[T], g *group) string {
	if reason := c.prepare(l, g); reason != "" {
		return reason
	}
	if !c.factor(l, g) || !(plane.Real(c.sine) > leastSine) {
		return "some links stand so at top-out that their motion is not determined"
	}
	c.side = math.Copysign(1, plane.Real(c.a.Det()))
	switch g.form {
	case slideOuter:
		c.outer.set(l, g, c.unit)
	case slideInner:
		c.inner.set(l, g, c.unit[1])
	}
	return ""
}

// prepare takes the coordinates of the equations only.
func (c *groupState[T]) prepare(l *linkage[T], g *group) string {
	n := len(g.links)
	c.unit, c.base = plane.Resize(c.unit, n), plane.Resize(c.base, n)
	c.way, c.turn, c.x = plane.Resize(c.way, n), plane.Resize(c.turn, n), plane.Resize(c.x, n)
	c.size = 1
	for i := range g.links {
		b := &g.links[i]
		if b.slides() {
			line := l.layout[b.through[1]].Minus(l.layout[b.through[0]])
			length := plane.Sqrt(line.Dot(line))
			if !(plane.Real(length) > 1e-6) {
				return "the two points of a slide coincide"
			}
			c.unit[i] = line.Times(plane.Inverse(length))
			c.base[i] = l.pose[b.body].At.Minus(l.pose[b.parent].At)
		}
		for k := range g.loops {
			arm := l.layout[g.loops[k].point].Minus(l.layout[b.anchor()])
			c.size = math.Max(c.size, math.Hypot(plane.Real(arm.Along), plane.Real(arm.Ahead)))
		}
	}
	if g.form == iterated {
		c.sizes = c.bodySizes(l, g)
	}
	return ""
}

// mode is the velocity of a point at P of what hangs on tree link i, per unit of its unknown.
func (c *groupState[T]) mode(l *linkage[T], g *group, i int, at plane.Vec[T]) plane.Vec[T] {
	b := &g.links[i]
	if b.slides() {
		return l.pose[b.parent].Turned(c.unit[i])
	}
	return at.Minus(l.at(bodyPoint{b.body, b.point})).Quarter()
}

// factor sets up how the gaps of the loops change with the unknowns, where the linkage stands, and
// factors it. It is false where that cannot be solved.
func (c *groupState[T]) factor(l *linkage[T], g *group) bool {
	c.a.Reset(len(g.links))
	for k := range g.loops {
		lp := &g.loops[k]
		at := l.at(bodyPoint{lp.a, lp.point})
		for i := lp.linkA; i >= 0; i = g.links[i].up {
			c.add(k, i, c.mode(l, g, i, at))
		}
		for i := lp.linkB; i >= 0; i = g.links[i].up {
			c.add(k, i, c.mode(l, g, i, at).Times(-1))
		}
	}
	spread := c.spread(len(g.links))
	if !c.a.Factor() {
		c.sine = 0
		return false
	}
	if g.form == iterated {
		spread = c.sizes * c.sizes
	}
	c.measure(spread, len(g.links)/2)
	return true
}

func (c *groupState[T]) add(loop, link int, v plane.Vec[T]) {
	*c.a.At(2*loop, link) += v.Along
	*c.a.At(2*loop+1, link) += v.Ahead
}

// spread is the product of the squared lengths of the matrix' columns.
func (c *groupState[T]) spread(n int) T {
	all := plane.Lift[T](1)
	for i := range n {
		var square T
		for r := range n {
			square += *c.a.At(r, i) * *c.a.At(r, i)
		}
		all *= square
	}
	return all
}

// measure rates how well the group is held: the volume that the columns of its equations span,
// over the product of their lengths, as a mean of pairs. For two pinned links it is the sine of
// the angle between them, for a slide that between the link and the slide's normal; 0 is a
// position in which the group is not held.
func (c *groupState[T]) measure(spread T, pairs int) {
	c.sine = 0
	if plane.Real(spread) > 0 {
		c.sine = plane.Abs(c.a.Det()) * plane.Inverse(plane.Sqrt(spread))
	}
	if pairs > 1 && plane.Real(c.sine) > 0 {
		c.sine = root(c.sine, pairs)
	}
	if plane.Real(c.sine) > 1 {
		c.sine = plane.Lift[T](1)
	}
}

// root is the nth root of x > 0.
func root[T plane.Scalar](x T, n int) T {
	value := math.Pow(plane.Real(x), 1/float64(n))
	slope := plane.Lift[T](value / (float64(n) * plane.Real(x)))
	return plane.Lift[T](value) + slope*(x-plane.Lift[T](plane.Real(x)))
}

// hang places all tree links from the known bodies on, moved by steps of the unknowns.
func (c *groupState[T]) hang(l *linkage[T], g *group, x []T) {
	for i := range g.links {
		b := &g.links[i]
		p, parent := &l.pose[b.body], &l.pose[b.parent]
		c.turn[i] = 0
		if b.up >= 0 {
			c.turn[i] = c.turn[b.up]
		}
		if b.slides() {
			c.way[i] += x[i]
			p.Cos, p.Sin = parent.Cos, parent.Sin
			p.At = parent.At.Plus(parent.Turned(c.base[i].Plus(c.unit[i].Times(c.way[i]))))
			continue
		}
		c.turn[i] += x[i]
		p.Rotate(c.turn[i])
		p.At = l.at(bodyPoint{b.parent, b.point})
	}
}

// gaps fills the unknowns with what is left open at the loops, the sign reversed: in positions, velocities or
// accelerations of points.
func (c *groupState[T]) gaps(l *linkage[T], g *group, of func(*linkage[T], bodyPoint) plane.Vec[T]) {
	for k := range g.loops {
		lp := &g.loops[k]
		gap := of(l, bodyPoint{lp.b, lp.point}).Minus(of(l, bodyPoint{lp.a, lp.point}))
		c.x[2*k], c.x[2*k+1] = gap.Along, gap.Ahead
	}
}

// rates finds the velocities of a group: those that its unknowns at rest give, and the rates of
// the unknowns that close the loops again.
func (c *groupState[T]) rates(l *linkage[T], g *group) {
	c.factor(l, g)
	clear(c.x)
	c.flow(l, g)
	c.gaps(l, g, (*linkage[T]).velocity)
	c.a.Solve(c.x)
	c.flow(l, g)
}

// flow gives the tree links their velocities for rates x of the unknowns.
func (c *groupState[T]) flow(l *linkage[T], g *group) {
	for i := range g.links {
		b := &g.links[i]
		r, parent := &l.rate[b.body], &l.rate[b.parent]
		if b.slides() {
			arm := l.pose[b.body].At.Minus(l.pose[b.parent].At)
			along := l.pose[b.parent].Turned(c.unit[i]).Times(c.x[i])
			*r = plane.Rate[T]{At: parent.At.Plus(arm.Quarter().Times(parent.Turn)).Plus(along), Turn: parent.Turn}
			continue
		}
		*r = plane.Rate[T]{At: l.velocity(bodyPoint{b.parent, b.point}), Turn: parent.Turn + c.x[i]}
	}
}

// accelerations finds second derivatives; the rates must be those of the position.
func (c *groupState[T]) accelerations(l *linkage[T], g *group) {
	clear(c.x)
	c.surge(l, g)
	c.gaps(l, g, (*linkage[T]).acceleration)
	c.a.Solve(c.x)
	c.surge(l, g)
}

// surge gives the tree links their accelerations for second derivatives x of the unknowns.
func (c *groupState[T]) surge(l *linkage[T], g *group) {
	for i := range g.links {
		b := &g.links[i]
		s, parent := &l.accel[b.body], &l.accel[b.parent]
		if !b.slides() {
			*s = plane.Rate[T]{At: l.acceleration(bodyPoint{b.parent, b.point}), Turn: parent.Turn + c.x[i]}
			continue
		}
		spin := l.rate[b.parent].Turn
		arm := l.pose[b.body].At.Minus(l.pose[b.parent].At)
		unit := l.pose[b.parent].Turned(c.unit[i])
		// The sliding velocity is what the anchor has beyond the guide; turned, it gives Coriolis.
		sliding := l.rate[b.body].At.Minus(l.rate[b.parent].At).Minus(arm.Quarter().Times(spin))
		at := parent.At.Plus(arm.Quarter().Times(parent.Turn)).Minus(arm.Times(spin * spin))
		*s = plane.Rate[T]{At: at.Plus(sliding.Quarter().Times(2 * spin)).Plus(unit.Times(c.x[i])), Turn: parent.Turn}
	}
}
