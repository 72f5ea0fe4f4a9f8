package simulation

import (
	"math"

	"forkfront/objectives/ride"
)

// The coordinates: the sprung mass' centre forward and up in m, the pitch in rad, nose up, the travel in m, and how far a
// sprung rear axle has moved up in m.
const (
	forward = iota
	up
	pitch
	stroke
	rearStroke
	coordinates
)

// state is a bike in motion.
type state struct {
	at, speed [coordinates]float64
	lost      float64 // work lost to damping, friction and brakes, J
}

// sample is what acts at a state.
type sample struct {
	accel [coordinates]float64
	power float64    // lost, W
	load  [2]float64 // of the wheels on the road, N
	depth [2]float64 // by which the tyres are compressed, m; negative in the air
	face  [2]vector  // from the nearest point of the road to the axle, of length 1
	axle  float64    // of the front wheel, forward, m
	stop  float64    // force of the stop at full travel, N
	shaft float64    // speed at which each shock is compressed, m/s
	sin   float64    // of the fork frame's turn against the ground, along to ahead
	cos   float64
	place position
	arms  arms

	onAxle [2]float64 // forward and up, at the front axle: of the road, gravity, and what the axle accelerates at constant speeds of the coordinates, N
	torque float64    // of the front brake on the caliper's body, along to ahead, N·m
}

// vector is one in the ground frame: forward and up.
type vector struct{ x, z float64 }

// turned is a vector of the fork frame in the ground frame: forward and up.
func (x *sample) turned(along, ahead float64) (fx, fz float64) {
	return along*x.cos - ahead*x.sin, along*x.sin + ahead*x.cos
}

// arms are vectors in the ground frame, forward and up: from the sprung centre to the axles (r front, q rear), and how fast
// the axles move there per speed of the travel (w, and its derivative by travel, bend) and of the rear stroke (d).
type arms struct{ rx, rz, wx, wz, bendX, bendZ, qx, qz, dx, dz float64 }

// reach finds where the linkage is at a state.
func (b *bike) reach(x *sample, s *state) {
	x.sin, x.cos = math.Sincos(s.at[pitch] - b.head)
	p, a, u := &x.place, &x.arms, s.at[rearStroke]
	b.linkage.at(p, s.at[stroke])
	a.rx, a.rz = x.turned(b.axleAlong-s.at[stroke]-b.centre.Along, p.ahead-b.centre.Ahead)
	a.wx, a.wz = x.turned(-1, p.aheadRate)
	a.bendX, a.bendZ = x.turned(0, p.aheadBend)
	a.qx, a.qz = x.turned(b.rearAxle.Along+u*b.rearUp.Along-b.centre.Along, b.rearAxle.Ahead+u*b.rearUp.Ahead-b.centre.Ahead)
	a.dx, a.dz = x.turned(b.rearUp.Along, b.rearUp.Ahead)
}

// axles are the velocities of front and rear axle.
func (a *arms) axles(s *state) (vx, vz, hx, hz float64) {
	spin, rate, rear := s.speed[pitch], s.speed[stroke], s.speed[rearStroke]
	vx, vz = s.speed[forward]-spin*a.rz+rate*a.wx, s.speed[up]+spin*a.rx+rate*a.wz
	hx, hz = s.speed[forward]-spin*a.qz+rear*a.dx, s.speed[up]+spin*a.qx+rear*a.dz
	return vx, vz, hx, hz
}

// forces finds what acts at a state on two wheels, with a braking force wanted of both together, in N. What the axles
// accelerate at constant speeds of the coordinates counts as a force.
func (b *bike) forces(x *sample, s *state, on *[2]wheelOn, braking float64) {
	b.reach(x, s)
	a := &x.arms
	vx, vz, hx, hz := a.axles(s)
	x.axle = s.at[forward] + a.rx
	front := b.roadForce(x, 0, &on[0], x.axle, s.at[up]+a.rz, vx, vz, braking)
	rear := b.roadForce(x, 1, &on[1], s.at[forward]+a.qx, s.at[up]+a.qz, hx, hz, braking)

	spin, rate, rearRate := s.speed[pitch], s.speed[stroke], s.speed[rearStroke]
	fx := front.x - b.front*(rate*rate*a.bendX-spin*spin*a.rx-2*spin*rate*a.wz)
	fz := front.z - b.front*(ride.Gravity+rate*rate*a.bendZ-spin*spin*a.rz+2*spin*rate*a.wx)
	x.onAxle = [2]float64{fx, fz}
	gx := rear.x + b.rear*(spin*spin*a.qx+2*spin*rearRate*a.dz)
	gz := rear.z - b.rear*(ride.Gravity-spin*spin*a.qz+2*spin*rearRate*a.dx)

	along, lost := b.alongTravel(x, s, front.brake)
	torque, rearTorque := -front.brake*(b.radius[0]-x.depth[0]), -rear.brake*(b.radius[1]-x.depth[1])
	x.torque = torque
	x.power = lost + front.lost + rear.lost + b.rearLoss*rearRate*rearRate -
		torque*(spin+x.place.brakeRate*rate) - rearTorque*spin
	b.solve(x, [coordinates]float64{
		forward:    fx + gx,
		up:         fz + gz - b.body*ride.Gravity,
		pitch:      a.rx*fz - a.rz*fx + a.qx*gz - a.qz*gx + torque + rearTorque,
		stroke:     along + torque*x.place.brakeRate + a.wx*fx + a.wz*fz,
		rearStroke: a.dx*gx + a.dz*gz - b.rearRate*s.at[rearStroke] - b.rearLoss*rearRate,
	})
}

