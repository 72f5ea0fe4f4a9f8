package kinematics

import "forkfront/kinematics/mechanism"

// vectorLoops is a mechanism as equations for all its bodies at once, with the travel as the input, so
// that no body has to be chosen to drive. The joints form a tree from the ground, in which each body
// adds one unknown: how far it has turned since top-out (absolutely, not against its parent), or how
// far it has come along its slide. Pins that close loops give two equations each, the axle's place
// along the steering axis one more. A place is a sum of vectors that turn with one unknown each, so
// second derivatives are those of single vectors.
type vectorLoops struct {
	tree     *mechanism.Group
	unknowns int
	slides   []bool       // by unknown
	turn     []int        // by body: the unknown by which it turns; −1 where it does not
	body     []int        // by unknown: the body that it places
	guide    []int        // by unknown: that by which what a slide runs on turns; −1 where that does not turn, or for no slide
	terms    []vectorTerm // of all sums, one after the other
	loops    []span       // sums that are zero where the mechanism is closed
	axle     span
	anchors  []span // by body: where its anchor is
}

// vectorTerm is a vector of constant length that turns by an unknown, or a way along a direction that
// turns.
type vectorTerm struct {
	turn  int         // −1: does not turn
	way   int         // −1: a vector of constant length
	parts []pointPair // the vector at top-out is the sum of these; of a way, its direction
}

type pointPair struct{ from, to int } // points; −1 is the origin

type span struct{ from, to int }

// newVectorLoops is nil when the slides form a loop among themselves, which would fix one turn twice.
func newVectorLoops(m *mechanism.Mechanism) *vectorLoops {
	g := m.Tree()
	if g == nil {
		return nil
	}
	v := &vectorLoops{tree: g, unknowns: len(g.Links), turn: make([]int, len(m.Bodies)), anchors: make([]span, len(m.Bodies))}
	v.turn[m.Ground()] = -1
	for i := range g.Links {
		b := &g.Links[i]
		v.slides, v.body = append(v.slides, b.Slides()), append(v.body, b.Body)
		v.guide = append(v.guide, -1)
		if v.turn[b.Body] = i; b.Slides() {
			v.turn[b.Body] = v.turn[b.Parent]
			v.guide[i] = v.turn[b.Parent]
		}
	}
	for i := range g.Loops {
		lp := &g.Loops[i]
		a, b := v.chain(g, lp.A, lp.Point), v.chain(g, lp.B, lp.Point)
		v.loops = append(v.loops, v.add(append(a, reversed(b)...)))
	}
	v.axle = v.add(v.chain(g, m.Wheel(), m.Axle()))
	for b, point := range m.Anchors() {
		v.anchors[b] = v.add(v.chain(g, b, point))
	}
	return v
}

// chain lists the vectors from the origin to a point of a body.
func (v *vectorLoops) chain(g *mechanism.Group, body, point int) []vectorTerm {
	var terms []vectorTerm
	for i := g.LinkOf(body); i >= 0; i = g.Links[i].Up {
		b := &g.Links[i]
		if b.Slides() {
			terms = append(terms, vectorTerm{v.turn[b.Parent], i, []pointPair{{b.Through[0], b.Through[1]}}})
			continue
		}
		terms = append(terms, vectorTerm{i, -1, []pointPair{{b.Point, point}}})
		point = b.Point
	}
	return append(terms, vectorTerm{-1, -1, []pointPair{{-1, point}}})
}

func reversed(terms []vectorTerm) []vectorTerm {
	for i := range terms {
		for k, p := range terms[i].parts {
			terms[i].parts[k] = pointPair{p.to, p.from}
		}
	}
	return terms
}

// add keeps a sum. Vectors that turn together are one, so that what both sides of a loop share counts
// for nothing in bounds.
func (v *vectorLoops) add(terms []vectorTerm) span {
	from := len(v.terms)
next:
	for _, t := range terms {
		if t.way < 0 {
			for i := from; i < len(v.terms); i++ {
				if u := &v.terms[i]; u.turn == t.turn && u.way < 0 {
					u.parts = append(u.parts, t.parts...)
					continue next
				}
			}
		}
		v.terms = append(v.terms, t)
	}
	return span{from, len(v.terms)}
}
