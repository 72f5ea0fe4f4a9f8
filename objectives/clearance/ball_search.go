package clearance

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
	"forkfront/kinematics/stance"
)

// ballSearch searches the ball pairs for the smallest gap. It holds one worker's scratch memory.
type ballSearch struct {
	*problem
	positionCache  [][]plane.Vec[float64] // by sample, where filled
	axes           []solid.Axis[float64]
	filled         []bool
	current        int // index of the pair that is searched
	ends           []corners
	sinHalfLock    float64
	axisDistances  []float64 // see axisDistance, by part and sample; negative: not yet known
	best           ballContact
	cos            [steerSteps + 1]float64
	sin            [steerSteps + 1]float64
	trial          stance.State[float64]
	bestState      stance.State[float64] // at the best contact
	trialPositions []plane.Vec[float64]
	tangents       []plane.Vec[complex128]
}

func (k *ballSearch) prepare(of *problem) {
	k.problem = of
	k.sinHalfLock = math.Sin(of.assembly.lock / 2)
	samples := len(of.states)
	k.positionCache, k.filled = plane.Resize(k.positionCache, samples), plane.Resize(k.filled, samples)
	k.axes = plane.Resize(k.axes, samples)
	clear(k.filled)
	k.axisDistances = plane.Resize(k.axisDistances, samples*len(of.assembly.parts))
	for i := range k.axisDistances {
		k.axisDistances[i] = -1
	}
	for i := range k.cos {
		k.sin[i], k.cos[i] = math.Sincos(of.assembly.steerAngle(i))
	}
	k.best = ballContact{pair: -1, gap: math.Inf(1)}
}

// searchAll looks for a gap of any pair that is smaller than the smallest so far. The ends of travel and steering of
// all pairs come first, because gaps found there rule out much of what lies in between.
func (k *ballSearch) searchAll() {
	k.ends = k.ends[:0]
	for i := range k.assembly.balls.pairs {
		k.ends = append(k.ends, k.corners(i))
	}
	for i := range k.ends {
		k.searchCell(i, k.ends[i])
	}
}

// searchPair looks for a gap of one pair that is smaller than the smallest so far.
func (k *ballSearch) searchPair(i int) { k.searchCell(i, k.corners(i)) }

// firstStep is the first steering step of a pair: straight ahead if the other side is its mirror image.
func (k *ballSearch) firstStep(i int) int {
	if k.assembly.balls.pairs[i].symmetric {
		return steerSteps / 2
	}
	return 0
}

// corners evaluates a pair at the ends of travel and steering.
func (k *ballSearch) corners(i int) corners {
	k.current = i
	from := k.firstStep(i)
	return corners{{k.evaluate(0, from), k.evaluate(0, steerSteps)}, {k.evaluate(k.last, from), k.evaluate(k.last, steerSteps)}}
}

func (k *ballSearch) searchCell(i int, c corners) {
	k.current = i
	k.bisect(0, k.last, k.firstStep(i), steerSteps, c)
}

// positions returns the positions of all points at a sample.
func (k *ballSearch) positions(sample int) []plane.Vec[float64] {
	if !k.filled[sample] {
		k.positionCache[sample] = mechanism.Positions(k.assembly.balls.m, k.positionCache[sample][:0], &k.states[sample], k.layout)
		k.axes[sample] = axisOf(k.assembly.balls, k.positionCache[sample])
		k.filled[sample] = true
	}
	return k.positionCache[sample]
}

// evaluate returns the squared distance of the pair at a sample and a steering step, and updates the smallest gap.
func (k *ballSearch) evaluate(sample, step int) float64 {
	c := ballContact{pair: k.current, sample: sample, travelMM: k.states[sample].TravelMM, steer: k.assembly.steerAngle(step)}
	positions := k.positions(sample)
	square := k.assembly.ballDistance2(&c, positions, &k.axes[sample], k.cos[step], k.sin[step])
	if c.gap = math.Sqrt(square) - k.radii(c.pair); c.gap < k.best.gap {
		k.best = c
	}
	return square
}

// ballDistance2 finds the closest points of a pair at a steering angle, and their squared distance.
func (r *Assembly) ballDistance2(c *ballContact, positions []plane.Vec[float64], axis *solid.Axis[float64], cos, sin float64) (square float64) {
	p := &r.balls.pairs[c.pair]
	b := segmentOf(&r.parts[p.b], positions)
	b = axis.Turned(&b, cos, -sin)
	if p.wheelKind == ballSolid {
		a := segmentOf(&r.parts[p.a], positions)
		c.on[0], c.on[1], square = solid.Closest(&a, &b)
		return square
	}
	g := b.FromAxle(positions[r.parts[0].ends[0].point])
	if c.on[1], square = r.ring.Closest(&g); p.wheelKind == ballDisc {
		c.on[1], square = r.ring.ClosestOnDisc(&g, c.on[1])
	}
	return square
}

func (r *Assembly) ballGapAt(c *ballContact) Gap {
	return Gap{Pair: r.balls.pairs[c.pair].name, GapMM: c.gap, TravelMM: c.travelMM, SteerDeg: c.steer * 180 / math.Pi}
}
