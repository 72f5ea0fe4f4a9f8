package structure

import (
	"slices"

	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/skyline"
)

// Where few forces are redundant, that is, left open by equilibrium, they are the unknowns, and least complementary energy
// finds them. What equilibrium leaves open does not depend on sizes, so that most of the work is done once per stance. The
// displacements of a mesh, ten times as many, have to be found again for all sizes.

// redundancy says which forces are redundant in one side of a fork, and how they run through it. Loads out of the plane
// are a force across and moments about along and ahead, about the origin of the fork frame, so that one load passes
// unchanged from body to body, down a tree of joints to the ground.
type redundancy struct {
	few       bool     // the forces are the unknowns
	triples   []flow   // of redundant loads out of the plane: first those in joints outside the tree, then those across the mid-plane
	loops     int      // number of joints outside the tree
	shock     flow     // of the couple by a shock beside the mid-plane: on its lower eye, and against it on its upper one
	columns   []column // redundant loads in the plane under opposed loads, all in the mid-plane
	symmetric skyline.Pattern
	opposed   skyline.Pattern
	crossing  []crossing

	inTube, inSegment           [][]signed // redundant loads out of the plane, by member and by segment
	onTube, onSegment           [][]block
	loopsInTube, loopsInSegment [][]signed // those of them that opposed loads have too
	loopsOnTube, loopsOnSegment [][]block
}

// flow is how often a load is in each tube, on the turning body of each joint, and in each segment of a shaft: 1, 0 or −1.
type flow struct{ tubes, joints, segments []float64 }

// column is a load of 1 N or 1 N·mm on one side of a fork, in the plane.
type column struct {
	crossing int // shaft that crosses the mid-plane
	way      columnWay
}

type columnWay int

const (
	alongWay  columnWay = iota // a force along
	aheadWay                   // a force ahead
	turnWay                    // a couple
	normalWay                  // a force square to the shock, whose own force the mechanism's equilibrium finds
)

// mostRedundant is the number of redundant forces up to which they are the unknowns: the cost of each sizing rises with its
// square.
const mostRedundant = 10

// build finds the redundant forces of a fork from the mesh of symmetric loads.
func (r *redundancy) build(h *mesh, z *meshOf) {
	*r = redundancy{crossing: h.crossing}
	if z.tilt == parts.TiltFree {
		return // pivots pass no moments
	}
	for _, mb := range z.path.Members {
		if z.across.HalfWidthMM[mb.Body] == 0 {
			return // not a part of one side
		}
	}
	tree, ok := z.tree()
	if !ok {
		return
	}
	for j, pair := range z.shaftBodies {
		if tree[pair[0]] == j || tree[pair[1]] == j {
			continue
		}
		_, _, point := z.path.Mechanism.Joint(j)
		f := z.newFlow(h)
		f.joints[j] = 1
		f.add(z, tree, pair[1], point, 1)
		f.add(z, tree, pair[0], point, -1)
		r.triples = append(r.triples, f)
	}
	r.loops = len(r.triples)
	for _, c := range h.crossing {
		f := z.newFlow(h)
		f.add(z, tree, c.body, c.point, 1)
		r.triples = append(r.triples, f)
	}
	r.shock = z.newFlow(h)
	if z.shocks > 1 {
		for end, sign := range [2]float64{-1, 1} {
			body, point := z.path.Mechanism.ShockEnd(end)
			r.shock.add(z, tree, body, point, sign)
		}
	}
	r.findColumns(z)
	for i := range r.triples {
		r.triples[i].pass(h, i-r.loops)
	}
	r.shock.pass(h, -1)
	for i := range z.path.Members {
		in := r.in(func(f *flow) float64 { return f.tubes[i] })
		r.inTube, r.onTube = append(r.inTube, in), append(r.onTube, blocks(in))
		in = r.amongLoops(in)
		r.loopsInTube, r.loopsOnTube = append(r.loopsInTube, in), append(r.loopsOnTube, blocks(in))
	}
	for i := range h.segments {
		in := r.in(func(f *flow) float64 { return f.segments[i] })
		r.inSegment, r.onSegment = append(r.inSegment, in), append(r.onSegment, blocks(in))
		in = r.amongLoops(in)
		r.loopsInSegment, r.loopsOnSegment = append(r.loopsInSegment, in), append(r.loopsOnSegment, blocks(in))
	}
	r.few = max(len(r.columns)+3*r.loops, 3*len(r.triples)) <= mostRedundant
	full(&r.symmetric, 3*len(r.triples))
	full(&r.opposed, len(r.columns)+3*r.loops)
}

