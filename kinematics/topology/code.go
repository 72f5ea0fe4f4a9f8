package topology

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Canonical is the topology with its bodies renumbered: the ground is 0, links follow, then the body that carries the
// axle and, last, the one that carries only the caliper. Links are in the order of their distance from the ground in
// pivots and, where that leaves a choice, so that the sorted list of pivots is least, then the slide, then the shock's
// bodies. A pivot and the shock name the body nearer to the ground first. Two topologies are the same fork if, and
// only if, their canonical forms are equal.
func (t *Topology) Canonical() Topology {
	distance := t.graph().distances(t.Ground)
	var links []int
	for b := range t.Bodies {
		if b != t.Ground && b != t.Axle && b != t.Caliper {
			links = append(links, b)
		}
	}
	slices.SortStableFunc(links, func(a, b int) int { return cmp.Compare(distance[a], distance[b]) })
	number := make([]int, t.Bodies)
	number[t.Ground], number[t.Axle] = 0, len(links)+1
	if t.Floating() {
		number[t.Caliper] = len(links) + 2
	}
	var best *Topology
	var arrange func(i int)
	arrange = func(i int) {
		if i == len(links) {
			if one := t.numbered(number, distance); best == nil || one.compare(best) < 0 {
				best = &one
			}
			return
		}
		for k := i; k < len(links) && distance[links[k]] == distance[links[i]]; k++ {
			links[i], links[k] = links[k], links[i]
			number[links[i]] = i + 1
			arrange(i + 1)
			links[i], links[k] = links[k], links[i]
		}
	}
	arrange(0)
	return *best
}

// numbered is the topology under a numbering, with pivots sorted.
func (t *Topology) numbered(number, distance []int) Topology {
	pair := func(p [2]int) [2]int {
		a, b := number[p[0]], number[p[1]]
		if cmp.Or(cmp.Compare(distance[p[0]], distance[p[1]]), cmp.Compare(a, b)) > 0 {
			a, b = b, a
		}
		return [2]int{a, b}
	}
	one := Topology{Bodies: t.Bodies, Slide: -1, Ground: number[t.Ground], Axle: number[t.Axle], Caliper: number[t.Caliper], Shock: pair(t.Shock)}
	for _, p := range t.Pivots {
		one.Pivots = append(one.Pivots, pair(p))
	}
	slices.SortFunc(one.Pivots, comparePairs)
	if t.Slide >= 0 {
		one.Slide = slices.Index(one.Pivots, pair(t.Pivots[t.Slide]))
	}
	return one
}

func comparePairs(a, b [2]int) int {
	return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
}

// compare orders two numberings of the same fork.
func (t *Topology) compare(o *Topology) int {
	return cmp.Or(slices.CompareFunc(t.Pivots, o.Pivots, comparePairs), cmp.Compare(t.Slide, o.Slide), comparePairs(t.Shock, o.Shock))
}

// letters of the bodies in a code; links have their number.
const (
	letterGround  = 'c'
	letterLeg     = 'l'
	letterCarrier = 'b'
	markSlide     = "s"
)

// letter is a body of a canonical topology in its code.
func (t *Topology) letter(body int) string {
	switch body {
	case t.Ground:
		return string(letterGround)
	case t.Axle:
		return string(letterLeg)
	case t.Caliper:
		return string(letterCarrier)
	}
	return fmt.Sprint(body)
}

// Code writes a canonical topology as text that names it: its pivots by the bodies that they join (c ground, l axle, b
// caliper, links by number), then the bodies of the shock, as in c1-c2-1l-2l+c1. A slide has an s before it.
func (t *Topology) Code() string {
	var pivots []string
	for i, p := range t.Pivots {
		text := t.letter(p[0]) + t.letter(p[1])
		if i == t.Slide {
			text = markSlide + text
		}
		pivots = append(pivots, text)
	}
	return strings.Join(pivots, "-") + "+" + t.letter(t.Shock[0]) + t.letter(t.Shock[1])
}

