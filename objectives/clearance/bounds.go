package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
)

// ranging is where a spot gets to in the plane over the travel, and how much its way is bent at most: the
// second derivative of its place with travel, in 1/mm.
type ranging struct {
	low, high plane.Vec[float64]
	bend      float64
}

// bounds are where a part gets to in the plane: within half of either side of the middle; and how much
// the ways of its spots are bent at most.
type bounds struct {
	middle, half plane.Vec[float64]
	bend         float64
}

// bendMargin is how much more than between the samples looked at a way may be bent at one of them.
const bendMargin = 1.5

// set points the memory at a fork.
func (k *clearing) set(of *scene) {
	k.scene = of
	r := of.room
	k.spots.clear(len(of.states))
	k.rates.clear(len(of.states))
	k.ranges = plane.Resize(k.ranges, r.points+len(r.aloof))
	k.survey()
	k.radii, k.bounds = plane.Resize(k.radii, len(r.parts)), plane.Resize(k.bounds, len(r.parts))
	for i := range r.parts {
		p := &r.parts[i]
		k.radii[i] = radiusOf(p, of.members)
		k.bounds[i].hold(&k.ranges[p.spots[0]], &k.ranges[p.spots[1]])
	}
}

// hold makes bounds those of all that lies between two spots.
func (o *bounds) hold(a, b *ranging) {
	low := plane.Vec[float64]{Along: min(a.low.Along, b.low.Along), Ahead: min(a.low.Ahead, b.low.Ahead)}
	high := plane.Vec[float64]{Along: max(a.high.Along, b.high.Along), Ahead: max(a.high.Ahead, b.high.Ahead)}
	o.middle = plane.Vec[float64]{Along: (low.Along + high.Along) / 2, Ahead: (low.Ahead + high.Ahead) / 2}
	o.half = plane.Vec[float64]{Along: (high.Along - low.Along) / 2, Ahead: (high.Ahead - low.Ahead) / 2}
	o.bend = max(a.bend, b.bend)
}

// radiusOf is a part's: its own, or that of its member.
func radiusOf[T kinematics.Scalar](p *part, members []T) T {
	if p.member < 0 {
		return kinematics.Lift[T](p.radius)
	}
	return members[p.member]
}

// sheet has a vector of each spot by sample, where it was asked for.
type sheet struct {
	at     [][]plane.Vec[float64]
	filled []bool
}

func (h *sheet) clear(samples int) {
	h.at, h.filled = plane.Resize(h.at, samples), plane.Resize(h.filled, samples)
	clear(h.filled)
}

// at is where all spots are at a sample.
func (k *clearing) at(sample int) []plane.Vec[float64] {
	if h := &k.spots; !h.filled[sample] {
		h.at[sample], h.filled[sample] = k.move(h.at[sample], sample), true
	}
	return k.spots.at[sample]
}

// rate is the velocity of all spots at a sample.
func (k *clearing) rate(sample int) []plane.Vec[float64] {
	if h := &k.rates; !h.filled[sample] {
		h.at[sample], h.filled[sample] = k.velocities(h.at[sample], &k.states[sample], k.at(sample)), true
	}
	return k.rates.at[sample]
}

// move finds all spots at a sample from those at the first: only what moves has to be placed anew.
func (k *clearing) move(dst []plane.Vec[float64], sample int) []plane.Vec[float64] {
	if sample == 0 {
		return k.fill(dst, &k.states[0])
	}
	start, r, st := k.at(0), k.room, &k.states[sample]
	dst = append(dst[:0], start...)
	for _, i := range r.moving {
		if i >= r.points {
			dst[i] = r.aloof[i-r.points].off(dst)
			continue
		}
		from, to := &k.states[0].Pose[r.carrier[i]], &st.Pose[r.carrier[i]]
		x, y := start[i].Along-from.At.Along, start[i].Ahead-from.At.Ahead
		cos, sin := to.Cos*from.Cos+to.Sin*from.Sin, to.Sin*from.Cos-to.Cos*from.Sin
		dst[i] = plane.Vec[float64]{Along: to.At.Along + cos*x - sin*y, Ahead: to.At.Ahead + sin*x + cos*y}
	}
	return dst
}

// fill finds all spots at a state.
func (k *clearing) fill(dst []plane.Vec[float64], st *kinematics.State[float64]) []plane.Vec[float64] {
	dst = kinematics.Positions(k.m, dst[:0], st, k.layout)
	for i := range k.room.aloof {
		dst = append(dst, k.room.aloof[i].off(dst))
	}
	return dst
}

