package topology

import (
	"cmp"
	"fmt"
	"slices"

	"forkfront/kinematics/scheme"
)

// Names of the bodies of a generated mechanism; links are link_1, link_2 and so on.
const (
	NameGround  = "crown"
	NameLeg     = "leg"
	NameCarrier = "carrier"
)

// Name is the name of a body of a canonical topology.
func (t *Topology) Name(body int) string {
	switch body {
	case t.Ground:
		return NameGround
	case t.Axle:
		return NameLeg
	case t.Caliper:
		return NameCarrier
	}
	return fmt.Sprintf("link_%d", body)
}

// PivotName is the name of a joint of a canonical topology, after the bodies that it joins; that of a carrier is on the
// axle.
func (t *Topology) PivotName(i int) string {
	p := t.Pivots[i]
	if t.onAxle(p) {
		return scheme.PointAxle
	}
	return t.Name(p[0]) + "_" + t.Name(p[1])
}

// slidePoints are the points of the guide that the line of the slide passes through.
func (t *Topology) slidePoints() [2]string {
	name := t.PivotName(t.Slide)
	return [2]string{name + "_start", name + "_end"}
}

// Spec is the mechanism of a canonical topology, called by its code. Of the slide's bodies the first is the guide. The
// shock's upper eye is on the body that is nearer to the ground. The ground has a member from its root to each of its
// pivots, and the shock's eye on one of these; every other body has a path of members that begins at its pivot nearest to the ground and leads through the
// shock's eye and its other pivots to the axle.
func (t *Topology) Spec() scheme.MechanismSpec {
	s := scheme.MechanismSpec{
		Name: t.Code(), Ground: NameGround, Axle: NameLeg, Brake: t.Name(t.Caliper),
		Shock: [2]string{t.Name(t.Shock[0]), t.Name(t.Shock[1])},
	}
	for b := range t.Bodies {
		s.Bodies = append(s.Bodies, t.Name(b))
	}
	for i, p := range t.Pivots {
		on := [2]string{t.Name(p[0]), t.Name(p[1])}
		if i == t.Slide {
			s.Slides = append(s.Slides, scheme.SlideSpec{Name: t.PivotName(i), Bodies: on, Through: t.slidePoints()})
			continue
		}
		s.Pivots = append(s.Pivots, scheme.PivotSpec{Name: t.PivotName(i), Bodies: on[:]})
	}
	for b := range t.Bodies {
		points := t.pointsOf(b)
		for i := range points {
			if m := (scheme.MemberSpec{Body: t.Name(b), From: t.before(b, points, i), To: points[i]}); m.From != "" {
				s.Members = append(s.Members, m)
			}
		}
	}
	return s
}

// before is the point from which a member leads to a body's point i; empty for the first point of a body that moves.
func (t *Topology) before(body int, points []string, i int) string {
	switch {
	case body == t.Ground && (points[i] == scheme.PointShockUpper || points[i] == scheme.PointShockLower):
		return t.mount()
	case body == t.Ground:
		return scheme.PointRoot
	case i == 0:
		return ""
	}
	return points[i-1]
}

// mount is where the ground carries an eye of the shock: the pivot of the last link of the guide that the shock does not
// drive, above those that come before it, where there is one; else the root.
func (t *Topology) mount() string {
	_, guide := t.duties(t.graph().spans())
	at := scheme.PointRoot
	for i, p := range t.Pivots {
		link := p[1] // the ground comes first
		if p[0] == t.Ground && i != t.Slide && link != t.Axle && guide.has(link) && link != t.Shock[0] && link != t.Shock[1] {
			at = t.PivotName(i)
		}
	}
	return at
}

// pointsOf lists the points of a body in the order of its members.
func (t *Topology) pointsOf(body int) (names []string) {
	distance := t.graph().distances(t.Ground)
	var joints []int
	for i, p := range t.Pivots {
		if !t.onAxle(p) && (p[0] == body || p[1] == body) {
			joints = append(joints, i)
		}
	}
	other := func(i int) int { return t.Pivots[i][0] + t.Pivots[i][1] - body }
	slices.SortStableFunc(joints, func(i, k int) int {
		order := cmp.Compare(other(i), other(k))
		if body == t.Axle {
			// Of links at one distance, the one that drives the shock has the lowest number. Next to the axle it is the lower one,
			// where a high fork has room for the shock above it.
			order = -order
		}
		return cmp.Or(cmp.Compare(distance[other(i)], distance[other(k)]), order)
	})
	for _, i := range joints {
		switch {
		case i != t.Slide:
			names = append(names, t.PivotName(i))
		case t.Pivots[i][0] == body: // the guide has the line of the slide, the other body no point of it
			through := t.slidePoints()
			names = append(names, through[:]...)
		}
	}
	for i, point := range []string{scheme.PointShockUpper, scheme.PointShockLower} {
		if t.Shock[i] == body {
			at := min(1, len(names))
			if body == t.Ground {
				at = len(names)
			}
			names = slices.Insert(names, at, point)
		}
	}
	if body == t.Axle || body == t.Caliper {
		names = append(names, scheme.PointAxle)
	}
	return names
}
