package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
	"forkfront/objectives/scalar"
)

// nook is where a smaller gap is looked for: between two samples that follow each other, and between
// two steering angles.
type nook struct {
	from, to  int
	low, high float64
}

// narrow closes in on the smallest gap in a nook, by a cubic through gaps and slopes at both samples and
// then by secants, on spots that go by a cubic themselves. Its gap is that of the fork solved there.
func (k *clearing) narrow(w *nook) {
	a, slope := k.stand(w, w.from)
	if w.from == w.to || !(slope < 0) && k.now.step < 0 {
		return
	}
	b, further := k.stand(w, w.to)
	if !(slope < 0) || !(further > 0) {
		return
	}
	way := k.states[w.to].TravelMM - k.states[w.from].TravelMM
	low := contact{gap: math.Inf(1)}
	ease := func(part float64) float64 { return k.ease(w, part, &low) }
	part := cubicLow(a, b, slope*way, further*way)
	switch rate := ease(part); {
	case math.Abs(rate) < 1e-9:
	case rate < 0:
		zeroOf(1, part, further, rate, ease)
	default:
		zeroOf(0, part, slope, rate, ease)
	}
	if !k.motion.Solve(&k.trial, nil, low.travelMM) {
		return
	}
	k.eased[0] = k.fill(k.eased[0], &k.trial)
	k.measure(&low, k.eased[0])
	k.keep(&low)
}

// stand looks at the pair at one sample, and returns its gap and how fast that grows with travel.
func (k *clearing) stand(w *nook, sample int) (gap, slope float64) {
	c := contact{pair: k.now.at, sample: sample, travelMM: k.states[sample].TravelMM}
	slope = k.settle(w, &c, k.at(sample), k.rate(sample))
	k.keep(&c)
	return c.gap, slope
}

// settle measures a contact where spots are, at the steering angle in the nook at which it is closest,
// and returns its slope.
func (k *clearing) settle(w *nook, c *contact, spots, rates []plane.Vec[float64]) float64 {
	if c.steer, c.swept = w.low, k.now.step >= 0; c.swept {
		k.settleSteer(c, spots, w.low, w.high)
	}
	return k.slope(c, spots, rates)
}

// keep takes a contact for the best if it is.
func (k *clearing) keep(c *contact) {
	if c.gap < k.best.gap {
		k.best = *c
		k.now.limit = k.limit()
	}
}

