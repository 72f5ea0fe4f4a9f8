package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
)

// swinging is one worker's memory for looking through the pairs of a ball room.
type swinging struct {
	*scene
	places   [][]plane.Vec[float64] // by sample, where filled
	axes     []solid.Axis[float64]
	filled   []bool
	now      int // pair that is looked at
	ends     []corners
	far      []float64 // see offAxis, by part and sample; below 0: not known
	best     swung
	cos      [steerSteps + 1]float64
	sin      [steerSteps + 1]float64
	trial    kinematics.State[float64]
	polished kinematics.State[float64] // at the best contact
	tried    []plane.Vec[float64]
	moving   []plane.Vec[complex128]
}

// swing looks for the smallest gap between what steers and what does not, if it is smaller than that of
// all other pairs.
func (sc *Search) swing() {
	k := &sc.swings
	sc.swung = swung{pair: -1, gap: math.Inf(1)}
	if sc.room.balls == nil {
		return
	}
	k.set(&sc.scene)
	k.best.gap = sc.closest.gap
	k.all()
	if k.best.pair >= 0 {
		k.polish()
		sc.swung = k.best
		sc.atSwung.Copy(&k.polished)
	}
}

func (k *swinging) set(of *scene) {
	k.scene = of
	samples := len(of.states)
	k.places, k.filled = plane.Resize(k.places, samples), plane.Resize(k.filled, samples)
	k.axes = plane.Resize(k.axes, samples)
	clear(k.filled)
	k.far = plane.Resize(k.far, samples*len(of.room.parts))
	for i := range k.far {
		k.far[i] = -1
	}
	for i := range k.cos {
		k.sin[i], k.cos[i] = math.Sincos(of.room.steer(i))
	}
	k.best = swung{pair: -1, gap: math.Inf(1)}
}

// swungGaps are the smallest gaps of all pairs of a ball room.
func (sc *Search) swungGaps() []Gap {
	k := &sc.swings
	if sc.room.balls == nil {
		return nil
	}
	k.set(&sc.scene)
	var all []Gap
	for i := range k.room.balls.pairs {
		k.best = swung{pair: -1, gap: math.Inf(1)}
		k.pair(i)
		k.polish()
		gap := k.room.swungAt(&k.best)
		if k.room.balls.pairs[i].kind != ballWeb {
			all = append(all, gap)
		} else if before := &all[len(all)-1]; gap.GapMM < before.GapMM { // the tyre of the same wheel
			*before = gap
		}
	}
	return all
}

// all looks for a gap of any pair that is smaller than the smallest so far: at the ends of travel and
// steering of all pairs first, since what is found there spares looking in between.
func (k *swinging) all() {
	k.ends = k.ends[:0]
	for i := range k.room.balls.pairs {
		k.ends = append(k.ends, k.corners(i))
	}
	for i := range k.ends {
		k.between(i, k.ends[i])
	}
}

// pair looks for a gap of one pair that is smaller than the smallest so far.
func (k *swinging) pair(i int) { k.between(i, k.corners(i)) }

// from is the step of steering from which a pair is looked at.
func (k *swinging) from(i int) int {
	if k.room.balls.pairs[i].oneSide {
		return steerSteps / 2
	}
	return 0
}

// corners looks at the ends of travel and steering.
func (k *swinging) corners(i int) corners {
	k.now = i
	from := k.from(i)
	return corners{{k.look(0, from), k.look(0, steerSteps)}, {k.look(k.last, from), k.look(k.last, steerSteps)}}
}

func (k *swinging) between(i int, c corners) {
	k.now = i
	k.cell(0, k.last, k.from(i), steerSteps, c)
}

// at is where all points are at a sample.
func (k *swinging) at(sample int) []plane.Vec[float64] {
	if !k.filled[sample] {
		k.places[sample] = kinematics.Positions(k.room.balls.m, k.places[sample][:0], &k.states[sample], k.layout)
		k.axes[sample] = axisOf(k.room.balls, k.places[sample])
		k.filled[sample] = true
	}
	return k.places[sample]
}

