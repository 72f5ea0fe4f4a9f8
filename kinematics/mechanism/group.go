package mechanism

import "slices"

// Group is a set of bodies whose positions hang on each other, and that a driver and the bodies
// solved before hold in place. Its joints form a tree, in which each body hangs from one before
// it by one unknown (a turn about a pin, or a way along a slide), and as many pins close loops as
// are needed to find the unknowns: two equations a loop.
type Group struct {
	Links []treeLink // each after the one that it hangs from
	Loops []loop
	Form  form
}

// treeLink is one body of a group and what it hangs from.
type treeLink struct {
	Body, Parent int
	Up           int    // the parent's own tree link, -1 where the parent is known
	Point        int    // the pin; -1 for a slide
	Through      [2]int // the line of a slide
	joint        int    // in the mechanism's
}

// Slides tells whether the body slides on what it hangs from.
func (b *treeLink) Slides() bool { return b.Point < 0 }

// Anchor is the point by which the body is placed: its pin, or what coincides with the first point
// of its slide at top-out.
func (b *treeLink) Anchor() int {
	if b.Slides() {
		return b.Through[0]
	}
	return b.Point
}

// loop is a pin between two bodies that are both placed by the tree.
type loop struct {
	A, B         int // bodies
	LinkA, LinkB int // their tree links, -1 for a known body
	Point        int
	joint        int // in the mechanism's
}

// form tells how a group's position is found.
type form int

const (
	Iterated   form = iota // Newton on all its loops
	Linear                 // all its tree links slide, so all turns are known and the loops are linear
	SlideOuter             // a pinned body, and one that slides on a known body
	SlideInner             // a pinned body, and one that slides on that
)

// newGroup hangs bodies into a tree, slides first so that all loops close at pins. It is false when
// the slides form a loop among themselves, which would fix one turn twice.
func newGroup(bodies []int, joints []Joint, known []bool) (*Group, bool) {
	of := slices.Clone(joints)
	slices.SortStableFunc(of, func(x, y Joint) int { return rank(x, known) - rank(y, known) })
	root := make([]int, len(known)) // of a body's tree so far; known bodies share the root -1
	for b := range root {
		if root[b] = b; known[b] {
			root[b] = -1
		}
	}
	g := &Group{}
	var tree []Joint
	for _, j := range of {
		a, b := root[j.A], root[j.B]
		if a != b {
			tree = append(tree, j)
			merge(root, max(a, b), min(a, b))
			continue
		}
		if j.Slides() {
			return nil, false
		}
		g.Loops = append(g.Loops, loop{A: j.A, B: j.B, Point: j.Point})
	}
	g.grow(tree, known)
	for i := range g.Loops {
		g.Loops[i].LinkA, g.Loops[i].LinkB = g.LinkOf(g.Loops[i].A), g.LinkOf(g.Loops[i].B)
	}
	g.Form = g.formOf()
	return g, len(g.Links) == len(bodies) && 2*len(g.Loops) == len(g.Links)
}

// rank orders joints for the tree: slides, then pins to known bodies, then the others.
func rank(j Joint, known []bool) int {
	switch {
	case j.Slides():
		return 0
	case known[j.A] || known[j.B]:
		return 1
	}
	return 2
}

func merge(root []int, from, to int) {
	for b := range root {
		if root[b] == from {
			root[b] = to
		}
	}
}

// grow orders the tree from the known bodies on.
func (g *Group) grow(tree []Joint, known []bool) {
	placed := slices.Clone(known)
	for range tree {
		for _, j := range tree {
			body, parent := j.A, j.B
			if placed[body] {
				body, parent = parent, body
			}
			if placed[body] || !placed[parent] {
				continue
			}
			placed[body] = true
			g.Links = append(g.Links, treeLink{Body: body, Parent: parent, Up: g.LinkOf(parent), Point: j.Point, Through: j.Through})
		}
	}
}

// LinkOf finds a body's tree link, or -1.
func (g *Group) LinkOf(body int) int {
	return slices.IndexFunc(g.Links, func(b treeLink) bool { return b.Body == body })
}

// formOf recognises what can be solved in closed form.
func (g *Group) formOf() form {
	sliding := 0
	for i := range g.Links {
		if g.Links[i].Slides() {
			sliding++
		}
	}
	switch {
	case sliding == len(g.Links):
		return Linear
	case len(g.Links) != 2 || sliding != 1:
		return Iterated
	case g.Links[0].Up < 0 && g.Links[1].Up < 0 && g.Loops[0].LinkA >= 0 && g.Loops[0].LinkB >= 0:
		return SlideOuter
	case !g.Links[0].Slides() && g.Links[1].Up == 0:
		return SlideInner
	}
	return Iterated
}
