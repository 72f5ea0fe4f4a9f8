package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
)

// groupState is a group with coordinates, and one worker's memory of its equations. Position is the
// business of slide_dyad.go and newton.go; rates and accelerations are linear and the same for all.
type groupState[T plane.Scalar] struct {
	unit  []plane.Vec[T] // by tree link: direction of its slide at top-out
	base  []plane.Vec[T] // by tree link that slides: its anchor from the parent's, at top-out
	way   []T            // by tree link: along its slide
	turn  []T            // by tree link: how far it turns in the step at hand
	pin   []plane.Vec[T] // by tree link: where the pin is that it turns about, now
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
func (c *groupState[T]) set(l *linkage[T], g *mechanism.Group) string {
	if reason := c.prepare(l, g); reason != "" {
		return reason
	}
	if !c.factor(l, g) || !(plane.Real(c.sine) > leastSine) {
		return "some links stand so at top-out that their motion is not determined"
	}
	c.side = math.Copysign(1, plane.Real(c.a.Det()))
	switch g.Form {
	case mechanism.SlideOuter:
		c.outer.set(l, g, c.unit)
	case mechanism.SlideInner:
		c.inner.set(l, g, c.unit[1])
	}
	return ""
}

// prepare takes the coordinates of the equations only.
func (c *groupState[T]) prepare(l *linkage[T], g *mechanism.Group) string {
	n := len(g.Links)
	c.unit, c.base = plane.Resize(c.unit, n), plane.Resize(c.base, n)
	c.way, c.turn, c.x, c.pin = plane.Resize(c.way, n), plane.Resize(c.turn, n), plane.Resize(c.x, n), plane.Resize(c.pin, n)
	c.size = 1
	for i := range g.Links {
		b := &g.Links[i]
		if b.Slides() {
			line := l.layout[b.Through[1]].Minus(l.layout[b.Through[0]])
			length := plane.Sqrt(line.Dot(line))
			if !(plane.Real(length) > 1e-6) {
				return "the two points of a slide coincide"
			}
			c.unit[i] = line.Times(plane.Inverse(length))
			c.base[i] = l.pose[b.Body].At.Minus(l.pose[b.Parent].At)
		}
		for k := range g.Loops {
			arm := l.layout[g.Loops[k].Point].Minus(l.layout[b.Anchor()])
			c.size = math.Max(c.size, math.Hypot(plane.Real(arm.Along), plane.Real(arm.Ahead)))
		}
	}
	if g.Form == mechanism.Iterated {
		c.sizes = c.bodySizes(l, g)
	}
	return ""
}

// mode is the velocity of a point at P of what hangs on tree link i, per unit of its unknown.
func (c *groupState[T]) mode(l *linkage[T], g *mechanism.Group, i int, at plane.Vec[T]) plane.Vec[T] {
	b := &g.Links[i]
	if b.Slides() {
		return l.pose[b.Parent].Turned(c.unit[i])
	}
	return at.Minus(c.pin[i]).Quarter()
}

// factor sets up how the gaps of the loops change with the unknowns, where the linkage stands, and
// factors it. It is false where that cannot be solved.
func (c *groupState[T]) factor(l *linkage[T], g *mechanism.Group) bool {
	c.a.Reset(len(g.Links))
	for i := range g.Links {
		if b := &g.Links[i]; !b.Slides() {
			c.pin[i] = l.at(mechanism.BodyPoint{Body: b.Body, Point: b.Point})
		}
	}
	for k := range g.Loops {
		lp := &g.Loops[k]
		at := l.at(mechanism.BodyPoint{Body: lp.A, Point: lp.Point})
		for i := lp.LinkA; i >= 0; i = g.Links[i].Up {
			c.add(k, i, c.mode(l, g, i, at))
		}
		for i := lp.LinkB; i >= 0; i = g.Links[i].Up {
			c.add(k, i, c.mode(l, g, i, at).Times(-1))
		}
	}
	lengths := c.sizes
	if g.Form != mechanism.Iterated {
		lengths = c.lengths(len(g.Links))
	}
	if !c.a.Factor() {
		c.sine = 0
		return false
	}
	c.measure(lengths, len(g.Links)/2)
	return true
}

func (c *groupState[T]) add(loop, link int, v plane.Vec[T]) {
	*c.a.At(2*loop, link) += v.Along
	*c.a.At(2*loop+1, link) += v.Ahead
}

// lengths is the product of the lengths of the matrix' columns.
func (c *groupState[T]) lengths(n int) T {
	all := plane.Lift[T](1)
	for i := range n {
		var square T
		for r := range n {
			square += *c.a.At(r, i) * *c.a.At(r, i)
		}
		all *= square
	}
	if !(plane.Real(all) > 0) {
		return all
	}
	return plane.Sqrt(all)
}

// measure rates how well the group is held: the volume that the columns of its equations span,
// over the product of their lengths, as a mean of pairs. For two pinned links it is the sine of
// the angle between them, for a slide that between the link and the slide's normal; 0 is a
// position in which the group is not held.
func (c *groupState[T]) measure(lengths T, pairs int) {
	c.sine = 0
	if plane.Real(lengths) > 0 {
		c.sine = plane.Abs(c.a.Det()) * plane.Inverse(lengths)
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
	if n == 2 {
		return plane.Sqrt(x)
	}
	value := math.Pow(plane.Real(x), 1/float64(n))
	slope := plane.Lift[T](value / (float64(n) * plane.Real(x)))
	return plane.Lift[T](value) + slope*(x-plane.Lift[T](plane.Real(x)))
}

// hang places all tree links from the known bodies on, moved by steps of the unknowns.
func (c *groupState[T]) hang(l *linkage[T], g *mechanism.Group, x []T) {
	for i := range g.Links {
		b := &g.Links[i]
		p, parent := &l.pose[b.Body], &l.pose[b.Parent]
		c.turn[i] = 0
		if b.Up >= 0 {
			c.turn[i] = c.turn[b.Up]
		}
		if b.Slides() {
			c.way[i] += x[i]
			p.Cos, p.Sin = parent.Cos, parent.Sin
			p.At = parent.At.Plus(parent.Turned(c.base[i].Plus(c.unit[i].Times(c.way[i]))))
			continue
		}
		c.turn[i] += x[i]
		p.Rotate(c.turn[i])
		p.At = l.at(mechanism.BodyPoint{Body: b.Parent, Point: b.Point})
	}
}

// gaps fills the unknowns with what is left open at the loops, the sign reversed: in positions, velocities or
// accelerations of points.
func (c *groupState[T]) gaps(l *linkage[T], g *mechanism.Group, of func(*linkage[T], mechanism.BodyPoint) plane.Vec[T]) {
	for k := range g.Loops {
		lp := &g.Loops[k]
		gap := of(l, mechanism.BodyPoint{Body: lp.B, Point: lp.Point}).Minus(of(l, mechanism.BodyPoint{Body: lp.A, Point: lp.Point}))
		c.x[2*k], c.x[2*k+1] = gap.Along, gap.Ahead
	}
}

// rates finds the velocities of a group: those that its unknowns at rest give, and the rates of
// the unknowns that close the loops again.
func (c *groupState[T]) rates(l *linkage[T], g *mechanism.Group) {
	c.factor(l, g)
	clear(c.x)
	c.flow(l, g)
	c.gaps(l, g, (*linkage[T]).velocity)
	c.a.Solve(c.x)
	c.flow(l, g)
}

// flow gives the tree links their velocities for rates x of the unknowns.
func (c *groupState[T]) flow(l *linkage[T], g *mechanism.Group) {
	for i := range g.Links {
		b := &g.Links[i]
		r, parent := &l.rate[b.Body], &l.rate[b.Parent]
		if b.Slides() {
			arm := l.pose[b.Body].At.Minus(l.pose[b.Parent].At)
			along := l.pose[b.Parent].Turned(c.unit[i]).Times(c.x[i])
			*r = plane.Rate[T]{At: parent.At.Plus(arm.Quarter().Times(parent.Turn)).Plus(along), Turn: parent.Turn}
			continue
		}
		*r = plane.Rate[T]{At: l.velocity(mechanism.BodyPoint{Body: b.Parent, Point: b.Point}), Turn: parent.Turn + c.x[i]}
	}
}

// accelerations finds second derivatives; the rates must be those of the position.
func (c *groupState[T]) accelerations(l *linkage[T], g *mechanism.Group) {
	clear(c.x)
	c.surge(l, g)
	c.gaps(l, g, (*linkage[T]).acceleration)
	c.a.Solve(c.x)
	c.surge(l, g)
}

// surge gives the tree links their accelerations for second derivatives x of the unknowns.
func (c *groupState[T]) surge(l *linkage[T], g *mechanism.Group) {
	for i := range g.Links {
		b := &g.Links[i]
		s, parent := &l.accel[b.Body], &l.accel[b.Parent]
		if !b.Slides() {
			*s = plane.Rate[T]{At: l.acceleration(mechanism.BodyPoint{Body: b.Parent, Point: b.Point}), Turn: parent.Turn + c.x[i]}
			continue
		}
		spin := l.rate[b.Parent].Turn
		arm := l.pose[b.Body].At.Minus(l.pose[b.Parent].At)
		unit := l.pose[b.Parent].Turned(c.unit[i])
		// The sliding velocity is what the anchor has beyond the guide; turned, it gives Coriolis.
		sliding := l.rate[b.Body].At.Minus(l.rate[b.Parent].At).Minus(arm.Quarter().Times(spin))
		at := parent.At.Plus(arm.Quarter().Times(parent.Turn)).Minus(arm.Times(spin * spin))
		*s = plane.Rate[T]{At: at.Plus(sliding.Quarter().Times(2 * spin)).Plus(unit.Times(c.x[i])), Turn: parent.Turn}
	}
}
