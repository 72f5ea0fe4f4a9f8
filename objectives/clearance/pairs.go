package clearance

import "slices"

// pairKind says how the gap of a pair is found.
type pairKind uint8

const (
	solidPair pairKind = iota
	ringPair           // a is the wheel, of which the tyre is compared
	discPair           // a is the wheel, of which rim and spokes are compared; follows the pair of the ring
	hubPair            // a is the wheel, of which hub and rotor are compared
)

// pair is two parts that must keep clear of each other.
type pair struct {
	a, b        int     // in parts
	frame       int     // index of frameParts if b is part of the frame while a steers; −1: steering changes nothing
	lateral     float64 // lateral distance of the axes, mm; for a pair of the hub see drum.lateralGap
	wheelRadius float64 // radius in side view of what is compared of the wheel, mm; 0: no wheel
	section     float64 // radius of the section of the wheel, mm
	kind        pairKind
	steering    steerKnowledge
	rigid       bool    // the gap does not change with the travel
	symmetric   bool    // steering to the right is the mirror image of steering to the left
	flat        bool    // both parts are, so that the lateral distance is constant
	sameParts   bool    // the same two parts as in the pair before, compared otherwise
	hinge       hinge   // of solid pairs in one plane
	steer       float64 // rad, at which the pair is compared unless that has to be searched for
	name        string
}

// steerKnowledge is what is known beforehand about the steering angle at which a pair is closest.
type steerKnowledge uint8

const (
	steerFixed        steerKnowledge = iota // it is that of the pair
	steerFixedIfAhead                       // it is that of the pair if a stays ahead of the steering axis, otherwise unknown
	steerUnknown                            // it is unknown
)

// makePairs lists the pairs: those with the frame first and those of the wheel next, which are often the closest, and
// those of the hub last.
func (r *Assembly) makePairs(moving int) {
	for f := range r.frameParts {
		for a := range moving {
			if b := r.frameParts[f].part; !r.parts[a].joined || !r.parts[b].joined {
				r.addBothSides(a, b, f)
			}
		}
	}
	for b := 1; b < moving; b++ {
		r.addBothSides(0, b, -1)
	}
	for a := 1; a < moving; a++ {
		for b := a + 1; b < moving; b++ {
			if !connected(&r.parts[a], &r.parts[b]) {
				r.addBothSides(a, b, -1)
			}
		}
	}
	r.firstHubPair = len(r.pairs)
	for b := 1; b < moving; b++ {
		if len(r.parts[b].points) > 0 && !r.parts[b].joined && (r.balls == nil || !r.balls.handles(r, 0, b, true)) {
			r.add(pair{kind: hubPair, b: b, frame: -1})
		}
	}
}

// connected reports whether two parts belong to one body, share a point, or run in each other.
func connected(a, b *part) bool {
	shares := func(x, y []int) bool {
		return slices.ContainsFunc(x, func(v int) bool { return slices.Contains(y, v) })
	}
	return shares(a.bodies, b.bodies) || shares(a.points, b.points) || shares(a.guides, b.bodies) || shares(b.guides, a.bodies)
}

// addBothSides adds the pairs of two parts, including those with the mirror image of one of them where that differs.
func (r *Assembly) addBothSides(a, b, frame int) {
	if r.balls != nil {
		if r.balls.handles(r, a, b, false) {
			return
		}
		frame = -1 // does not steer either
	}
	p, q := &r.parts[a], &r.parts[b]
	left, right := p.paired && !q.paired && !q.central(), q.paired && !p.paired && !p.central()
	r.addAtAngles(a, b, frame)
	if left {
		r.addAtAngles(r.addMirrored(a), b, frame)
	}
	if right {
		r.addAtAngles(a, r.addMirrored(b), frame)
	}
}

// addAtAngles adds the pairs of two parts at the steering angles at which they can be closest. Two points at given
// distances from the axis are closer the smaller the angle between them about it. Points of two parts in the
// mid-plane are 0 or 180 degrees apart when the fork is straight, so that they are closest there or at the lock. A
// point on the left, ahead of the axis, approaches one behind the axis all the way to the left lock, if that is below
// 90 degrees.
func (r *Assembly) addAtAngles(a, b, frame int) {
	p, q := &r.parts[a], &r.parts[b]
	one := pair{a: a, b: b, frame: frame, symmetric: p.central() && q.central()}
	switch {
	case frame < 0:
		r.addWheelKinds(one)
	case onAxis(q):
		one.frame = -1
		r.addWheelKinds(one)
	case q.inMidPlane() && p.inMidPlane():
		r.addWheelKinds(one)
		one.b, one.steer, one.sameParts = r.frameParts[frame].atLock, r.lock, true
		r.addWheelKinds(one)
	case q.inMidPlane() && q.behind() && (p.spansMidPlane() || p.right() >= 0):
		one.b, one.steer, one.steering = r.frameParts[frame].atLock, r.lock, steerFixedIfAhead
		r.addWheelKinds(one)
	default:
		one.steering = steerUnknown
		r.addWheelKinds(one)
	}
}

// addWheelKinds adds a pair; for the wheel, one for the tyre and one for rim and spokes.
func (r *Assembly) addWheelKinds(p pair) {
	if !r.parts[p.a].wheel {
		r.add(p)
		return
	}
	p.kind = ringPair
	r.add(p)
	p.kind, p.sameParts = discPair, true
	r.add(p)
}

// add completes a pair and adds it.
func (r *Assembly) add(p pair) {
	a, b := &r.parts[p.a], &r.parts[p.b]
	p.name = a.name + " / " + b.name
	p.rigid = a.fixed && b.fixed || a.wheel && slices.Contains(b.bodies, r.wheelBody)
	p.flat = a.flat && b.flat
	p.lateral = r.lateral(&p)
	switch p.kind {
	case solidPair:
		if p.flat {
			p.hinge = r.hingeOf(p.a, p.b)
		}
	case ringPair:
		p.wheelRadius, p.section = r.ring.RadiusMM, r.tyreRadius
	case discPair:
		p.wheelRadius, p.section = r.ring.RadiusMM, r.discHalfWidth
	case hubPair:
		p.name = "hub / " + b.name
		p.wheelRadius = r.drum.radius
	}
	r.pairs = append(r.pairs, p)
}

// lateral is the lateral distance of a pair.
func (r *Assembly) lateral(p *pair) float64 {
	a, b := &r.parts[p.a], &r.parts[p.b]
	if p.kind == hubPair {
		return r.drum.lateralGap(b)
	}
	return max(0, a.right()-b.left(), b.right()-a.left())
}

// findReaching lists the pairs whose parts can reach through each other in the side view: those that steer together and have a
// constant lateral distance. The pair of the wheel's ring stands for rim and spokes too.
func (r *Assembly) findReaching() {
	for i := range r.firstHubPair {
		p := &r.pairs[i]
		a, b := &r.parts[p.a], &r.parts[p.b]
		if p.frame < 0 && p.flat && p.steer == 0 && (p.kind == ringPair || p.kind == solidPair && !a.pin() && !b.pin()) {
			r.reaching = append(r.reaching, i)
		}
	}
}