// ease looks at the pair at a part t of the way between two samples, and keeps the lowest gap apart. The
// ends of its parts go by the cubic through places and velocities at both, which errs by the fourth derivative of
// their way times the fourth power of the step over 384.
func (k *clearing) ease(w *nook, t float64, low *contact) float64 {
	x, y, v, z := k.at(w.from), k.at(w.to), k.rate(w.from), k.rate(w.to)
	from := k.states[w.from].TravelMM
	way := k.states[w.to].TravelMM - from
	k.eased[0], k.eased[1] = plane.Resize(k.eased[0], len(x)), plane.Resize(k.eased[1], len(x))
	u := 1 - t
	on, off, ahead, back := t*t*(3-2*t), u*u*(1+2*t), t*u*u*way, -t*t*u*way
	onRate, aheadRate, backRate := 6*t*u/way, u*(1-3*t), t*(3*t-2)
	p, q := &k.room.parts[k.now.a], &k.room.parts[k.now.b]
	for _, i := range [4]int{p.spots[0], p.spots[1], q.spots[0], q.spots[1]} {
		k.eased[0][i] = plane.Vec[float64]{
			Along: off*x[i].Along + on*y[i].Along + ahead*v[i].Along + back*z[i].Along,
			Ahead: off*x[i].Ahead + on*y[i].Ahead + ahead*v[i].Ahead + back*z[i].Ahead,
		}
		k.eased[1][i] = plane.Vec[float64]{
			Along: onRate*(y[i].Along-x[i].Along) + aheadRate*v[i].Along + backRate*z[i].Along,
			Ahead: onRate*(y[i].Ahead-x[i].Ahead) + aheadRate*v[i].Ahead + backRate*z[i].Ahead,
		}
	}
	c := contact{pair: k.now.at, sample: w.from, travelMM: from + t*way}
	slope := k.settle(w, &c, k.eased[0], k.eased[1])
	if c.gap < low.gap {
		*low = c
	}
	return slope
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

// velocities of all spots per mm of travel.
func (k *clearing) velocities(dst []plane.Vec[float64], st *kinematics.State[float64], spots []plane.Vec[float64]) []plane.Vec[float64] {
	dst = dst[:0]
	for point, body := range k.room.carrier {
		var v plane.Vec[float64]
		if body >= 0 {
			v = scalar.Velocity(st, body, spots[point])
		}
		dst = append(dst, v)
	}
	for i := range k.room.aloof {
		var v plane.Vec[float64]
		if point := k.room.aloof[i].point; point >= 0 {
			v = dst[point]
		}
		dst = append(dst, v)
	}
	return dst
}

// slope measures a contact where spots are, at its steering angle, and returns how fast the gap grows
// with travel.
func (k *clearing) slope(c *contact, spots, rates []plane.Vec[float64]) float64 {
	p := &k.room.pairs[c.pair]
	b := k.measure(c, spots)
	n, _ := k.normal(c, spots, &b)
	va, vb := k.room.parts[p.a].moves(rates, c.on[0]), k.room.parts[p.b].moves(rates, c.on[1])
	return n.Along*(vb.Along-va.Along) + n.Ahead*(vb.Ahead-va.Ahead)
}

// moves is the velocity of a spot on a part.
func (p *part) moves(rates []plane.Vec[float64], on float64) plane.Vec[float64] {
	v, w := rates[p.spots[0]], rates[p.spots[1]]
	return plane.Vec[float64]{Along: v.Along + on*(w.Along-v.Along), Ahead: v.Ahead + on*(w.Ahead-v.Ahead)}
}

// measure finds where a pair is closest where spots are, at the steering angle of a contact, and returns
// the axis of its second part.
func (k *clearing) measure(c *contact, spots []plane.Vec[float64]) solid.Segment[float64] {
	p := &k.room.pairs[c.pair]
	b := k.room.parts[p.b].axis(spots)
	if c.swept {
		b = k.room.turnedBy(p, c.steer)
	}
	k.gap(c, spots, &b)
	return b
}

// gap finds where a pair is closest, its second part at b.
func (k *clearing) gap(c *contact, spots []plane.Vec[float64], b *solid.Segment[float64]) {
	r := k.room
	p := &r.pairs[c.pair]
	radii := k.radii[p.a] + k.radii[p.b] + p.thick
	var square float64
	if p.kind == solidPair {
		a := r.parts[p.a].axis(spots)
		c.on[0], c.on[1], square = solid.Closest(&a, b)
		c.gap = math.Sqrt(square) - radii
		return
	}
	g := b.FromAxle(spots[r.parts[0].spots[0]])
	if p.kind == hubPair {
		c.on[1] = overHub(&g)
		c.gap = hubGap(&r.drum, &g, c.on[1]) - radii
		return
	}
	c.on[1], square = r.ring.Closest(&g)
	if p.kind == webPair {
		c.on[1], square = r.ring.ClosestOnDisc(&g, c.on[1])
	}
	c.gap = math.Sqrt(square) - radii
}

// normal is the direction in which a contact's gap grows when its second part moves, and the spot on
// that which is closest. Where the axes cross there is none.
func (k *clearing) normal(c *contact, spots []plane.Vec[float64], b *solid.Segment[float64]) (n, onB solid.Spot[float64]) {
	r := k.room
	p := &r.pairs[c.pair]
	onB = b.At(c.on[1])
	var onA solid.Spot[float64]
	if p.kind == solidPair {
		a := r.parts[p.a].axis(spots)
		onA = a.At(c.on[0])
	} else {
		onA = r.spotOnWheel(p.kind, spots[r.parts[0].spots[0]], onB)
	}
	n = solid.Spot[float64]{Along: onB.Along - onA.Along, Ahead: onB.Ahead - onA.Ahead, Left: onB.Left - onA.Left}
	if length := math.Sqrt(n.Along*n.Along + n.Ahead*n.Ahead + n.Left*n.Left); length > 1e-9 {
		n.Along, n.Ahead, n.Left = n.Along/length, n.Ahead/length, n.Left/length
		return n, onB
	}
	return solid.Spot[float64]{}, onB
}

// spotOnWheel is the spot of the wheel that is closest to one of a part: on the ring of the tyre, on the
// disc, or on the face of hub and rotor.
func (r *Room) spotOnWheel(kind pairKind, axle plane.Vec[float64], spot solid.Spot[float64]) solid.Spot[float64] {
	x, y := spot.Along-axle.Along, spot.Ahead-axle.Ahead
	q := math.Hypot(x, y)
	reach, left := r.ring.RadiusMM, 0.0
	if kind == hubPair {
		reach, left = r.drum.reach, max(-r.drum.half, min(r.drum.half, spot.Left))
	}
	if q == 0 || kind != ringPair && q <= reach {
		return solid.Spot[float64]{Along: spot.Along, Ahead: spot.Ahead, Left: left}
	}
	return solid.Spot[float64]{Along: axle.Along + x*reach/q, Ahead: axle.Ahead + y*reach/q, Left: left}
}
