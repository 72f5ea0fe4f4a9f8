package mechanism

import (
	"cmp"
	"fmt"
	"slices"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
)

// Member is a straight part of a body between two of its points. From is nearer to the root of the
// body's tree.
type Member struct {
	Body     int // in Bodies
	From, To int // in Points
}

// Members lists the members of all bodies by body, each body's from the root of its tree outwards:
// a member comes after the one that it starts from. The ground's root is the point root; any other
// body's is the first of its members' points by name, so the order in a file does not matter.
func (m *Mechanism) Members() []Member { return m.members }

// Unsized tells why no sizes can be given to the members, or is empty. A ground without members is
// taken for part of the frame.
func (m *Mechanism) Unsized() string { return m.unsized }

// Ground is the number of the body that does not move.
func (m *Mechanism) Ground() int { return m.ground }

// Wheel is the body that carries the axle.
func (m *Mechanism) Wheel() int { return m.wheel }

// Brake is the body that carries the caliper.
func (m *Mechanism) Brake() int { return m.brake }

// ShockEnd is the body and the point of the shock's upper (0) or lower (1) eye; −1 without a shock.
func (m *Mechanism) ShockEnd(i int) (body, point int) { return m.shock[i].Body, m.shock[i].Point }

// tree orders the members of one body from its root outwards. It notes a fault where they are no
// tree.
func (c *compiler) tree(body int, loose []Member) {
	root := index(c.m.Points, scheme.PointRoot)
	slices.SortFunc(loose, func(a, b Member) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
	if body != c.m.ground || !slices.ContainsFunc(loose, func(mb Member) bool { return mb.From == root || mb.To == root }) {
		root = loose[0].From
	}
	reached := []int{root}
	for i := 0; i < len(reached); i++ {
		loose = slices.DeleteFunc(loose, func(mb Member) bool {
			if mb.To == reached[i] {
				mb.From, mb.To = mb.To, mb.From
			}
			if mb.From != reached[i] || slices.Contains(reached, mb.To) {
				return false
			}
			reached = append(reached, mb.To)
			c.m.members = append(c.m.members, mb)
			return true
		})
	}
	name := c.m.Bodies[body]
	for _, mb := range loose {
		from, to := c.m.Points[mb.From], c.m.Points[mb.To]
		if slices.Contains(reached, mb.From) {
			c.fault("members."+name, "the member from %q to %q closes a loop; a body's members form a tree", from, to)
		} else {
			c.fault("members."+name, "the member from %q to %q is not connected to the others of %q; a body's members form one tree", from, to, name)
		}
	}
	c.unreached(body, reached)
}

// unreached notes why a body cannot be sized: a point that carries load but lies on no member.
func (c *compiler) unreached(body int, reached []int) {
	for p, bodies := range c.m.carried {
		if c.m.unsized == "" && slices.Contains(bodies, body) && !slices.Contains(reached, p) {
			c.m.unsized = fmt.Sprintf("no member of %q leads to its point %q", c.m.Bodies[body], c.m.Points[p])
		}
	}
}

// stated are the members that the spec lists and, where a layout decides, those of one whose points all lie together.
func (m *Mechanism) stated() []Member {
	var listed []Member
	for _, mb := range m.Spec.Members {
		from, to := index(m.Points, mb.From), index(m.Points, mb.To)
		listed = append(listed, Member{index(m.Bodies, mb.Body), min(from, to), max(from, to)})
	}
	if !m.Spec.Least {
		return listed
	}
	m.listed = listed
	return append(members(m.AppendTree(nil, make([]plane.Vec[float64], len(m.Points)))), m.listed...)
}

// trees sorts members, in any order, into the trees of their bodies.
func (c *compiler) trees(all []Member) {
	m := c.m
	byBody := make([][]Member, len(m.Bodies))
	for _, mb := range all {
		byBody[mb.Body] = append(byBody[mb.Body], mb)
	}
	for b, own := range byBody {
		switch {
		case len(own) > 0:
			c.tree(b, own)
		case b != m.ground && m.unsized == "" && !c.oneSlidingPoint(b):
			m.unsized = fmt.Sprintf("body %q has no members", m.Bodies[b])
		}
	}
}

// oneSlidingPoint tells whether a body without members slides and has one point, to which its sliding tube leads.
func (c *compiler) oneSlidingPoint(body int) bool {
	points := 0
	for _, on := range c.m.carried {
		if slices.Contains(on, body) {
			points++
		}
	}
	return points == 1 && slices.ContainsFunc(c.m.joints, func(j Joint) bool { return j.Slides() && j.B == body })
}
