package kinematics

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// batch solves all samples of a sweep side by side, step by step of the mechanism instead of sample
// by sample, for mechanisms whose steps are a driver and dyads. What is not plain (a dyad that does
// not close, an axle that turns back, a sample that does not settle at once) is left to the walk
// from sample to sample, which can tell what happens.
//
// The drive is counted by the tangent of half its turn, or by its way along a slide in mm, so that no
// angle is needed.
type batch struct {
	parts
	samples   int
	bodies    int
	stages    []stage
	orderly   []stage               // one sample each, from those before
	drive     []float64             // by sample
	slope     []float64             // by sample: rate of the drive per sample
	sines     []float64             // by sample: smallest sine of the angle between the links of a dyad
	poses     []plane.Pose[float64] // by sample and body
	rates     []plane.Rate[float64] // by sample and body; per unit of drive (radian or mm) until read, then per mm of travel
	perMM     []float64             // by sample: drive per mm of travel
	off       []float64             // by sample: how far the axle still has to go along, mm
	unsettled []int                 // samples to be placed again
	single    [1]int
	asked     float64                  // the travel of solved
	solved    [1]stance.State[float64] // of a travel between samples, which comes after all samples
	step      float64                  // mm of travel between samples
	topOut    float64                  // as Motion's
	grounded  groundPose               // what all samples have of the ground
	bounded   []bounds                 // by body
	plain     bool                     // the last sweep was
}

// groundPose is a body that does not move, and where its anchor is.
type groundPose struct {
	known bool
	body  int
	at    plane.Vec[float64]
}

// size makes room for a number of samples and bodies, and lends the states their part of it.
func (st *batch) size(states []stance.State[float64], bodies int) {
	n := len(states) + 1
	st.bodies, st.bounded = bodies, plane.Resize(st.bounded, bodies)
	if st.samples != len(states) {
		st.samples, st.stages, st.orderly = len(states), newStages(len(states)), orderlyStages(len(states))
		st.drive, st.slope, st.sines = make([]float64, n), make([]float64, n), make([]float64, n)
		st.perMM, st.off, st.unsettled = make([]float64, n), make([]float64, n), make([]int, n)
	}
	first := states[0].Pose
	if len(st.poses) == n*bodies && len(first) == bodies && &first[0] == &st.poses[0] {
		return
	}
	st.grounded = groundPose{}
	st.poses, st.rates = plane.Resize(st.poses, n*bodies), plane.Resize(st.rates, n*bodies)
	lend := func(s *stance.State[float64], i int) {
		from, to := i*bodies, (i+1)*bodies
		s.Pose, s.Rate = st.poses[from:to:to], st.rates[from:to:to]
	}
	for i := range states {
		lend(&states[i], i)
	}
	lend(&st.solved[0], st.samples)
}

// sweep solves all samples and is false where that is not plain.
func (st *batch) sweep(mo *Motion, travelMM float64) bool {
	if !mo.link.m.OnlyDyads() {
		return false
	}
	st.size(mo.States, len(mo.link.m.Bodies))
	st.take(&mo.link, &mo.attitude)
	st.ground()
	st.step = travelMM / float64(st.samples-1)
	if !st.solveStages(st.stages) && !st.solveStages(st.orderly) {
		return false
	}
	st.read(mo.States, 0)
	if !mo.link.m.PlainAngles() {
		st.angles(mo.States)
	}
	st.plain = true
	return true
}

// solveStages solves all samples in an order, and is false where they are not certain to be on the path
// from top-out. Samples that follow from all over the travel take the least time; those that follow from
// the ones before go astray less often.
func (st *batch) solveStages(stages []stage) bool {
	if !st.begin() {
		return false
	}
	for i := range stages {
		stage := &stages[i]
		for j, k := range stage.samples {
			st.drive[k] = st.predict(&stage.from[j])
		}
		if !st.place(stage.samples) || !st.settle(stage.samples) {
			return false
		}
	}
	return st.certain()
}

