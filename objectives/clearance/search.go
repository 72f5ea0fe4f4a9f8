package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
)

// contact is where the two parts of a pair come closest.
type contact struct {
	pair     int // in pairs
	sample   int // nearest in travel
	travelMM float64
	steer    float64 // rad, positive to the left
	swept    bool    // the steering angle was found, not known
	on       [2]float64
	gap      float64
}

// clearing is one worker's memory for looking through a room.
type clearing struct {
	*scene
	spots  sheet     // by sample: see Room.place
	rates  sheet     // their velocities, per mm of travel
	radii  []float64 // by part
	bounds []bounds  // by part
	ranges []ranging // by spot
	best   contact
	now    looking
	open   []open
	eased  [2][]plane.Vec[float64] // spots and velocities between samples
	trial  kinematics.State[float64]
}

// looking is the pair that is looked at.
type looking struct {
	*pair
	at    int     // in pairs
	step  int     // of steering, where that is free; −1: it is not
	radii float64 // of both parts, and of what of the wheel counts
	limit float64 // square of the distance below which the gap is smaller than the smallest so far
	near  float64 // its root, or more
	bend  float64 // of the ways of both parts, see ranging
}

// open is a pair of which only both ends of the travel were looked at; or not at all, where its steering
// angle is free.
type open struct {
	pair     int
	swept    bool
	from, to float64 // squares of the distance
}

// search looks for the smallest gap of all pairs from one on to another, and keeps it: at both ends of
// the travel first, where most gaps are smallest, and then in between.
func (k *clearing) search(from, to int) {
	k.best = contact{pair: -1, gap: math.Inf(1)}
	k.open = k.open[:0]
	for i := from; i < to; i++ {
		p := &k.room.pairs[i]
		switch {
		case k.sweeps(p):
			k.open = append(k.open, open{pair: i, swept: true})
		case !k.away(p):
			k.ends(i)
		}
	}
	for i := range k.open {
		k.along(&k.open[i])
	}
}

// sweeps tells that the steering angle of a pair is free.
func (k *clearing) sweeps(p *pair) bool {
	return p.turning == turns || p.turning == ifAhead && k.bounds[p.a].middle.Ahead < k.bounds[p.a].half.Ahead
}

// take has a pair looked at.
func (k *clearing) take(i, step int) {
	n, p := &k.now, &k.room.pairs[i]
	n.pair, n.at, n.step = p, i, step
	n.radii = k.radii[p.a] + k.radii[p.b] + p.thick
	n.bend = k.bounds[p.a].bend + k.bounds[p.b].bend
	n.limit = k.limit()
}

// ends looks at both ends of the travel.
func (k *clearing) ends(i int) {
	if k.take(i, -1); k.apart() >= k.now.limit {
		return
	}
	o := open{pair: i, from: k.look(0)}
	if !k.now.rigid {
		o.to = k.look(k.last)
		k.open = append(k.open, o)
	}
}

// along looks at the rest of the travel.
func (k *clearing) along(o *open) {
	switch {
	case o.swept:
		k.sweep(o.pair)
	case !k.away(&k.room.pairs[o.pair]):
		k.take(o.pair, -1)
		k.now.near = math.Sqrt(k.now.limit)
		k.between(0, k.last, o.from, o.to)
	}
}

// between looks at the samples between two that have been looked at. Were the spots of both parts to go
// straight from one sample to the other, the square of the distance of any two of them would be a
// parabola with a curvature of twice the square of their way against each other; and the smallest of
// such squares lies above the parabola with the largest curvature through the smallest ones at both
// ends. Their way's bending takes off the distance, at a part t of the way, at most sag 4 t (1 − t): as
// much as a curvature of 16 limit sag + 8 sag², the limit as a distance.
func (k *clearing) between(from, to int, squareFrom, squareTo float64) {
	n := &k.now
	if above(squareFrom, squareTo, k.sway(from, to)) >= n.limit {
		return
	}
	if to-from == 1 {
		if squareFrom != squareTo { // to the last bit where spots are closest that stay, as at a pivot
			k.narrow(&nook{from, to, n.steer, n.steer})
		}
		return
	}
	mid := (from + to) / 2
	square := k.look(mid)
	k.between(from, mid, squareFrom, square)
	k.between(mid, to, square, squareTo)
}

// above is the lowest point between 0 and 1 of the parabola with the values a and b there and the
// curvature given.
func above(a, b, curvature float64) float64 {
	rise := b - a
	if math.Abs(rise) >= curvature/2 {
		return min(a, b)
	}
	return (a+b)/2 - curvature/8 - rise*rise/(2*curvature)
}

// sway is the curvature between two samples, over the square of the way between them.
func (k *clearing) sway(from, to int) float64 {
	n := &k.now
	travel := k.states[to].TravelMM - k.states[from].TravelMM
	sag := n.bend * travel * travel / 8
	return 2*k.way(from, to) + (16*n.near+8*sag)*sag
}

// way is the square of how far any spot of one part moves against any of the other between two samples.
func (k *clearing) way(from, to int) float64 {
	p, q := &k.room.parts[k.now.a], &k.room.parts[k.now.b]
	x, y := k.at(from), k.at(to)
	a0, a1 := y[p.spots[0]].Minus(x[p.spots[0]]), y[p.spots[1]].Minus(x[p.spots[1]])
	b0, b1 := y[q.spots[0]].Minus(x[q.spots[0]]), y[q.spots[1]].Minus(x[q.spots[1]])
	return max(squareOf(a0, b0), squareOf(a0, b1), squareOf(a1, b0), squareOf(a1, b1))
}

func squareOf(a, b plane.Vec[float64]) float64 {
	x, y := a.Along-b.Along, a.Ahead-b.Ahead
	return x*x + y*y
}

// look takes the square of the distance of the pair at a sample, and keeps the smallest gap.
func (k *clearing) look(sample int) float64 {
	n := &k.now
	square := k.square(sample)
	if square < n.limit {
		if gap := k.gapAt(square); gap < k.best.gap {
			n.limit = square
			k.best = contact{pair: n.at, sample: sample, travelMM: k.states[sample].TravelMM, steer: n.steer, gap: gap}
			if n.step >= 0 {
				k.best.steer, k.best.swept = k.room.steer(n.step), true
			}
		}
	}
	return square
}
