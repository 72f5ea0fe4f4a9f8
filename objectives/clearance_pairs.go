package objectives

import (
	"math"
	"slices"

	"forkfront/kinematics"
)

// pairKind tells how the gap of a pair is found.
type pairKind int

const (
	solidPair pairKind = iota
	wheelPair          // a is the wheel
	hubPair            // a is the wheel, of which only hub and rotor count
)

// pair is two parts that must keep clear of each other.
type pair struct {
	kind    pairKind
	a, b    int // in parts
	frame   int // in turned: b is part of the frame while a steers; −1: steering changes nothing
	rigid   bool
	oneSide bool // steering to the right is the mirror image of steering to the left
	name    string
}

// steerSteps is the number of steps from lock to lock in which gaps are looked for, before the
// smallest is found exactly. A power of two.
const steerSteps = 32

// Room is the package of a fork, ready to be looked through: its parts and the pairs of them that
// must keep clear. It never changes, so all workers share it.
type Room struct {
	Missing string // why there can be no clearance; empty: there can

	ring    kinematics.Ring
	tube    float64 // radius of the tyre
	web     float64 // half the width of rim and spokes
	hub     float64 // half the width of the hub
	rotor   float64 // how far hub and rotor reach
	lock    float64 // rad
	parts   []part
	pairs   []pair
	members []float64
	carrier []int                   // a body of each point
	wheel   int                     // body that carries the axle
	cos     [steerSteps + 1]float64 // from lock to the right to lock to the left
	sin     [steerSteps + 1]float64
	turned  []turnedFrame
	balls   *ballRoom // of a fork that steers about ball joints; else nil
}

// turnedFrame is a part of the frame as what steers sees it.
type turnedFrame struct {
	at    [steerSteps + 1]kinematics.Segment[float64]
	reach float64 // farthest from the steering axis
}

// NewRoom makes a package ready for a mechanism. The shock tells how many stand side by side.
func NewRoom(p *Package, m *kinematics.Mechanism, x *Across, c *kinematics.Chassis, shock *Shock) *Room {
	r := &Room{
		tube: p.TyreWidthMM / 2, web: p.RimWidthMM / 2, hub: p.HubWidthMM / 2, lock: p.LockRad,
		rotor: p.RotorRadiusMM, members: p.Members, wheel: m.Wheel(),
	}
	r.ring = kinematics.Ring{RadiusMM: c.FrontRadiusMM - r.tube}
	if r.Missing = m.Unsized(); r.Missing != "" {
		return r
	}
	for point := range m.Points {
		r.carrier = append(r.carrier, -1)
		if on := m.PointBodies(point); len(on) > 0 {
			r.carrier[point] = slices.Index(m.Bodies, on[0])
		}
	}
	for i := range r.cos {
		r.sin[i], r.cos[i] = math.Sincos(r.steer(i))
	}
	r.parts = p.parts(m, x, shock)
	if r.onBalls(p, m); r.Missing != "" {
		return r
	}
	for i := range p.Frame {
		r.addFrame(&p.Frame[i])
	}
	r.pairUp(len(p.Frame))
	return r
}

// steer is the steering angle of a step, in rad, positive to the left.
func (r *Room) steer(step int) float64 { return r.lock * float64(2*step-steerSteps) / steerSteps }

// addFrame adds a part of the frame, and how it looks from what steers.
func (r *Room) addFrame(c *Capsule) {
	r.parts = append(r.parts, c.part())
	var t turnedFrame
	for i := range t.at {
		t.at[i] = c.Ends.Turned(r.cos[i], -r.sin[i])
	}
	for _, e := range c.Ends {
		t.reach = max(t.reach, math.Hypot(e.Ahead, e.Left))
	}
	r.turned = append(r.turned, t)
}

// pairUp finds the pairs: those of the wheel first, since they are often the closest. The last parts
// are the frame's.
func (r *Room) pairUp(frame int) {
	moving := len(r.parts) - frame
	for b := 1; b < moving+frame; b++ {
		if b < moving {
			r.pair(0, b, -1, wheelPair)
		} else {
			r.pair(0, b, b-moving, wheelPair)
		}
	}
	for a := 1; a < moving; a++ {
		for b := a + 1; b < moving; b++ {
			if !touching(&r.parts[a], &r.parts[b]) {
				r.pair(a, b, -1, solidPair)
			}
		}
		for b := range frame {
			if !r.parts[a].joined || !r.parts[moving+b].joined {
				r.pair(a, moving+b, b, solidPair)
			}
		}
	}
	for b := 1; b < moving; b++ {
		if len(r.parts[b].points) > 0 && !r.parts[b].joined {
			r.pair(0, b, -1, hubPair)
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

// pair adds a pair, and as another one the part on the other side where that is no mirror image.
func (r *Room) pair(a, b, frame int, kind pairKind) {
	if r.balls != nil {
		if r.balls.taken(r, a, b, kind == hubPair) {
			return
		}
		frame = -1 // does not steer either
	}
	p, q := &r.parts[a], &r.parts[b]
	one := pair{kind: kind, a: a, b: b, frame: frame, name: p.name + " / " + q.name}
	if kind == hubPair {
		one.name = "hub / " + q.name
	}
	one.rigid = p.still && q.still || frame < 0 && p.wheel && slices.Contains(q.bodies, r.wheel)
	if frame >= 0 {
		one.oneSide = p.central() && q.central()
		if onAxis(q) {
			one.frame = -1
		}
	}
	r.pairs = append(r.pairs, one)
	if p.twin && !q.twin && !q.central() {
		one.a = r.twin(a)
		r.pairs = append(r.pairs, one)
	}
	if q.twin && !p.twin && !p.central() {
		one.b = r.twin(b)
		r.pairs = append(r.pairs, one)
	}
}

// onAxis tells whether a part lies on the steering axis, where turning it changes nothing.
func onAxis(p *part) bool {
	for i := range p.ends {
		if e := &p.ends[i]; e.point >= 0 || e.shift.Ahead != 0 || e.shift.Left != 0 {
			return false
		}
	}
	return true
}

// twin adds the part on the other side.
func (r *Room) twin(of int) int {
	r.parts = append(r.parts, r.parts[of].mirrored())
	return len(r.parts) - 1
}