// begin places the sample at top-out, which needs no search. It is false at a dead point.
func (st *batch) begin() bool {
	st.drive[0], st.single[0] = 0, 0
	if !st.place(st.single[:]) {
		return false
	}
	axle := st.axle(0)
	st.topOut = axle.v.Along
	st.perMM[0], st.off[0] = -1/axle.v.Along, 0
	st.slope[0] = st.step * st.perMM[0] * st.first.perUnit(0)
	return !math.IsInf(st.slope[0], 0)
}

// solve finds the state at any travel of a sweep that was plain; it is the batch's own, or a sample's.
func (st *batch) solve(states []stance.State[float64], travelMM float64) (*stance.State[float64], bool) {
	if !st.plain {
		return nil, false
	}
	place := travelMM / st.step
	if k := int(place); k >= 0 && k < len(states) && states[k].TravelMM == travelMM {
		return &states[k], true
	}
	from := between(place, st.samples)
	st.drive[st.samples], st.single[0], st.asked = st.predict(&from), st.samples, travelMM
	if !st.place(st.single[:]) || !st.settle(st.single[:]) || !st.within(place) {
		return nil, false
	}
	st.read(st.solved[:], st.samples)
	if !st.link.m.PlainAngles() {
		st.angles(st.solved[:])
	}
	st.solved[0].TravelMM = travelMM
	return &st.solved[0], true
}

// ground puts the body that does not move into all samples, unless it is there.
func (st *batch) ground() {
	now := groundPose{true, st.fixed, st.root}
	if st.grounded == now {
		return
	}
	for i := st.fixed; i < len(st.poses); i += st.bodies {
		st.poses[i], st.rates[i] = plane.Pose[float64]{At: st.root, Cos: 1}, plane.Rate[float64]{}
	}
	st.grounded = now
}

// predict guesses a drive.
func (st *batch) predict(s *stencil) float64 {
	drive, slope := st.drive, st.slope
	values, rates := 0.0, 0.0
	for i, k := range &s.nodes {
		values += s.value[i] * drive[k]
		rates += s.rate[i] * slope[k]
	}
	return values + rates
}

// place puts all bodies of some samples where their drives have them. It is false where a dyad does
// not close.
func (st *batch) place(list []int) bool {
	st.first.place(st, list)
	for i := range st.dyads {
		if !st.dyads[i].place(st, list) {
			return false
		}
	}
	return true
}

// axle is where the axle of a placed sample is, and its velocity.
func (st *batch) axle(k int) seen {
	b := k*st.bodies + st.wheel.body
	return st.wheel.see(&st.poses[b], &st.rates[b])
}

// settle brings the axles of placed samples to their travels by Newton. Most have nowhere left to go.
func (st *batch) settle(list []int) bool {
	wheel, least, poses, rates := st.wheel, 1e-9*st.topOut*st.topOut, st.poses, st.rates
	for range newtonMax {
		late := st.unsettled[:0]
		for _, k := range list {
			b := k*st.bodies + wheel.body
			axle := wheel.see(&poses[b], &rates[b])
			if !(axle.v.Along*st.topOut > least) {
				return false
			}
			off, perMM := st.long-st.travel(k)-axle.at.Along, -1/axle.v.Along
			slope := perMM * st.first.perUnit(st.drive[k])
			st.drive[k] -= off * slope
			if off < sameRates && -off < sameRates {
				st.slope[k], st.perMM[k], st.off[k] = st.step*slope, perMM, off
				continue
			}
			if !(math.Abs(off*perMM) < 0.3*st.first.scale) {
				return false
			}
			late = append(late, k)
		}
		if list = late; len(list) == 0 {
			return true
		}
		if !st.place(list) {
			return false
		}
	}
	return false
}

// travel is where a sample has to be.
func (st *batch) travel(k int) float64 {
	if k == st.samples {
		return st.asked
	}
	return st.step * float64(k)
}

// within tells whether a drive found between two samples is between theirs. Between samples that are
// certain, the travel tells the drive.
func (st *batch) within(place float64) bool {
	const slack = 1e-9
	k := max(0, min(int(place), st.samples-2))
	from, to, at := st.drive[k], st.drive[k+1], st.drive[st.samples]
	return min(from, to)-slack <= at && at <= max(from, to)+slack
}