// solve finds the accelerations for forces by coordinate: it eliminates the translation, whose mass is that of all, then the
// rear stroke.
func (b *bike) solve(x *sample, force [coordinates]float64) {
	a, perMass := &x.arms, 1/b.total
	mx, mz := -b.front*a.rz-b.rear*a.qz, b.front*a.rx+b.rear*a.qx // what pitch and travel have in common with the translation
	nx, nz := b.front*a.wx, b.front*a.wz
	tx, tz := force[forward]*perMass, force[up]*perMass
	a11 := b.inertia + b.front*(a.rx*a.rx+a.rz*a.rz) + b.rear*(a.qx*a.qx+a.qz*a.qz) - (mx*mx+mz*mz)*perMass
	a12 := b.front*(a.rx*a.wz-a.rz*a.wx) - (mx*nx+mz*nz)*perMass
	a22 := b.front*(a.wx*a.wx+a.wz*a.wz) - (nx*nx+nz*nz)*perMass
	b1, b2 := force[pitch]-mx*tx-mz*tz, force[stroke]-nx*tx-nz*tz
	var ox, oz, k1, k2, free float64
	if b.sprungRear {
		ox, oz = b.rear*a.dx, b.rear*a.dz
		a13 := b.rear*(a.qx*a.dz-a.qz*a.dx) - (mx*ox+mz*oz)*perMass
		a23 := -(nx*ox + nz*oz) * perMass
		a33 := 1 / (b.rear - (ox*ox+oz*oz)*perMass)
		b3 := force[rearStroke] - ox*tx - oz*tz
		k1, k2, free = a13*a33, a23*a33, b3*a33
		a11, a12, a22, b1, b2 = a11-k1*a13, a12-k1*a23, a22-k2*a23, b1-k1*b3, b2-k2*b3
	}
	inverse, to := 1/(a11*a22-a12*a12), &x.accel
	to[pitch], to[stroke] = (b1*a22-b2*a12)*inverse, (b2*a11-b1*a12)*inverse
	to[rearStroke] = free - k1*to[pitch] - k2*to[stroke]
	to[forward] = tx - (mx*to[pitch]+nx*to[stroke]+ox*to[rearStroke])*perMass
	to[up] = tz - (mz*to[pitch]+nz*to[stroke]+oz*to[rearStroke])*perMass
}

// roadForces is what a road does to a wheel.
type roadForces struct{ x, z, brake, lost float64 }

// roadForce finds the force of the road on a wheel with its axle at a place, moving.
func (b *bike) roadForce(s *sample, wheel int, on *wheelOn, x, z, vx, vz, braking float64) roadForces {
	c := on.meet(x, z)
	s.depth[wheel], s.load[wheel], s.face[wheel] = c.depth, 0, vector{c.nx, c.nz}
	if c.depth <= 0 {
		return roadForces{}
	}
	away := c.nx*vx + c.nz*vz
	elastic := b.tyre[wheel] * c.depth
	load := max(elastic-b.tyreLoss[wheel]*away, 0)
	s.load[wheel] = load
	brake := min(b.brakeShare[wheel]*braking, grip*load)
	return roadForces{
		x: load*c.nx - brake*c.nz, z: load*c.nz + brake*c.nx, brake: brake,
		lost: (elastic-load)*away - brake*(c.nx*vz-c.nz*vx),
	}
}

// alongTravel is what shock, friction and stops do along the travel, in N, and the power that is lost in it, in W. The brake's
// force at the front wheel adds to the friction.
func (b *bike) alongTravel(x *sample, s *state, brake float64) (force, lost float64) {
	p, rate := &x.place, s.speed[stroke]
	x.shaft = p.shockRate * rate
	damper := b.damper.force(x.shaft)
	friction := (b.friction + b.perBrakeN*brake) * math.Tanh(rate/creepMPerS)
	force = -(ride.SpringForce(b.ride, p.shock/perMM)+damper)*p.shockRate - friction
	lost = damper*x.shaft + friction*rate
	x.stop = 0
	if in := s.at[stroke] - b.travel; in > 0 {
		push := max(stopNPerM*in+b.stopLoss*rate, 0)
		force, lost, x.stop = force-push, lost+(push-stopNPerM*in)*rate, push
	}
	if in := -s.at[stroke]; in > 0 {
		push := max(stopNPerM*in-b.stopLoss*rate, 0)
		force, lost = force+push, lost-(push-stopNPerM*in)*rate
	}
	return force, lost
}

// energy is that of motion, height, springs, tyres and stops, in J, at a state whose forces are known.
func (b *bike) energy(x *sample, s *state) float64 {
	a, u := &x.arms, s.at[rearStroke]
	vx, vz, hx, hz := a.axles(s)
	cx, cz, spin := s.speed[forward], s.speed[up], s.speed[pitch]
	e := (b.body*(cx*cx+cz*cz) + b.inertia*spin*spin + b.front*(vx*vx+vz*vz) + b.rear*(hx*hx+hz*hz)) / 2
	e += ride.Gravity * (b.total*s.at[up] + b.front*a.rz + b.rear*a.qz)
	e += ride.SpringEnergy(b.ride, x.place.shock/perMM)*perMM + b.rearRate*u*u/2
	for i, depth := range x.depth {
		if depth > 0 {
			e += b.tyre[i] * depth * depth / 2
		}
	}
	if in := max(s.at[stroke]-b.travel, -s.at[stroke]); in > 0 {
		e += stopNPerM * in * in / 2
	}
	return e
}