// off is where an end is that is on no point, or off it.
func (e *end) off(points []plane.Vec[float64]) plane.Vec[float64] {
	at := plane.Vec[float64]{Along: e.shift.Along, Ahead: e.shift.Ahead}
	if e.point >= 0 {
		at.Along, at.Ahead = at.Along+points[e.point].Along, at.Ahead+points[e.point].Ahead
	}
	return at
}

// looked are the samples by which ranges are found: five over the travel, and the two next to either
// end, since a way that goes round a dead point is bent most at an end.
const looked = 9

// stretches picks the samples to look at for the ranges, in rising order.
func (k *clearing) stretches(dst *[looked]int) []int {
	picked := dst[:0]
	for _, sample := range [looked]int{0, 1, 2, k.last / 4, k.last / 2, k.last - k.last/4, k.last - 2, k.last - 1, k.last} {
		if len(picked) == 0 || sample > picked[len(picked)-1] && sample <= k.last {
			picked = append(picked, sample)
		}
	}
	return picked
}

// survey finds the ranges of all spots.
func (k *clearing) survey() {
	start := k.at(0)
	for i := range k.ranges {
		k.ranges[i] = ranging{low: start[i], high: start[i]}
	}
	var samples [looked]int
	var at [looked][]plane.Vec[float64]
	var perMM [looked]float64 // one over the stretch to the sample
	picked := k.stretches(&samples)
	longest := 0.0
	for j, sample := range picked {
		if at[j] = k.at(sample); j > 0 {
			stretch := k.states[sample].TravelMM - k.states[picked[j-1]].TravelMM
			longest, perMM[j] = max(longest, stretch), 1/stretch
		}
	}
	for _, i := range k.room.moving {
		k.ranges[i] = rangeOf(i, at[:len(picked)], perMM[:len(picked)], longest)
	}
}

// rangeOf is the range of one spot, from its places at some samples, one over the stretches of travel to
// each of them, and the longest stretch.
func rangeOf(spot int, at [][]plane.Vec[float64], perMM []float64, longest float64) ranging {
	low, high := at[0][spot], at[0][spot]
	var before plane.Vec[float64]
	bend := 0.0
	for j := 1; j < len(at); j++ {
		from, to := at[j-1][spot], at[j][spot]
		low.Along, low.Ahead = min(low.Along, to.Along), min(low.Ahead, to.Ahead)
		high.Along, high.Ahead = max(high.Along, to.Along), max(high.Ahead, to.Ahead)
		rate := to.Minus(from).Times(perMM[j])
		if j > 1 {
			over := 2 * perMM[j] * perMM[j-1] / (perMM[j] + perMM[j-1])
			bend = max(bend, squareOf(rate, before)*over*over)
		}
		before = rate
	}
	bend = bendMargin * math.Sqrt(bend)
	sag := bend * longest * longest / 8
	return ranging{
		low:  plane.Vec[float64]{Along: low.Along - sag, Ahead: low.Ahead - sag},
		high: plane.Vec[float64]{Along: high.Along + sag, Ahead: high.Ahead + sag}, bend: bend,
	}
}

// away tells that a pair whose steering angle is known is farther apart than the smallest gap so far,
// without a root.
func (k *clearing) away(p *pair) bool {
	reach := k.best.gap + k.radii[p.a] + k.radii[p.b] + p.thick
	if reach <= p.aside {
		return true
	}
	a, b := &k.bounds[p.a], &k.bounds[p.b]
	square := 0.0
	if x := math.Abs(a.middle.Along-b.middle.Along) - (a.half.Along + b.half.Along); x > 0 {
		square = x * x
	}
	if y := math.Abs(a.middle.Ahead-b.middle.Ahead) - (a.half.Ahead + b.half.Ahead); y > 0 {
		square += y * y
	}
	if p.around == 0 {
		return square+p.aside*p.aside >= reach*reach
	}
	reach = p.around + max(0, reach)
	return square >= reach*reach
}

// apart is no more than the square of the distance of the pair, as square gives it, from where its parts
// get to.
func (k *clearing) apart() float64 {
	n := &k.now
	a, b := &k.bounds[n.a], &k.bounds[n.b]
	x := max(0, math.Abs(a.middle.Along-b.middle.Along)-(a.half.Along+b.half.Along))
	y := max(0, math.Abs(a.middle.Ahead-b.middle.Ahead)-(a.half.Ahead+b.half.Ahead))
	square := x*x + y*y
	if n.kind != solidPair && (n.kind != hubPair || n.aside > 0) {
		square = pastRadius(square, n.around)
	}
	if !n.flat {
		square += n.aside * n.aside
	}
	return square
}