// Parse reads a code. The topology may be numbered otherwise than in its canonical form, which is returned. The error
// says what is wrong with the text, or why it describes no fork that is enumerated.
func Parse(code string) (Topology, error) {
	pivots, shock, ok := strings.Cut(code, "+")
	if !ok {
		return Topology{}, fmt.Errorf("%q is not a code; expected pivots, + and the bodies of the shock, as in c1-c2-1l-2l+c1", code)
	}
	t := Topology{Slide: -1}
	text := strings.Split(pivots, "-")
	for i, p := range text {
		var slides bool
		if text[i], slides = strings.CutPrefix(p, markSlide); !slides {
			continue
		}
		if t.Slide >= 0 {
			return t, fmt.Errorf("%q has two slides; at most one is allowed", code)
		}
		t.Slide = i
	}
	if len(text) > (3*MostBodies-4)/2 {
		return t, fmt.Errorf("%q has %d pivots; at most %d are allowed", code, len(text), (3*MostBodies-4)/2)
	}
	links, carrier := 0, false
	for _, p := range append(text, shock) {
		if len(p) != 2 {
			return t, fmt.Errorf("%q in %q; expected two bodies: c, l, b or the number of a link", p, code)
		}
		for _, r := range p {
			switch {
			case r == letterGround, r == letterLeg:
			case r == letterCarrier:
				carrier = true
			case r >= '1' && r <= '9':
				links = max(links, int(r-'0'))
			default:
				return t, fmt.Errorf("%q in %q is no body; expected c, l, b or the number of a link", string(r), code)
			}
		}
	}
	t.Axle, t.Bodies = links+1, links+2
	if t.Caliper = t.Axle; carrier {
		t.Caliper++
		t.Bodies++
	}
	for _, p := range text {
		t.Pivots = append(t.Pivots, t.pairOf(p))
	}
	t.Shock = t.pairOf(shock)
	if err := t.Check(); err != nil {
		return t, fmt.Errorf("%q: %w", code, err)
	}
	return t.Canonical(), nil
}

func (t *Topology) pairOf(text string) (pair [2]int) {
	for i, r := range text {
		switch r {
		case letterGround:
		case letterLeg:
			pair[i] = t.Axle
		case letterCarrier:
			pair[i] = t.Caliper
		default:
			pair[i] = int(r - '0')
		}
	}
	return pair
}

// Check tells why a topology is none of those that are enumerated with trains of any length: a rigid part, an idle
// body, a carrier that guides the axle.
func (t *Topology) Check() error {
	g := &graph{n: t.Bodies}
	if t.Bodies > MostBodies {
		return fmt.Errorf("%d bodies; at most %d are allowed", t.Bodies, MostBodies)
	}
	for _, p := range t.Pivots {
		if p[0] == p[1] || g.next[p[0]].has(p[1]) {
			return errors.New("each pivot joins two bodies, and no other pivot the same two")
		}
		g.join(p[0], p[1])
	}
	all := bodies(1)<<t.Bodies - 1
	if f := g.freedom(all); f != 1 {
		return fmt.Errorf("%d degrees of freedom (3 × %d moving bodies − 2 × %d joints); a fork has exactly 1", f, t.Bodies-1, len(t.Pivots))
	}
	for b := range t.Bodies {
		if g.rigid(b) {
			return errors.New("part of the linkage is rigid")
		}
	}
	c := Chain{Bodies: t.Bodies, Pivots: t.Pivots, graph: *g}
	switch of := g.spans(); {
	case t.Shock[0] == t.Shock[1]:
		return errors.New("both ends of the shock are on one body")
	case t.Axle == t.Ground:
		return errors.New("the axle is on the ground")
	case !c.calipers(t):
		return errors.New("the caliper is on a body that no pivot joins to the one with the axle")
	case !t.kept(of, true):
		d, guide := t.duties(of)
		if guide.has(t.Caliper) && t.Floating() {
			return errors.New("the carrier of the caliper guides the axle: put the axle on it")
		}
		return fmt.Errorf("%d bodies bear no load", t.Bodies-d.Guide-d.Caliper-d.Shock)
	}
	return nil
}
