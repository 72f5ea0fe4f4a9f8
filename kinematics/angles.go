package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
)

// sineMin is the sine of the smallest angle between the two links of a dyad that bears load, folded to
// 0..90 degrees, from the poses of all bodies; in the arrangement in which it is largest, where there are
// several.
func (l *linkage[T]) sineMin() T {
	var most T
	for k := range l.m.Arrangements() {
		least := plane.Lift[T](1)
		a := &l.m.Arrangements()[k]
		for _, i := range a.Loaded {
			s := &a.Steps[i]
			var sine T
			if s.Kind == mechanism.Dyad {
				sine = l.dyadSine(s)
			} else {
				c := &l.measured[k][i]
				c.factor(l, s.Group)
				sine = c.sine
			}
			if plane.Real(sine) < plane.Real(least) {
				least = sine
			}
		}
		if k == 0 || plane.Real(least) > plane.Real(most) {
			most = least
		}
	}
	return most
}

// dyadSine is the sine of the angle between the two links of a dyad, folded.
func (l *linkage[T]) dyadSine(s *mechanism.Step) T {
	var link [2]plane.Vec[T]
	for i, b := range s.Body {
		tip, base := l.offset[b*len(l.m.Points)+s.Tip], l.offset[b*len(l.m.Points)+s.On[i].Point]
		link[i] = l.pose[b].Turned(tip.Minus(base))
	}
	square := link[0].Dot(link[0]) * link[1].Dot(link[1])
	return plane.Abs(link[0].Cross(link[1])) * plane.Inverse(plane.Sqrt(square))
}

// prepareAngles takes the coordinates for the groups among the arrangements.
func (l *linkage[T]) prepareAngles() {
	if !l.m.Grouped() {
		return
	}
	l.measured = plane.Resize(l.measured, len(l.m.Arrangements()))
	for k := range l.m.Arrangements() {
		steps := l.m.Arrangements()[k].Steps
		l.measured[k] = plane.Resize(l.measured[k], len(steps))
		for i := range steps {
			if g := steps[i].Group; g != nil {
				l.measured[k][i].prepare(l, g)
			}
		}
	}
}

// bodySizes is the product of the lengths by which the volume of a group's equations is measured: of each
// body that turns, the largest distance between its joints with the group; of one that slides, 1. It does
// not depend on the tree that the joints are taken as.
func (c *groupState[T]) bodySizes(l *linkage[T], g *mechanism.Group) T {
	all := plane.Lift[T](1)
	for i := range g.Links {
		b := &g.Links[i]
		if b.Slides() {
			continue
		}
		var joints [8]int
		on := append(joints[:0], b.Point)
		for k := range g.Links {
			if child := &g.Links[k]; child.Parent == b.Body {
				on = append(on, child.Anchor())
			}
		}
		for k := range g.Loops {
			if lp := &g.Loops[k]; lp.A == b.Body || lp.B == b.Body {
				on = append(on, lp.Point)
			}
		}
		var largest T
		for x := range on {
			for y := range x {
				gap := l.layout[on[x]].Minus(l.layout[on[y]])
				if d := gap.Dot(gap); plane.Real(d) > plane.Real(largest) {
					largest = d
				}
			}
		}
		if plane.Real(largest) > 0 {
			all *= plane.Sqrt(largest)
		}
	}
	return all
}

// leastAngle names the dyad that is nearest to its toggle, with the sine of its angle.
func (l *linkage[T]) leastAngle() (string, float64) {
	name, least := "", math.Inf(1)
	for k := range l.m.Arrangements() {
		a := &l.m.Arrangements()[k]
		for i := range a.Steps {
			if s := &a.Steps[i]; s.Kind == mechanism.Dyad {
				if sine := plane.Real(l.dyadSine(s)); sine < least {
					name, least = l.m.NamesOf(s), sine
				}
			}
		}
	}
	return name, least
}
