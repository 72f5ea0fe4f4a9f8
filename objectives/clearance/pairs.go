package clearance

import "slices"

// pairKind tells how the gap of a pair is found.
type pairKind uint8

const (
	solidPair pairKind = iota
	ringPair           // a is the wheel, of which the tyre counts
	webPair            // a is the wheel, of which rim and spokes count; follows the ring's pair
	hubPair            // a is the wheel, of which only hub and rotor count
)

// pair is two parts that must keep clear of each other.
type pair struct {
	a, b    int     // in parts
	frame   int     // in turned: b is part of the frame while a steers; −1: steering changes nothing
	aside   float64 // how far the parts are apart across the plane, mm; a hub's pair: see drum.aside
	around  float64 // how far what counts of a wheel reaches about the axle in the plane, mm; 0: no wheel
	thick   float64 // how thick the wheel is around that
	kind    pairKind
	turning turning
	rigid   bool    // nothing changes over the travel
	oneSide bool    // steering to the right is the mirror image of steering to the left
	flat    bool    // both parts are, so the gap is that in the plane and aside
	again   bool    // the same two parts as those of the pair before, looked at otherwise
	steer   float64 // rad, at which it is looked at unless that is free
	name    string
}

// turning is what is known beforehand of the steering angle at which a pair is closest.
type turning uint8

const (
	settled turning = iota // it is that of the pair
	ifAhead                // so it is as long as a stays ahead of the steering axis; not known otherwise
	turns                  // it is not known
)

// pairUp finds the pairs: those with the frame first and those of the wheel next, since they are often
// the closest, and those of its hub last.
func (r *Room) pairUp(moving int) {
	for f := range r.turned {
		for a := range moving {
			if b := r.turned[f].part; !r.parts[a].joined || !r.parts[b].joined {
				r.meet(a, b, f)
			}
		}
	}
	for b := 1; b < moving; b++ {
		r.meet(0, b, -1)
	}
	for a := 1; a < moving; a++ {
		for b := a + 1; b < moving; b++ {
			if !touching(&r.parts[a], &r.parts[b]) {
				r.meet(a, b, -1)
			}
		}
	}
	r.hubs = len(r.pairs)
	for b := 1; b < moving; b++ {
		if len(r.parts[b].points) > 0 && !r.parts[b].joined && (r.balls == nil || !r.balls.taken(r, 0, b, true)) {
			r.add(pair{kind: hubPair, b: b, frame: -1})
		}
	}
}

// touching tells whether two parts are one body, or meet at a point.
func touching(a, b *part) bool {
	shares := func(x, y []int) bool {
		return slices.ContainsFunc(x, func(v int) bool { return slices.Contains(y, v) })
	}
	return shares(a.bodies, b.bodies) || shares(a.points, b.points)
}

// meet adds the pairs of two parts: with the part on the other side as another one where that is no
// mirror image.
func (r *Room) meet(a, b, frame int) {
	if r.balls != nil {
		if r.balls.taken(r, a, b, false) {
			return
		}
		frame = -1 // does not steer either
	}
	p, q := &r.parts[a], &r.parts[b]
	left, right := p.twin && !q.twin && !q.central(), q.twin && !p.twin && !p.central()
	r.face(a, b, frame)
	if left {
		r.face(r.twin(a), b, frame)
	}
	if right {
		r.face(a, r.twin(b), frame)
	}
}

// face adds the pairs of two parts at the steering angles at which they have to be looked at. Two spots
// at distances p and q from the axis come closer the smaller the angle between them about it. Those of
// two parts in the mid-plane have 0 or 180 degrees between them when the fork stands straight, so they
// are closest then, or at the lock. A spot on the left, and ahead of the axis, comes ever closer to one
// behind the axis on its way to the left lock, below 90 degrees.
func (r *Room) face(a, b, frame int) {
	p, q := &r.parts[a], &r.parts[b]
	one := pair{a: a, b: b, frame: frame, oneSide: p.central() && q.central()}
	switch {
	case frame < 0:
		r.wheelOrSolid(one)
	case onAxis(q):
		one.frame = -1
		r.wheelOrSolid(one)
	case q.inMiddle() && p.inMiddle():
		r.wheelOrSolid(one)
		one.b, one.steer, one.again = r.turned[frame].atLock, r.lock, true
		r.wheelOrSolid(one)
	case q.inMiddle() && q.behind() && (p.across() || p.right() >= 0):
		one.b, one.steer, one.turning = r.turned[frame].atLock, r.lock, ifAhead
		r.wheelOrSolid(one)
	default:
		one.turning = turns
		r.wheelOrSolid(one)
	}
}

// wheelOrSolid adds a pair for each of what counts of a wheel.
func (r *Room) wheelOrSolid(p pair) {
	if !r.parts[p.a].wheel {
		r.add(p)
		return
	}
	p.kind = ringPair
	r.add(p)
	p.kind, p.again = webPair, true
	r.add(p)
}

// add completes a pair.
func (r *Room) add(p pair) {
	a, b := &r.parts[p.a], &r.parts[p.b]
	p.name = a.name + " / " + b.name
	p.rigid = a.still && b.still || a.wheel && slices.Contains(b.bodies, r.wheel)
	p.flat = a.flat && b.flat
	p.aside = max(0, a.right()-b.left(), b.right()-a.left())
	switch p.kind {
	case ringPair:
		p.around, p.thick = r.ring.RadiusMM, r.tube
	case webPair:
		p.around, p.thick = r.ring.RadiusMM, r.web
	case hubPair:
		p.name = "hub / " + b.name
		p.around, p.aside = r.drum.reach, r.drum.aside(b)
	}
	r.pairs = append(r.pairs, p)
}
