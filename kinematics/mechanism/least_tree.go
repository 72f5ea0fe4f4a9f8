package mechanism

import (
	"math"
	"slices"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
)

// Where a spec leaves members to the layout, those of each body for which it lists none are the tree of the least total length over its
// points at top-out. A mechanism never changes, so those of a layout are another mechanism, which moves in the same way.

// Least tells whether the members follow from a layout. Those of the mechanism itself are then of no fork; there are as many
// as any layout gives.
func (m *Mechanism) Least() bool { return m.Spec.Least }

// Plain is the mechanism that moves as this one: itself, or that which At was called for.
func (m *Mechanism) Plain() *Mechanism {
	if m.plain != nil {
		return m.plain
	}
	return m
}

// Varies tells whether the members of a body depend on the layout.
func (m *Mechanism) Varies(body int) bool {
	return m.Spec.Least && m.hasTree(body) && len(m.spanned(nil, body)) > 2
}

// At is the mechanism with the members that a layout (mm, by point) gives it: itself, unless they follow from the layout.
func (m *Mechanism) At(layout []plane.Vec[float64]) *Mechanism {
	if !m.Spec.Least {
		return m
	}
	return m.WithTree(m.AppendTree(nil, layout))
}

// memberBytes is the length of a member in a tree: body, and points from and to, two bytes each.
const memberBytes = 6

// AppendTree appends to dst what tells apart the trees that layouts (mm, by point) give a mechanism whose members follow
// from them. It does not allocate where dst has room.
//
// Of two spans that are equally long to the last bit, the one whose first end comes first by name goes before, then the
// one whose second end does. The line of a slide is always a member of the guide, and the end of it
// that runs in the sliding tube has no other.
func (m *Mechanism) AppendTree(dst []byte, layout []plane.Vec[float64]) []byte {
	var memory [16]int
	for b := range m.Bodies {
		if m.hasTree(b) {
			dst = m.span(dst, b, m.spanned(memory[:0], b), layout)
		}
	}
	return dst
}

// hasTree tells whether the layout decides about the members of a body: not if they are listed, nor of a ground that is the frame.
func (m *Mechanism) hasTree(body int) bool {
	return !slices.ContainsFunc(m.listed, func(mb Member) bool { return mb.Body == body }) && (body != m.ground || len(m.Spec.Steering) == 0)
}

// spanned appends the points of a body, by name.
func (m *Mechanism) spanned(dst []int, body int) []int {
	for p, on := range m.carried {
		for _, b := range on {
			if b == body {
				dst = append(dst, p)
			}
		}
	}
	return dst
}

// reach is the best span by which a point that the tree has not reached can be: its square in mm², and its ends.
type reach struct {
	square    float64
	from, to  int // points, the first by name first
	unreached bool
}

func (a *reach) before(b *reach) bool {
	if a.square != b.square {
		return a.square < b.square
	}
	return a.from < b.from || a.from == b.from && a.to < b.to
}

// span appends the tree of one body, found by Prim's algorithm: as no two spans are alike, it is the only one.
func (m *Mechanism) span(dst []byte, body int, points []int, layout []plane.Vec[float64]) []byte {
	var memory [16]reach
	open := memory[:0]
	for range points {
		open = append(open, reach{square: math.Inf(1), from: math.MaxInt, unreached: true})
	}
	last := 0
	for range len(points) - 1 {
		open[last].unreached = false
		next := -1
		for i := range open {
			if !open[i].unreached {
				continue
			}
			a, b := points[last], points[i]
			by := reach{m.square(body, a, b, layout), min(a, b), max(a, b), true}
			if by.before(&open[i]) {
				open[i] = by
			}
			if next < 0 || open[i].before(&open[next]) {
				next = i
			}
		}
		from, to := open[next].from, open[next].to
		dst = append(dst, byte(body), byte(body>>8), byte(from), byte(from>>8), byte(to), byte(to>>8))
		last = next
	}
	return dst
}

// square is the length of a span squared, in mm²; less than any for the line of a slide, more than any for another span from its
// end in the sliding tube.
func (m *Mechanism) square(body, a, b int, layout []plane.Vec[float64]) float64 {
	beyond := false
	for i := range m.joints {
		j := &m.joints[i]
		if !j.Slides() || j.A != body {
			continue
		}
		start, end := j.Through[0], j.Through[1]
		if a == start && b == end || a == end && b == start {
			return -1
		}
		beyond = beyond || a == end || b == end
	}
	if beyond {
		return math.Inf(1)
	}
	line := layout[b].Minus(layout[a])
	square := float64(line.Along*line.Along) + float64(line.Ahead*line.Ahead)
	if !(square < math.MaxFloat64) {
		return math.MaxFloat64 // nor is anything else about such a fork a number
	}
	return square
}

// members are those of trees.
func members(trees []byte) (all []Member) {
	for ; len(trees) >= memberBytes; trees = trees[memberBytes:] {
		two := func(i int) int { return int(trees[i]) | int(trees[i+1])<<8 }
		all = append(all, Member{two(0), two(2), two(4)})
	}
	return all
}

// WithTree is the mechanism with the members of trees that AppendTree told apart: to the last field what Compile makes of a
// spec that lists them.
func (m *Mechanism) WithTree(trees []byte) *Mechanism {
	own := *m
	own.plain = m
	own.members, own.tubes, own.slides, own.extra, own.listed, own.unsized = nil, nil, nil, nil, nil, ""
	c := compiler{m: &own}
	c.trees(append(members(trees), m.listed...))
	own.Spec.Least, own.Spec.Members = false, nil
	for _, mb := range own.members {
		own.Spec.Members = append(own.Spec.Members, scheme.MemberSpec{Body: m.Bodies[mb.Body], From: m.Points[mb.From], To: m.Points[mb.To]})
	}
	c.telescopes()
	return &own
}
