package kinematics

import "math"

// certain proves that each sample is reached from the one before: that over every drive between them all
// dyads close and the axle does not turn back. Interpolated between two samples, a function is off by at
// most an eighth of the square of their distance times a bound of its second derivative. That goes for
// the cosine of the angle between the links of a dyad, which stays below 1, and for the axle's velocity
// per unit of drive, which stays away from 0. Bounds follow from the velocities, accelerations and jerks
// that links of these lengths can have where the sine of that angle is no smaller than found.
func (st *batch) certain() bool {
	n := st.samples
	drive, sines, perMM := st.drive[:n], st.sines[:n], st.perMM[:n]
	sine, slow := math.Inf(1), 0.0
	way, over := 0.0, 1.0 // the longest way between two samples, a fraction
	turns, outwards, before := st.first.turns, true, 0.0
	for k, now := range drive {
		if s := sines[k]; s < sine {
			sine = s
		}
		if p := math.Abs(perMM[k]); p > slow {
			slow = p
		}
		w, o := now-before, 1.0
		if turns { // the count is the tangent of half the turn
			outwards = outwards && w*before >= 0
			o += before * before
		}
		if w < 0 {
			w = -w
		}
		if w*over > way*o {
			way, over = w, o
		}
		before = now
	}
	if turns {
		way *= 2
	}
	if outwards && st.proven(sine, 1/slow, way/over) {
		return true
	}
	return st.part(0, n/2) && st.part(n/2, n-1)
}

// part proves the way between two samples, or both halves of it: what is close to a limit in one place is far from it in others.
func (st *batch) part(from, to int) bool {
	if to-from < 2 {
		a := stretchEnd{st.drive[from], st.sines[from], 1 / math.Abs(st.perMM[from])}
		b := stretchEnd{st.drive[to], st.sines[to], 1 / math.Abs(st.perMM[to])}
		return from == to || st.stretch(a, b, halvings)
	}
	sine, slow, way := st.sines[from], math.Abs(st.perMM[from]), 0.0
	for k := from + 1; k <= to; k++ {
		sine, slow, way = min(sine, st.sines[k]), max(slow, math.Abs(st.perMM[k])), max(way, st.apart(st.drive[k-1], st.drive[k]))
	}
	if st.proven(sine, 1/slow, way) {
		return true
	}
	middle := (from + to) / 2
	return st.part(from, middle) && st.part(middle, to)
}

// stretchEnd is an end of a stretch of the drive: where the drive stands, the smallest sine of the angle
// between the links of a dyad there, and the axle's speed along per unit of drive.
type stretchEnd struct{ drive, sine, speed float64 }

const halvings = 4

// stretch proves a stretch, or both halves of it.
func (st *batch) stretch(a, b stretchEnd, depth int) bool {
	if st.proven(min(a.sine, b.sine), min(a.speed, b.speed), st.apart(a.drive, b.drive)) {
		return true
	}
	if depth == 0 {
		return false
	}
	k := st.samples
	middle := (a.drive + b.drive) / 2
	st.drive[k], st.single[0] = middle, k
	if !st.place(st.single[:]) {
		return false
	}
	v := st.axle(k).v.Along
	if !(v*st.topOut > 0) {
		return false
	}
	c := stretchEnd{middle, st.sines[k], math.Abs(v)}
	return st.stretch(a, c, depth-1) && st.stretch(c, b, depth-1)
}

// apart is no less than the drive between two counts of it, in radians or mm.
func (st *batch) apart(from, to float64) float64 {
	way := math.Abs(to - from)
	if !st.first.turns {
		return way
	}
	if from*to > 0 {
		way /= 1 + min(from*from, to*to)
	}
	return 2 * way
}

// bounds are of how a body moves over a stretch of the drive, per unit of it: the first three
// derivatives of its anchor's place and of its turn.
type bounds struct{ at, turn [3]float64 }

// of bounds the derivatives of a point at a distance from the anchor.
func (b *bounds) of(distance float64) [3]float64 {
	w := &b.turn
	return [3]float64{
		b.at[0] + distance*w[0],
		b.at[1] + distance*(w[1]+w[0]*w[0]),
		b.at[2] + distance*(w[2]+3*w[0]*w[1]+w[0]*w[0]*w[0]),
	}
}

// proven goes through the dyads for a stretch whose ends have sines and a velocity of the axle no smaller
// than given.
func (st *batch) proven(sine, axle, apart float64) bool {
	const margin = 1.01 // for rounding, and rates that are those 1e-8 mm beside
	eighth := apart * apart / 8 * margin
	all := st.bounded
	clear(all)
	if st.first.turns {
		all[st.first.body].turn[0] = 1
	} else {
		all[st.first.body].at[0] = 1
	}
	cosine := math.Sqrt(max(0, 1-sine*sine))
	for i := range st.dyads {
		p := &st.dyads[i]
		a, b := p.on[0].bound(all), p.on[1].bound(all)
		g1, g2, g3 := a[0]+b[0], a[1]+b[1], a[2]+b[2]
		l0, l1 := math.Sqrt(p.square), math.Sqrt(p.square-p.less)
		c := cosine + eighth*(g1*g1+(l0+l1)*g2)/(l0*l1)
		if !(c < 1) {
			return false
		}
		open := 1 / math.Sqrt(1-c*c)
		f0, f1 := open/l0, open/l1
		w0, w1 := g1*f0, g1*f1
		h2 := g2 + l0*w0*w0 + l1*w1*w1
		v0, v1 := h2*f0, h2*f1
		h3 := g3 + l0*(3*w0*v0+w0*w0*w0) + l1*(3*w1*v1+w1*w1*w1)
		all[p.body[0]] = bounds{a, [3]float64{w0, v0, h3 * f0}}
		all[p.body[1]] = bounds{b, [3]float64{w1, v1, h3 * f1}}
	}
	jerk := st.wheel.bound(all)[2]
	return axle > eighth*jerk
}

// bound is of a spot's derivatives.
func (s *spot) bound(all []bounds) [3]float64 {
	if s.fixed {
		return [3]float64{}
	}
	return all[s.body].of(math.Sqrt(s.arm.Dot(s.arm)))
}
