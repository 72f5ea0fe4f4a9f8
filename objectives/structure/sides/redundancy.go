package sides

import (
	"slices"

	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/skyline"
)

// Where few forces are redundant, that is, left open by equilibrium, they are the unknowns, and least complementary energy
// finds them. What equilibrium leaves open does not depend on sizes, so that most of the work is done once per stance. The
// displacements of a mesh, ten times as many, have to be found again for all sizes.

// Redundancy says which forces are redundant in one side of a fork, and how they run through it. Loads out of the plane
// are a force across and moments about along and ahead, about the origin of the fork frame, so that one load passes
// unchanged from body to body, down a tree of joints to the ground.
type Redundancy struct {
	Few       bool     // the forces are the unknowns
	Triples   []Flow   // of redundant loads out of the plane: first those in joints outside the tree, then those across the mid-plane
	loops     int      // number of joints outside the tree
	Shock     Flow     // of the couple by a shock beside the mid-plane: on its lower eye, and against it on its upper one
	Columns   []Column // redundant loads in the plane under opposed loads, all in the mid-plane
	Symmetric skyline.Pattern
	Opposed   skyline.Pattern
	Crossing  []Crossing

	InTube, InSegment           [][]Signed // redundant loads out of the plane, by member and by segment
	OnTube, OnSegment           [][]Block
	LoopsInTube, LoopsInSegment [][]Signed // those of them that opposed loads have too
	LoopsOnTube, LoopsOnSegment [][]Block
}

// Flow is how often a load is in each tube, on the turning body of each joint, and in each segment of a shaft: 1, 0 or −1.
type Flow struct{ Tubes, joints, Segments []float64 }

// Column is a load of 1 N or 1 N·mm on one side of a fork, in the plane.
type Column struct {
	Crossing int // shaft that crosses the mid-plane
	Way      Way
}

// Way is how such a load acts.
type Way int

// Ways of redundant loads in the plane.
const (
	AlongWay  Way = iota // a force along
	AheadWay             // a force ahead
	TurnWay              // a couple
	NormalWay            // a force square to the shock, whose own force the mechanism's equilibrium finds
)

// mostRedundant is the number of redundant forces up to which they are the unknowns: the cost of each sizing rises with its
// square.
const mostRedundant = 10

// Build finds the redundant forces of a fork from the mesh of symmetric loads.
func (r *Redundancy) Build(h *Mesh, z *Fork) {
	*r = Redundancy{Crossing: h.crossing}
	if z.Tilt == parts.TiltFree {
		return // pivots pass no moments
	}
	for _, mb := range z.Path.Members {
		if z.Across.HalfWidthMM[mb.Body] == 0 {
			return // not a part of one side
		}
	}
	tree, ok := z.tree()
	if !ok {
		return
	}
	for j, pair := range z.ShaftBodies {
		if tree[pair[0]] == j || tree[pair[1]] == j {
			continue
		}
		_, _, point := z.Path.Mechanism.Joint(j)
		f := z.newFlow(h)
		f.joints[j] = 1
		f.add(z, tree, pair[1], point, 1)
		f.add(z, tree, pair[0], point, -1)
		r.Triples = append(r.Triples, f)
	}
	r.loops = len(r.Triples)
	for _, c := range h.crossing {
		f := z.newFlow(h)
		f.add(z, tree, c.Body, c.Point, 1)
		r.Triples = append(r.Triples, f)
	}
	r.Shock = z.newFlow(h)
	if z.Shocks > 1 {
		for end, sign := range [2]float64{-1, 1} {
			body, point := z.Path.Mechanism.ShockEnd(end)
			r.Shock.add(z, tree, body, point, sign)
		}
	}
	r.findColumns(z)
	for i := range r.Triples {
		r.Triples[i].pass(h, i-r.loops)
	}
	r.Shock.pass(h, -1)
	for i := range z.Path.Members {
		in := r.in(func(f *Flow) float64 { return f.Tubes[i] })
		r.InTube, r.OnTube = append(r.InTube, in), append(r.OnTube, blocks(in))
		in = r.amongLoops(in)
		r.LoopsInTube, r.LoopsOnTube = append(r.LoopsInTube, in), append(r.LoopsOnTube, blocks(in))
	}
	for i := range h.Segments {
		in := r.in(func(f *Flow) float64 { return f.Segments[i] })
		r.InSegment, r.OnSegment = append(r.InSegment, in), append(r.OnSegment, blocks(in))
		in = r.amongLoops(in)
		r.LoopsInSegment, r.LoopsOnSegment = append(r.LoopsInSegment, in), append(r.LoopsOnSegment, blocks(in))
	}
	r.Few = max(len(r.Columns)+3*r.loops, 3*len(r.Triples)) <= mostRedundant
	full(&r.Symmetric, 3*len(r.Triples))
	full(&r.Opposed, len(r.Columns)+3*r.loops)
}

