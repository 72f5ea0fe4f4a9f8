package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
)

// The steps of a batch. They compute what linkage.locate and linkage.rates do, in plain numbers and
// in loops over samples: that halves the time, and a test holds them against each other.

// seen is where a point of a body is, and its velocity.
type seen struct{ at, v plane.Vec[float64] }

// spot is a point of a body.
type spot struct {
	body  int
	arm   plane.Vec[float64] // from the body's anchor at top-out; of the ground, from the origin
	fixed bool               // on the ground
}

func newSpot(l *linkage[float64], p mechanism.BodyPoint) spot {
	if p.Body == l.m.Ground() {
		return spot{body: p.Body, arm: l.layout[p.Point], fixed: true}
	}
	return spot{body: p.Body, arm: l.offset[p.Body*len(l.m.Points)+p.Point]}
}

// see finds a spot that moves from its body's pose and rate.
func (s *spot) see(p *plane.Pose[float64], r *plane.Rate[float64]) seen {
	x, y := p.Cos*s.arm.Along-p.Sin*s.arm.Ahead, p.Sin*s.arm.Along+p.Cos*s.arm.Ahead
	return seen{
		plane.Vec[float64]{Along: p.At.Along + x, Ahead: p.At.Ahead + y},
		plane.Vec[float64]{Along: r.At.Along - y*r.Turn, Ahead: r.At.Ahead + x*r.Turn},
	}
}

// batchDriver is the driver.
type batchDriver struct {
	body  int
	at    plane.Vec[float64]
	slide plane.Vec[float64]
	turns bool
	scale float64 // unit of drive that is a large step: 1 rad, or 100 mm
}

func newBatchDriver(l *linkage[float64]) batchDriver {
	s := &l.m.Steps()[0]
	d := batchDriver{body: s.Body[0], at: l.layout[s.On[0].Point], turns: s.Kind == mechanism.TurnDrive, scale: 1}
	if !d.turns {
		d.slide, d.scale = l.slide, 100
	}
	return d
}

// perUnit is how fast the count of the drive grows per radian or mm of it.
func (d *batchDriver) perUnit(count float64) float64 {
	if d.turns {
		return (1 + count*count) / 2
	}
	return 1
}

func (d *batchDriver) place(st *batch, list []int) {
	poses, rates, sines, drive, at := st.poses, st.rates, st.sines, st.drive, d.at
	for _, k := range list {
		b, count := k*st.bodies+d.body, drive[k]
		sines[k] = 1
		if !d.turns {
			poses[b] = plane.Pose[float64]{At: at.Plus(d.slide.Times(count)), Cos: 1}
			rates[b] = plane.Rate[float64]{At: d.slide}
			continue
		}
		square := count * count
		scale := 1 / (1 + square)
		poses[b] = plane.Pose[float64]{At: at, Cos: (1 - square) * scale, Sin: 2 * count * scale}
		rates[b] = plane.Rate[float64]{Turn: 1}
	}
}

// batchDyad is a dyad.
type batchDyad struct {
	on           [2]spot
	body         [2]int
	square, less float64               // squared length of the first link, and by how much the second one's is less
	swing        [2]plane.Vec[float64] // from the held pivot to the tip at top-out, over the squared length
	side, scale  float64               // as triangle's
}

func newBatchDyad(l *linkage[float64], step int) batchDyad {
	s, t := &l.m.Steps()[step], &l.dyads[step]
	return batchDyad{
		[2]spot{newSpot(l, s.On[0]), newSpot(l, s.On[1])},
		s.Body, t.square[0], t.square[0] - t.square[1],
		[2]plane.Vec[float64]{t.offset[0].Times(t.inverse[0]), t.offset[1].Times(t.inverse[1])},
		t.side, t.scale,
	}
}

// place closes the dyad at some samples, and finds its rates. It is false where it does not close.
func (p *batchDyad) place(st *batch, list []int) bool {
	bodies, arm0, arm1 := st.bodies, p.swing[0], p.swing[1]
	for _, k := range list {
		poses, rates := st.poses[k*bodies:][:bodies], st.rates[k*bodies:][:bodies]
		a, b := seen{at: p.on[0].arm}, seen{at: p.on[1].arm}
		if on := &p.on[0]; !on.fixed {
			a = on.see(&poses[on.body], &rates[on.body])
		}
		if on := &p.on[1]; !on.fixed {
			b = on.see(&poses[on.body], &rates[on.body])
		}
		x, y := b.at.Along-a.at.Along, b.at.Ahead-a.at.Ahead
		length := x*x + y*y
		along := (p.less + length) * 0.5
		area := p.square*length - along*along
		if !(area > 0) { // also when the held pivots coincide
			return false
		}
		sine := math.Sqrt(area)
		cross := p.side * sine // of the two reaches
		inverse, open := 1/length, 1/cross
		along *= inverse
		across := cross * inverse
		x0, y0 := x*along-y*across, y*along+x*across
		x1, y1 := x0-x, y0-y
		poses[p.body[0]] = plane.Pose[float64]{At: a.at, Cos: arm0.Along*x0 + arm0.Ahead*y0, Sin: arm0.Along*y0 - arm0.Ahead*x0}
		poses[p.body[1]] = plane.Pose[float64]{At: b.at, Cos: arm1.Along*x1 + arm1.Ahead*y1, Sin: arm1.Along*y1 - arm1.Ahead*x1}
		u, v := b.v.Along-a.v.Along, b.v.Ahead-a.v.Ahead
		rates[p.body[0]] = plane.Rate[float64]{At: a.v, Turn: (u*x1 + v*y1) * open}
		rates[p.body[1]] = plane.Rate[float64]{At: b.v, Turn: (u*x0 + v*y0) * open}
		if sine *= p.scale; sine < st.sines[k] {
			st.sines[k] = sine
		}
	}
	return true
}
