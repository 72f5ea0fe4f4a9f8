package kinematics

import "slices"

// group is a set of bodies whose positions hang on each other, and that a driver and the bodies
// solved before hold in place. Its joints form a tree, in which each body hangs from one before
// it by one unknown (a turn about a pin, or a way along a slide), and as many pins close loops as
// are needed to find the unknowns: two equations a loop.
type group struct {
	links []treeLink // each after the one that it hangs from
	loops []loop
	form  form
}

// treeLink is one body of a group and what it hangs from.
type treeLink struct {
	body, parent int
	up           int    // the parent's own tree link, -1 where the parent is known
	point        int    // the pin; -1 for a slide
	through      [2]int // the line of a slide
	joint        int    // in the mechanism's
}

func (b *treeLink) slides() bool { return b.point < 0 }

// anchor is the point by which the body is placed: its pin, or what coincides with the first point
// of its slide at top-out.
func (b *treeLink) anchor() int {
	if b.slides() {
		return b.through[0]
	}
	return b.point
}

// loop is a pin between two bodies that are both placed by the tree.
type loop struct {
	a, b         int // bodies
	linkA, linkB int // their tree links, -1 for a known body
	point        int
	joint        int // in the mechanism's
}

// form tells how a group's position is found.
type form int

const (
	iterated   form = iota // Newton on all its loops
	linear                 // all its tree links slide, so all turns are known and the loops are linear
	slideOuter             // a pinned body, and one that slides on a known body
	slideInner             // a pinned body, and one that slides on that
)

// newGroup hangs bodies into a tree, slides first so that all loops close at pins. It is false when
// the slides form a loop among themselves, which would fix one turn twice.
func newGroup(bodies []int, joints []joint, known []bool) (*group, bool) {
	of := slices.Clone(joints)
	slices.SortStableFunc(of, func(x, y joint) int { return rank(x, known) - rank(y, known) })
	root := make([]int, len(known)) // of a body's tree so far; known bodies share the root -1
	for b := range root {
		if root[b] = b; known[b] {
			root[b] = -1
		}
	}
	g := &group{}
	var tree []joint
	for _, j := range of {
		a, b := root[j.a], root[j.b]
		if a != b {
			tree = append(tree, j)
			merge(root, max(a, b), min(a, b))
			continue
		}
		if j.slides() {
			return nil, false
		}
		g.loops = append(g.loops, loop{a: j.a, b: j.b, point: j.point})
	}
	g.grow(tree, known)
	for i := range g.loops {
		g.loops[i].linkA, g.loops[i].linkB = g.linkOf(g.loops[i].a), g.linkOf(g.loops[i].b)
	}
	g.form = g.formOf()
	return g, len(g.links) == len(bodies) && 2*len(g.loops) == len(g.links)
}

// rank orders joints for the tree: slides, then pins to known bodies, then the others.
func rank(j joint, known []bool) int {
	switch {
	case j.slides():
		return 0
	case known[j.a] || known[j.b]:
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
func (g *group) grow(tree []joint, known []bool) {
	placed := slices.Clone(known)
	for range tree {
		for _, j := range tree {
			body, parent := j.a, j.b
			if placed[body] {
				body, parent = parent, body
			}
			if placed[body] || !placed[parent] {
				continue
			}
			placed[body] = true
			g.links = append(g.links, treeLink{body: body, parent: parent, up: g.linkOf(parent), point: j.point, through: j.through})
		}
	}
}

// linkOf finds a body's tree link, or -1.
func (g *group) linkOf(body int) int {
	return slices.IndexFunc(g.links, func(b treeLink) bool { return b.body == body })
}

// formOf recognises what can be solved in closed form.
func (g *group) formOf() form {
	sliding := 0
	for i := range g.links {
		if g.links[i].slides() {
			sliding++
		}
	}
	switch {
	case sliding == len(g.links):
		return linear
	case len(g.links) != 2 || sliding != 1:
		return iterated
	case g.links[0].up < 0 && g.links[1].up < 0 && g.loops[0].linkA >= 0 && g.loops[0].linkB >= 0:
		return slideOuter
	case !g.links[0].slides() && g.links[1].up == 0:
		return slideInner
	}
	return iterated
}