// corners are the squares of the distance of a pair at the first and last sample of a cell, at the first
// and last step of steering each.
type corners [2][2]float64

// leastRadius is the radius of curvature, in mm, below which no point's path is taken to bend.
const leastRadius = 100

// cell halves a range of samples and of steps of steering until nothing in it can be closer than the
// smallest gap so far. The square of the distance of two spots is no less than what lies straight
// between its values at the corners, minus an eighth of its largest second derivative each way: with
// travel, of twice the square of the spots' way against each other, and what the bending of the way
// adds; with steering, of twice the product of the spots' distances from the axis.
func (k *swinging) cell(lo, hi, from, to int, c corners) {
	limit := k.limit()
	if limit <= 0 {
		return
	}
	travel, turn := k.way(lo, hi), 2*k.room.lock/steerSteps*float64(to-from)
	travel *= travel * (2 + 2*math.Sqrt(limit)/leastRadius)
	if k.aroundWheel(lo, hi, from, to, travel, turn) >= limit {
		return
	}
	turn *= 2 * turn * max(k.reach(lo), k.reach(hi))
	if min(c[0][0], c[0][1], c[1][0], c[1][1])-(travel+turn)/8 >= limit {
		return
	}
	switch {
	case hi-lo <= 1 && to-from <= 1:
	case hi-lo > 1 && (travel > turn || to-from <= 1):
		mid := (lo + hi) / 2
		m := [2]float64{k.look(mid, from), k.look(mid, to)}
		k.cell(lo, mid, from, to, corners{c[0], m})
		k.cell(mid, hi, from, to, corners{m, c[1]})
	default:
		mid := (from + to) / 2
		m := [2]float64{k.look(lo, mid), k.look(hi, mid)}
		k.cell(lo, hi, from, mid, corners{{c[0][0], m[0]}, {c[1][0], m[1]}})
		k.cell(lo, hi, mid, to, corners{{m[0], c[0][1]}, {m[1], c[1][1]}})
	}
}

// aroundWheel is no more than the square of the distance of a pair of the wheel in a cell: that from a
// ball around it, which hardly turns.
func (k *swinging) aroundWheel(lo, hi, from, to int, travel, turn float64) float64 {
	p := &k.room.balls.pairs[k.now]
	if p.kind == ballSolid {
		return 0
	}
	least, reach := math.Inf(1), 0.0
	for _, sample := range [2]int{lo, hi} {
		places, axis := k.at(sample), &k.axes[sample]
		at := places[k.room.parts[0].ends[0].point]
		axle := solid.Spot[float64]{Along: at.Along, Ahead: at.Ahead}
		g := segmentOf(&k.room.parts[p.b], places)
		for _, step := range [2]int{from, to} {
			b := axis.Turned(&g, k.cos[step], -k.sin[step])
			_, _, square := solid.Closest(&b, &solid.Segment[float64]{axle, axle})
			least = min(least, square)
		}
		for _, e := range g {
			reach = max(reach, math.Abs(axis.Offset(axle))*math.Hypot(axis.Offset(e), e.Left))
		}
	}
	least -= (travel + 2*turn*turn*reach) / 8
	d := math.Sqrt(max(0, least)) - k.room.ring.RadiusMM
	return d * math.Abs(d)
}

// limit is the square of the distance at which the gap of the pair is the smallest so far.
func (k *swinging) limit() float64 {
	if math.IsInf(k.best.gap, 1) {
		return k.best.gap
	}
	d := k.best.gap + k.around(k.now)
	return d * math.Abs(d)
}

// around is how far from their axes the parts of a pair reach together.
func (k *swinging) around(i int) float64 {
	p := &k.room.balls.pairs[i]
	return radiusOf(&k.room.parts[p.a], k.members) + radiusOf(&k.room.parts[p.b], k.members) + k.room.thick(p.kind)
}

