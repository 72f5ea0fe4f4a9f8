package clearance

import (
	"math"
	"slices"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/solid"
	"forkfront/kinematics/stance"
	"forkfront/objectives/fork"
)

// steerSteps is the number of steps from lock to lock at which gaps are evaluated before the smallest is refined. A
// power of two.
const steerSteps = 32

// Assembly is a fork in its package, prepared for searches: its parts and the pairs of them that must keep clear of
// each other. It never changes, so that all workers share it.
type Assembly struct {
	Missing string        // why no clearance can be computed; empty if it can
	Package *fork.Package // what it was prepared from

	ring          solid.Ring
	tyreRadius    float64 // radius of the tyre's section, mm
	discHalfWidth float64 // half the width of rim and spokes, mm
	drum          drum
	lock          float64 // rad
	parts         []part
	pairs         []pair
	reaching      []int // indices of the pairs whose parts can reach through each other
	firstHubPair  int   // index of the first pair of the hub; all later ones are of the hub too
	points        int   // of the mechanism
	freeEnds      []end // ends of parts that are not on a point of the mechanism, or offset from one
	moving        []int // indices of the positions that move with the travel
	members       []float64
	carrier       []int  // a body of each point; −1: none
	onGround      []bool // by point: it does not move with the travel
	wheelBody     int    // body that carries the axle
	frameParts    []framePart
	balls         *ballJoints // of a fork that steers about ball joints, otherwise nil
}

// framePart is a part of the frame as seen from what steers.
type framePart struct {
	part         int                                    // index of the part
	atLock       int                                    // index of the same part at the left lock
	at           [steerSteps + 1]solid.Segment[float64] // by step, from the right lock to the left one
	axisDistance float64                                // largest distance from the steering axis, mm
}

// NewAssembly prepares a mechanism in its package. Of the shock only the count is used.
func NewAssembly(p *fork.Package, m *mechanism.Mechanism, x *fork.Across, c *stance.Chassis, shock *fork.Shock) *Assembly {
	r := &Assembly{
		Package: p, tyreRadius: p.TyreWidthMM / 2, discHalfWidth: p.RimWidthMM / 2, drum: drum{p.HubWidthMM / 2, p.RotorRadiusMM}, lock: p.LockRad,
		members: p.Members, wheelBody: m.Wheel(), points: len(m.Points) + 2*len(m.Slides()),
	}
	r.ring = solid.Ring{RadiusMM: c.FrontRadiusMM - r.tyreRadius}
	if r.Missing = m.Unsized(); r.Missing != "" {
		return r
	}
	for point := range m.Points {
		r.carrier = append(r.carrier, -1)
		on := m.PointBodies(point)
		if len(on) > 0 {
			r.carrier[point] = slices.Index(m.Bodies, on[0])
		}
		r.onGround = append(r.onGround, slices.Contains(on, m.Bodies[m.Ground()]))
	}
	for _, s := range m.Slides() {
		r.onGround = append(r.onGround, false, false)
		r.carrier = append(r.carrier, s.Slider, s.Slider) // of its mouth and foot
	}
	r.parts = parts(p, m, x, shock)
	if r.setBallJoints(p, m); r.Missing != "" {
		return r
	}
	moving := len(r.parts)
	for i := range p.Frame {
		r.addFrame(&p.Frame[i])
	}
	for i := range r.parts {
		r.indexEnds(&r.parts[i])
	}
	r.makePairs(moving)
	if r.balls != nil {
		r.balls.prepare(r)
	}
	r.findReaching()
	r.findMoving(m)
	return r
}

// steerAngle is the steering angle of a step, in rad, positive to the left.
func (r *Assembly) steerAngle(step int) float64 {
	return r.lock * float64(2*step-steerSteps) / steerSteps
}

// addFrame adds a part of the frame, and its positions as seen from what steers.
func (r *Assembly) addFrame(c *fork.Capsule) {
	t := framePart{part: len(r.parts), atLock: len(r.parts) + 1}
	for i := range t.at {
		sin, cos := math.Sincos(r.steerAngle(i))
		t.at[i] = c.Ends.Turned(cos, -sin)
	}
	for _, e := range c.Ends {
		t.axisDistance = max(t.axisDistance, math.Hypot(e.Ahead, e.Left))
	}
	atLock := *c
	atLock.Ends = t.at[steerSteps]
	r.parts = append(r.parts, fixture(c), fixture(&atLock))
	r.frameParts = append(r.frameParts, t)
}

// addMirrored adds the mirror image of a part and returns its index.
func (r *Assembly) addMirrored(of int) int {
	r.parts = append(r.parts, r.parts[of].mirrored())
	return len(r.parts) - 1
}

// findMoving finds the indices of the positions that move with the travel.
func (r *Assembly) findMoving(m *mechanism.Mechanism) {
	for point, body := range r.carrier {
		if body >= 0 && body != m.Ground() {
			r.moving = append(r.moving, point)
		}
	}
	for i := range r.freeEnds {
		if slices.Contains(r.moving, r.freeEnds[i].point) {
			r.moving = append(r.moving, r.points+i)
		}
	}
}

// indexEnds sets the indices of the ends of a part among the positions: the points of the mechanism, then the free
// ends.
func (r *Assembly) indexEnds(p *part) {
	for k := range p.ends {
		e := p.ends[k]
		e.shift.Left = 0
		switch {
		case e.point >= 0 && e.shift == solid.Spot[float64]{}:
			p.spots[k] = e.point
		case slices.Contains(r.freeEnds, e):
			p.spots[k] = r.points + slices.Index(r.freeEnds, e)
		default:
			p.spots[k] = r.points + len(r.freeEnds)
			r.freeEnds = append(r.freeEnds, e)
		}
	}
	p.flat = p.spots[0] == p.spots[1] || p.right() == p.left()
}

// closestOnWheel is where a segment, as seen from the axle, is closest to the tyre's ring or to the disc of rim and spokes, as a fraction
// of its length, and the square of the distance there, in mm².
func (r *Assembly) closestOnWheel(g *solid.Segment[float64], disc bool) (on, square float64) {
	if on, square = r.ring.Closest(g); disc {
		return r.ring.ClosestOnDisc(g, on)
	}
	return on, square
}