// in lists the redundant loads that are in a part.
func (r *Redundancy) in(part func(*Flow) float64) (which []Signed) {
	for i := range r.Triples {
		if sign := part(&r.Triples[i]); sign != 0 {
			which = append(which, Signed{i, sign})
		}
	}
	return which
}

func (r *Redundancy) amongLoops(all []Signed) []Signed {
	return slices.DeleteFunc(slices.Clone(all), func(s Signed) bool { return s.Triple >= r.loops })
}

// blocks lists where the energy of a part belongs in the matrix.
func blocks(which []Signed) (all []Block) {
	for _, a := range which {
		for _, b := range which {
			if b.Triple <= a.Triple {
				all = append(all, Block{3 * a.Triple, 3 * b.Triple, a.Sign * b.Sign})
			}
		}
	}
	return all
}

// findColumns lists the loads in the plane that a shaft across the mid-plane may have there. Along a shock in the middle
// equilibrium leaves none open, at the eye on a body that moves.
func (r *Redundancy) findColumns(z *Fork) {
	closes := -1
	for i, c := range r.Crossing {
		if c.Eye >= 0 && c.Body != z.Path.Mechanism.Ground() {
			closes = i // of two the lower one
		}
	}
	for i := range r.Crossing {
		ways := []Way{AlongWay, AheadWay, TurnWay}
		if i == closes {
			ways = []Way{NormalWay, TurnWay}
		}
		for _, way := range ways {
			r.Columns = append(r.Columns, Column{i, way})
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
func (z *Fork) tree() (joints []int, ok bool) {
	m := z.Path.Mechanism
	joints = make([]int, len(m.Bodies))
	for b := range joints {
		joints[b] = -1
	}
	reached := []int{m.Ground()}
	for i := 0; i < len(reached); i++ {
		for j, pair := range z.ShaftBodies {
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
			if _, _, point = m.Joint(j); z.Path.Node(body, point) < 0 {
				return nil, false
			}
			joints[body] = j
			reached = append(reached, body)
		}
	}
	return joints, true
}

func (z *Fork) newFlow(h *Mesh) Flow {
	return Flow{make([]float64, len(z.Path.Members)), make([]float64, len(z.Path.Joints)), make([]float64, len(h.Segments))}
}

// add lets a load that acts on a body at a point run down the tree to the ground.
func (f *Flow) add(z *Fork, tree []int, body, point int, load float64) {
	p := z.Path
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
		if pair := z.ShaftBodies[j]; pair[1] == body {
			f.joints[j] -= load
			body = pair[0]
		} else {
			f.joints[j] += load
			body = pair[1]
		}
	}
	for i := len(p.Members) - 1; i >= 0; i-- {
		f.Tubes[i] += nodes[i]
		nodes[p.From[i]] += nodes[i]
	}
}

// pass finds what the segments of shafts have of a load: that on the bodies beyond, or, where the body that the shaft is
// fixed to is beyond, what crosses the mid-plane less that on the bodies on this side. crossing is where the load comes
// from if that is the mid-plane.
func (f *Flow) pass(h *Mesh, crossing int) {
	for i := range h.Segments {
		s := &h.Segments[i]
		for _, b := range s.Shears {
			if b.Force < len(f.joints) {
				f.Segments[i] += 2 * b.Share * f.joints[b.Force]
			}
		}
		if crossing >= 0 && s.Passes == crossing {
			f.Segments[i]++
		}
	}
}

// Block is where the energy of two redundant loads out of the plane in one part belongs in the matrix.
type Block struct {
	Row, Column int
	Sign        float64
}

// Signed is a redundant load out of the plane and how often it is somewhere.
type Signed struct {
	Triple int
	Sign   float64
}