// way is no less than how far two spots of the pair get against each other from one sample to another at
// any one steering angle: by the ways of both parts, and by that of the axis about which the second is turned. An axis
// that shifts by d and leans by δ takes what is turned by θ about it along by 2 d sin θ/2, and by
// 4 sin δ/2 sin θ/2 of how far it is from the ball.
func (k *swinging) way(from, to int) float64 {
	p := &k.room.balls.pairs[k.now]
	x, y := k.at(from), k.at(to)
	one, two := &k.axes[from], &k.axes[to]
	lean := math.Sqrt(squareBetween(one.Ahead, two.Ahead)) // 2 sin δ/2
	g := segmentOf(&k.room.parts[p.b], x)
	far := 0.0
	for _, e := range g {
		far = max(far, math.Hypot(math.Hypot(e.Along-one.At.Along, e.Ahead-one.At.Ahead), e.Left))
	}
	axis := 2 * math.Sin(k.room.lock/2) * (math.Sqrt(squareBetween(one.At, two.At)) + lean*far)
	return sway(&k.room.parts[p.a], x, y) + sway(&k.room.parts[p.b], x, y) + axis
}

func squareBetween(a, b plane.Vec[float64]) float64 {
	x, y := a.Along-b.Along, a.Ahead-b.Ahead
	return x*x + y*y
}

// sway is how far the ends of a part get between two samples.
func sway(p *part, x, y []plane.Vec[float64]) float64 {
	most := 0.0
	for i := range p.ends {
		if point := p.ends[i].point; point >= 0 {
			most = max(most, squareBetween(x[point], y[point]))
		}
	}
	return math.Sqrt(most)
}

// reach is the product of how far from the steering axis both parts of the pair get at a sample.
func (k *swinging) reach(sample int) float64 {
	p := &k.room.balls.pairs[k.now]
	return k.offAxis(p.a, sample) * k.offAxis(p.b, sample)
}

// offAxis is how far from the steering axis a part gets at a sample.
func (k *swinging) offAxis(i, sample int) float64 {
	known := &k.far[i*(k.last+1)+sample]
	if *known >= 0 {
		return *known
	}
	p, axis := &k.room.parts[i], &k.axes[sample]
	far := 0.0
	for _, e := range segmentOf(p, k.at(sample)) {
		off := axis.Offset(e)
		far = max(far, off*off+e.Left*e.Left)
	}
	*known = math.Sqrt(far)
	if p.wheel {
		*known += k.room.ring.RadiusMM
	}
	return *known
}

// look takes the square of the distance of the pair at a sample and a step of steering, and keeps the
// smallest gap.
func (k *swinging) look(sample, step int) float64 {
	c := swung{pair: k.now, sample: sample, travelMM: k.states[sample].TravelMM, steer: k.room.steer(step)}
	places := k.at(sample)
	square := k.room.swungSquare(&c, places, &k.axes[sample], k.cos[step], k.sin[step])
	if c.gap = math.Sqrt(square) - k.around(c.pair); c.gap < k.best.gap {
		k.best = c
	}
	return square
}

// swungSquare finds where a pair is closest at a steering angle, and the square of the distance there.
func (r *Room) swungSquare(c *swung, places []plane.Vec[float64], axis *solid.Axis[float64], cos, sin float64) (square float64) {
	p := &r.balls.pairs[c.pair]
	b := segmentOf(&r.parts[p.b], places)
	b = axis.Turned(&b, cos, -sin)
	if p.kind == ballSolid {
		a := segmentOf(&r.parts[p.a], places)
		c.on[0], c.on[1], square = solid.Closest(&a, &b)
		return square
	}
	g := b.FromAxle(places[r.parts[0].ends[0].point])
	if c.on[1], square = r.ring.Closest(&g); p.kind == ballWeb {
		c.on[1], square = r.ring.ClosestOnDisc(&g, c.on[1])
	}
	return square
}
