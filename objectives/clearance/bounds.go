package clearance

import (
	"math"

	"forkfront/kinematics/plane"
)

// pathBounds is the bounding box of the path of a point in the plane over the travel, in mm, and a bound on its
// curvature: the second derivative of its position by travel, in 1/mm.
type pathBounds struct {
	low, high plane.Vec[float64]
	curvature float64
}

// partBounds is the bounding box of a part in the plane over the travel, by middle and half extent in mm, and a bound
// on the curvature of the paths of its points, in 1/mm.
type partBounds struct {
	middle, half plane.Vec[float64]
	curvature    float64
}

// curvatureMargin is the factor by which the curvature of a path may exceed that between the samples surveyed.
const curvatureMargin = 1.5

// prepare prepares the search of a fork.
func (k *pairSearch) prepare(of *problem) {
	k.problem = of
	r := of.assembly
	k.positionCache.clear(len(of.states))
	k.rateCache.clear(len(of.states))
	k.paths = plane.Resize(k.paths, r.points+len(r.freeEnds))
	k.boundPaths()
	k.radii, k.bounds = plane.Resize(k.radii, len(r.parts)), plane.Resize(k.bounds, len(r.parts))
	for i := range r.parts {
		p := &r.parts[i]
		k.radii[i] = radiusOf(p, of.members)
		k.bounds[i].enclose(&k.paths[p.spots[0]], &k.paths[p.spots[1]])
	}
}

// enclose sets the bounds to those of everything between two points.
func (o *partBounds) enclose(a, b *pathBounds) {
	low := plane.Vec[float64]{Along: min(a.low.Along, b.low.Along), Ahead: min(a.low.Ahead, b.low.Ahead)}
	high := plane.Vec[float64]{Along: max(a.high.Along, b.high.Along), Ahead: max(a.high.Ahead, b.high.Ahead)}
	o.middle = plane.Vec[float64]{Along: (low.Along + high.Along) / 2, Ahead: (low.Ahead + high.Ahead) / 2}
	o.half = plane.Vec[float64]{Along: (high.Along - low.Along) / 2, Ahead: (high.Ahead - low.Ahead) / 2}
	o.curvature = max(a.curvature, b.curvature)
}

// surveyCount is the number of samples from which paths are bounded: five over the travel, and the two next to either
// end, because the path near a dead point has its largest curvature at an end.
const surveyCount = 9

// surveySamples selects these samples, in ascending order.
func (k *pairSearch) surveySamples(dst *[surveyCount]int) []int {
	picked := dst[:0]
	for _, sample := range [surveyCount]int{0, 1, 2, k.last / 4, k.last / 2, k.last - k.last/4, k.last - 2, k.last - 1, k.last} {
		if len(picked) == 0 || sample > picked[len(picked)-1] && sample <= k.last {
			picked = append(picked, sample)
		}
	}
	return picked
}

// boundPaths bounds the paths of all points.
func (k *pairSearch) boundPaths() {
	start := k.positions(0)
	for i := range k.paths {
		k.paths[i] = pathBounds{low: start[i], high: start[i]}
	}
	k.survey(k.positions, k.paths, k.assembly.moving)
}

// survey bounds the paths of some points, given their positions at a sample.
func (k *pairSearch) survey(positions func(sample int) []plane.Vec[float64], paths []pathBounds, points []int) {
	var samples [surveyCount]int
	var at [surveyCount][]plane.Vec[float64]
	var perMM [surveyCount]float64 // reciprocal of the travel from the preceding sample
	picked := k.surveySamples(&samples)
	longest := 0.0
	for j, sample := range picked {
		if at[j] = positions(sample); j > 0 {
			step := k.states[sample].TravelMM - k.states[picked[j-1]].TravelMM
			longest, perMM[j] = max(longest, step), 1/step
		}
	}
	for _, i := range points {
		paths[i] = pathBoundsOf(i, at[:len(picked)], perMM[:len(picked)], longest)
	}
}

// pathBoundsOf returns the bounds of the path of one point, from its positions at some samples, the reciprocal of the
// travel from one to the next, and the largest such travel.
func pathBoundsOf(spot int, at [][]plane.Vec[float64], perMM []float64, longest float64) pathBounds {
	low, high := at[0][spot], at[0][spot]
	var before plane.Vec[float64]
	curvature := 0.0
	for j := 1; j < len(at); j++ {
		from, to := at[j-1][spot], at[j][spot]
		low.Along, low.Ahead = min(low.Along, to.Along), min(low.Ahead, to.Ahead)
		high.Along, high.Ahead = max(high.Along, to.Along), max(high.Ahead, to.Ahead)
		rate := to.Minus(from).Times(perMM[j])
		if j > 1 {
			over := 2 * perMM[j] * perMM[j-1] / (perMM[j] + perMM[j-1])
			curvature = max(curvature, distance2(rate, before)*over*over)
		}
		before = rate
	}
	curvature = curvatureMargin * math.Sqrt(curvature)
	sag := curvature * longest * longest / 8
	return pathBounds{
		low:  plane.Vec[float64]{Along: low.Along - sag, Ahead: low.Ahead - sag},
		high: plane.Vec[float64]{Along: high.Along + sag, Ahead: high.Ahead + sag}, curvature: curvature,
	}
}

// separated reports whether the bounds of a pair whose steering angle is known are farther apart than the smallest
// gap so far, without a square root.
func (k *pairSearch) separated(p *pair) bool {
	reach := k.best.gap + k.radii[p.a] + k.radii[p.b] + p.section
	if reach <= p.lateral {
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
	if p.wheelRadius == 0 {
		return square+p.lateral*p.lateral >= reach*reach
	}
	reach = p.wheelRadius + max(0, reach)
	return square >= reach*reach
}

// separatedAlong reports whether the bounds of a pair are farther apart along the steering axis than the smallest gap so
// far: at all steering angles.
func (k *pairSearch) separatedAlong(p *pair) bool {
	a, b := &k.bounds[p.a], &k.bounds[p.b]
	apart := math.Abs(a.middle.Along-b.middle.Along) - (a.half.Along + b.half.Along)
	return apart >= p.wheelRadius+max(0, k.best.gap+k.radii[p.a]+k.radii[p.b]+p.section)
}

// lowerBound is a lower bound on the squared distance of the pair, as distance2 returns it, from the bounds of its
// parts.
func (k *pairSearch) lowerBound() float64 {
	n := &k.current
	a, b := &k.bounds[n.a], &k.bounds[n.b]
	x := max(0, math.Abs(a.middle.Along-b.middle.Along)-(a.half.Along+b.half.Along))
	y := max(0, math.Abs(a.middle.Ahead-b.middle.Ahead)-(a.half.Ahead+b.half.Ahead))
	square := x*x + y*y
	if n.kind != solidPair && (n.kind != hubPair || n.lateral > 0) {
		square = beyondRadius2(square, n.wheelRadius)
	}
	if !n.flat {
		square += n.lateral * n.lateral
	}
	return square
}
