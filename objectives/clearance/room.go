package clearance

import (
	"math"
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/solid"
	"forkfront/objectives/fork"
)

// steerSteps is the number of steps from lock to lock in which gaps are looked for, before the
// smallest is found exactly. A power of two.
const steerSteps = 32

// Room is the package of a fork, ready to be looked through: its parts and the pairs of them that
// must keep clear. It never changes, so all workers share it.
type Room struct {
	Missing string // why there can be no clearance; empty: there can

	ring    solid.Ring
	tube    float64 // radius of the tyre
	web     float64 // half the width of rim and spokes
	drum    drum
	lock    float64 // rad
	parts   []part
	pairs   []pair
	hubs    int   // first pair of the hub; the rest are all of its
	points  int   // of the mechanism
	aloof   []end // ends of parts that are on no point of the mechanism, or off it
	moving  []int // spots that move with the travel
	members []float64
	carrier []int // a body of each point
	wheel   int   // body that carries the axle
	turned  []turnedFrame
	balls   *ballRoom // of a fork that steers about ball joints; else nil
}

// turnedFrame is a part of the frame as what steers sees it.
type turnedFrame struct {
	part   int                                    // in parts
	atLock int                                    // the same at the lock to the left
	at     [steerSteps + 1]solid.Segment[float64] // from lock to the right to lock to the left
	reach  float64                                // farthest from the steering axis
}

// NewRoom makes a package ready for a mechanism. The shock tells how many stand side by side.
func NewRoom(p *fork.Package, m *kinematics.Mechanism, x *fork.Across, c *kinematics.Chassis, shock *fork.Shock) *Room {
	r := &Room{
		tube: p.TyreWidthMM / 2, web: p.RimWidthMM / 2, drum: drum{p.HubWidthMM / 2, p.RotorRadiusMM}, lock: p.LockRad,
		members: p.Members, wheel: m.Wheel(), points: len(m.Points),
	}
	r.ring = solid.Ring{RadiusMM: c.FrontRadiusMM - r.tube}
	if r.Missing = m.Unsized(); r.Missing != "" {
		return r
	}
	for point := range m.Points {
		r.carrier = append(r.carrier, -1)
		if on := m.PointBodies(point); len(on) > 0 {
			r.carrier[point] = slices.Index(m.Bodies, on[0])
		}
	}
	r.parts = parts(p, m, x, shock)
	if r.onBalls(p, m); r.Missing != "" {
		return r
	}
	moving := len(r.parts)
	for i := range p.Frame {
		r.addFrame(&p.Frame[i])
	}
	for i := range r.parts {
		r.place(&r.parts[i])
	}
	r.pairUp(moving)
	r.complete(m)
	return r
}

// steer is the steering angle of a step, in rad, positive to the left.
func (r *Room) steer(step int) float64 { return r.lock * float64(2*step-steerSteps) / steerSteps }

// addFrame adds a part of the frame, and how it looks from what steers.
func (r *Room) addFrame(c *fork.Capsule) {
	t := turnedFrame{part: len(r.parts), atLock: len(r.parts) + 1}
	for i := range t.at {
		sin, cos := math.Sincos(r.steer(i))
		t.at[i] = c.Ends.Turned(cos, -sin)
	}
	for _, e := range c.Ends {
		t.reach = max(t.reach, math.Hypot(e.Ahead, e.Left))
	}
	there := *c
	there.Ends = t.at[steerSteps]
	r.parts = append(r.parts, fixture(c), fixture(&there))
	r.turned = append(r.turned, t)
}

// twin adds the part on the other side.
func (r *Room) twin(of int) int {
	r.parts = append(r.parts, r.parts[of].mirrored())
	return len(r.parts) - 1
}

// complete finds the spots that move with the travel.
func (r *Room) complete(m *kinematics.Mechanism) {
	for point, body := range r.carrier {
		if body >= 0 && body != m.Ground() {
			r.moving = append(r.moving, point)
		}
	}
	for i := range r.aloof {
		if slices.Contains(r.moving, r.aloof[i].point) {
			r.moving = append(r.moving, r.points+i)
		}
	}
}

// place numbers the spots in the plane at which a part ends: the points of the mechanism, and after
// them those that are on none or off it.
func (r *Room) place(p *part) {
	for k := range p.ends {
		e := p.ends[k]
		e.shift.Left = 0
		switch {
		case e.point >= 0 && e.shift == solid.Spot[float64]{}:
			p.spots[k] = e.point
		case slices.Contains(r.aloof, e):
			p.spots[k] = r.points + slices.Index(r.aloof, e)
		default:
			p.spots[k] = r.points + len(r.aloof)
			r.aloof = append(r.aloof, e)
		}
	}
	p.flat = p.spots[0] == p.spots[1] || p.right() == p.left()
}
