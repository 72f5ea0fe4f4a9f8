package objectives

import (
	"math"

	"forkfront/kinematics"
)

// polish moves the smallest gap found among the samples to the exact travel and steering angle at
// which it is smallest: where it changes with neither, or at an end of their ranges.
func (k *clearing) polish() {
	if k.best.pair < 0 {
		return
	}
	c, s := k.best, k.subj
	p := &k.room.pairs[c.pair]
	s.near.Copy(&s.States[c.sample])
	slope := k.stand(&c, &s.States[c.sample], k.at(c.sample))
	k.best = c
	other := c.sample + 1
	if slope > 0 {
		other = c.sample - 1
	}
	if p.rigid || slope == 0 || other < 0 || other > k.last {
		return
	}
	d := c
	d.sample = other
	further := k.stand(&d, &s.States[other], k.at(other))
	if slope*further >= 0 {
		return
	}
	from, to := s.States[c.sample].TravelMM, s.States[other].TravelMM
	k.narrow(from, to, c.gap, d.gap, slope, further)
}

// narrow closes in on the smallest gap between two travels: by a cubic through gaps and slopes, then
// by secants. Slopes are per mm of travel.
func (k *clearing) narrow(from, to, gapFrom, gapTo, slope, further float64) {
	s := k.subj
	solve := func(travel float64) float64 {
		if !k.solver.Solve(&k.trial, nil, travel) {
			return 0
		}
		c := k.best
		k.tried = k.m.Places(k.tried[:0], &k.trial, s.layout)
		rate := k.stand(&c, &k.trial, k.tried)
		if c.gap <= k.best.gap {
			k.best = c
			s.near.Copy(&k.trial)
		}
		return rate
	}
	at := from + (to-from)*cubicLow(gapFrom, gapTo, slope*(to-from), further*(to-from))
	rate := solve(at)
	if math.Abs(rate) < 1e-9 {
		return
	}
	if rate*slope > 0 {
		zeroOf(to, at, further, rate, solve)
	} else {
		zeroOf(from, at, slope, rate, solve)
	}
}

// cubicLow is where between 0 and 1 the cubic with given values and slopes at both is lowest: it falls
// at 0 and rises at 1 (Nocedal & Wright, Numerical Optimization, 3.59; recalled).
func cubicLow(a, b, sa, sb float64) float64 {
	t := sa + sb - 3*(b-a)
	root := math.Sqrt(max(0, t*t-sa*sb))
	at := 1 - (sb+root-t)/(sb-sa+2*root)
	if !(at > 0.02) || at > 0.98 {
		return sa / (sa - sb)
	}
	return at
}

// stand measures a contact at a state, at the steering angle at which it is closest, and returns how
// fast the gap grows with travel.
func (k *clearing) stand(c *contact, st *kinematics.State[float64], places []kinematics.Vec[float64]) float64 {
	r := k.room
	p := &r.pairs[c.pair]
	c.travelMM = st.TravelMM
	var b kinematics.Segment[float64]
	if p.frame >= 0 {
		k.settleSteer(c, places)
		b = r.turnedBy(p, c.steer)
	} else {
		b = segmentOf(&r.parts[p.b], places)
		k.measure(c, places, &b)
	}
	n, _, _ := k.normal(c, places, &b)
	va, vb := k.velocity(&r.parts[p.a], st, places, c.on[0]), k.velocity(&r.parts[p.b], st, places, c.on[1])
	if p.frame >= 0 {
		vb = vec[float64]{}
	}
	return n.Along*(vb.Along-va.Along) + n.Ahead*(vb.Ahead-va.Ahead)
}

// velocity is that of a spot on a part, per mm of travel.
func (k *clearing) velocity(p *part, st *kinematics.State[float64], places []kinematics.Vec[float64], on float64) vec[float64] {
	var v [2]vec[float64]
	for i := range p.ends {
		if point := p.ends[i].point; point >= 0 {
			v[i] = velocity(st, k.room.carrier[point], places[point])
		}
	}
	return vec[float64]{Along: v[0].Along + on*(v[1].Along-v[0].Along), Ahead: v[0].Ahead + on*(v[1].Ahead-v[0].Ahead)}
}

// normal is the direction in which a contact's gap grows when its second part moves, and the spots
// that are closest. Where the axes cross there is none.
func (k *clearing) normal(c *contact, places []kinematics.Vec[float64], b *kinematics.Segment[float64]) (n, onB, onA kinematics.Spot[float64]) {
	r := k.room
	p := &r.pairs[c.pair]
	onB = b.At(c.on[1])
	if p.kind == solidPair {
		a := segmentOf(&r.parts[p.a], places)
		onA = a.At(c.on[0])
	} else {
		onA = r.spotOnWheel(c, places[r.parts[0].ends[0].point], onB)
	}
	n = kinematics.Spot[float64]{Along: onB.Along - onA.Along, Ahead: onB.Ahead - onA.Ahead, Left: onB.Left - onA.Left}
	if length := math.Sqrt(n.Along*n.Along + n.Ahead*n.Ahead + n.Left*n.Left); length > 1e-9 {
		n.Along, n.Ahead, n.Left = n.Along/length, n.Ahead/length, n.Left/length
		return n, onB, onA
	}
	return kinematics.Spot[float64]{}, onB, onA
}

// spotOnWheel is the spot of the wheel that is closest to one of a part: on the ring of the tyre, on the
// disc, or on the face of hub and rotor.
func (r *Room) spotOnWheel(c *contact, axle vec[float64], spot kinematics.Spot[float64]) kinematics.Spot[float64] {
	x, y := spot.Along-axle.Along, spot.Ahead-axle.Ahead
	q := math.Hypot(x, y)
	reach, left := r.ring.RadiusMM, 0.0
	if r.pairs[c.pair].kind == hubPair {
		reach, left = r.rotor, max(-r.hub, min(r.hub, spot.Left))
	}
	if q == 0 || (c.web || r.pairs[c.pair].kind == hubPair) && q <= reach {
		return kinematics.Spot[float64]{Along: spot.Along, Ahead: spot.Ahead, Left: left}
	}
	return kinematics.Spot[float64]{Along: axle.Along + x*reach/q, Ahead: axle.Ahead + y*reach/q, Left: left}
}