// in lists the redundant loads that are in a part.
func (r *redundancy) in(part func(*flow) float64) (which []signed) {
	for i := range r.triples {
		if sign := part(&r.triples[i]); sign != 0 {
			which = append(which, signed{i, sign})
		}
	}
	return which
}

func (r *redundancy) amongLoops(all []signed) []signed {
	return slices.DeleteFunc(slices.Clone(all), func(s signed) bool { return s.triple >= r.loops })
}

// blocks lists where the energy of a part belongs in the matrix.
func blocks(which []signed) (all []block) {
	for _, a := range which {
		for _, b := range which {
			if b.triple <= a.triple {
				all = append(all, block{3 * a.triple, 3 * b.triple, a.sign * b.sign})
			}
		}
	}
	return all
}

// findColumns lists the loads in the plane that a shaft across the mid-plane may have there. Along a shock in the middle
// equilibrium leaves none open, at the eye on a body that moves.
func (r *redundancy) findColumns(z *meshOf) {
	closes := -1
	for i, c := range r.crossing {
		if c.eye >= 0 && c.body != z.path.Mechanism.Ground() {
			closes = i // of two the lower one
		}
	}
	for i := range r.crossing {
		ways := []columnWay{alongWay, aheadWay, turnWay}
		if i == closes {
			ways = []columnWay{normalWay, turnWay}
		}
		for _, way := range ways {
			r.columns = append(r.columns, column{i, way})
		}
	}
}

// full is the pattern of a matrix without zeros.
func full(p *skyline.Pattern, n int) {
	p.Reset(n)
	for i := range n {
		p.Couple(i, 0)
	}
	p.Close()
}

// tree finds for each body the joint towards the ground by which loads out of the plane run; −1: none. It is false
// where a joint is on a part of a moving body that no member leads to.
func (z *meshOf) tree() (joints []int, ok bool) {
	m := z.path.Mechanism
	joints = make([]int, len(m.Bodies))
	for b := range joints {
		joints[b] = -1
	}
	reached := []int{m.Ground()}
	for i := 0; i < len(reached); i++ {
		for j, pair := range z.shaftBodies {
			body, point := -1, 0
			switch reached[i] {
			case pair[0]:
				body = pair[1]
			case pair[1]:
				body = pair[0]
			default:
				continue
			}
			if body == m.Ground() || joints[body] >= 0 {
				continue
			}
			if _, _, point = m.Joint(j); z.path.Node(body, point) < 0 {
				return nil, false
			}
			joints[body] = j
			reached = append(reached, body)
		}
	}
	return joints, true
}

func (z *meshOf) newFlow(h *mesh) flow {
	return flow{make([]float64, len(z.path.Members)), make([]float64, len(z.path.Joints)), make([]float64, len(h.segments))}
}

// add lets a load that acts on a body at a point run down the tree to the ground.
func (f *flow) add(z *meshOf, tree []int, body, point int, load float64) {
	p := z.path
	nodes := make([]float64, len(p.Members)+len(p.Mechanism.Bodies))
	put := func(body, point int, load float64) {
		if n := p.Node(body, point); n >= 0 { // otherwise on the frame
			nodes[n] += load
		}
	}
	for put(body, point, load); tree[body] >= 0; put(body, point, load) {
		j := tree[body]
		_, _, point = p.Mechanism.Joint(j)
		put(body, point, -load)
		if pair := z.shaftBodies[j]; pair[1] == body {
			f.joints[j] -= load
			body = pair[0]
		} else {
			f.joints[j] += load
			body = pair[1]
		}
	}
	for i := len(p.Members) - 1; i >= 0; i-- {
		f.tubes[i] += nodes[i]
		nodes[p.From[i]] += nodes[i]
	}
}

// pass finds what the segments of shafts have of a load: that on the bodies beyond, or, where the body that the shaft is
// fixed to is beyond, what crosses the mid-plane less that on the bodies on this side. crossing is where the load comes
// from if that is the mid-plane.
func (f *flow) pass(h *mesh, crossing int) {
	for i := range h.segments {
		s := &h.segments[i]
		for _, b := range s.shears {
			if b.force < len(f.joints) {
				f.segments[i] += 2 * b.share * f.joints[b.force]
			}
		}
		if crossing >= 0 && s.passes == crossing {
			f.segments[i]++
		}
	}
}
