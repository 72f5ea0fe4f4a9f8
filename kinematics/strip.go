package kinematics

import "math"

// strip solves all samples of a sweep side by side, step by step of the mechanism instead of sample
// by sample, for mechanisms whose steps are a driver and dyads. What is not plain (a dyad that does
// not close, an axle that turns back, a sample that does not settle at once) is left to the walk
// from sample to sample, which can tell what happens.
//
// The drive is counted by the tangent of half its turn, or by its way along a slide in mm, so that no
// angle is needed.
type strip struct {
	parts
	samples int
	bodies  int
	stages  stages
	drive   []float64       // by sample
	slope   []float64       // by sample: rate of the drive per sample
	sines   []float64       // by sample: smallest sine of the angle between the links of a dyad
	poses   []Pose[float64] // by sample and body
	rates   []Rate[float64] // by sample and body; per unit of drive (radian or mm) until read, then per mm of travel
	perMM   []float64       // by sample: drive per mm of travel
	off     []float64       // by sample: how far the axle still has to go along, mm
	again   [1]stencil
	solved  [1]State[float64] // of a travel between samples, which comes after all samples
	step    float64           // mm of travel between samples
	topOut  float64           // as Motion's
	plain   bool              // the last sweep was
}

// size makes room for a number of samples and bodies, and lends the states their part of it.
func (st *strip) size(states []State[float64], bodies int) {
	n := len(states) + 1
	st.bodies = bodies
	if st.samples != len(states) {
		st.samples, st.stages = len(states), newStages(len(states))
		st.drive, st.slope, st.sines = make([]float64, n), make([]float64, n), make([]float64, n)
		st.perMM, st.off = make([]float64, n), make([]float64, n)
	}
	first := states[0].Pose
	if len(st.poses) == n*bodies && len(first) == bodies && &first[0] == &st.poses[0] {
		return
	}
	st.poses, st.rates = resize(st.poses, n*bodies), resize(st.rates, n*bodies)
	lend := func(s *State[float64], i int) {
		from, to := i*bodies, (i+1)*bodies
		s.Pose, s.Rate = st.poses[from:to:to], st.rates[from:to:to]
	}
	for i := range states {
		lend(&states[i], i)
	}
	lend(&st.solved[0], st.samples)
}

// sweep solves all samples and is false where that is not plain.
func (st *strip) sweep(mo *Motion, travelMM float64) bool {
	if !mo.link.m.dyads() {
		return false
	}
	st.size(mo.States, len(mo.link.m.Bodies))
	st.take(&mo.link, &mo.attitude)
	st.ground()
	st.step = travelMM / float64(st.samples-1)
	if !st.begin() {
		return false
	}
	mo.topOut = st.topOut
	for _, stage := range st.stages {
		for i := range stage {
			st.foretell(&stage[i])
		}
		if !st.place(stage) {
			return false
		}
		if !st.settle(stage) {
			return false
		}
	}
	st.read(mo.States, 0)
	st.plain = st.joined(&mo.link, mo.States)
	return st.plain
}

// begin places the sample at top-out, which needs no search. It is false at a dead point.
func (st *strip) begin() bool {
	st.drive[0], st.again[0].sample = 0, 0
	if !st.place(st.again[:]) {
		return false
	}
	axle := st.axle(0)
	st.topOut = axle.v.Along
	st.perMM[0], st.off[0] = -1/axle.v.Along, 0
	st.slope[0] = st.step * st.perMM[0] * st.first.perUnit(0)
	return !math.IsInf(st.slope[0], 0)
}

// solve finds the state at any travel of a sweep that was plain; it is the strip's own.
func (st *strip) solve(travelMM float64) (*State[float64], bool) {
	if !st.plain {
		return nil, false
	}
	st.again[0].between(travelMM/st.step, st.samples, st.samples)
	st.foretell(&st.again[0])
	if !st.place(st.again[:]) || !st.settleOne(st.samples, travelMM) {
		return nil, false
	}
	st.read(st.solved[:], st.samples)
	st.solved[0].TravelMM = travelMM
	return &st.solved[0], true
}

// ground puts the body that does not move into all samples.
func (st *strip) ground() {
	for i := st.fixed; i < len(st.poses); i += st.bodies {
		st.poses[i], st.rates[i] = Pose[float64]{At: st.root, Cos: 1}, Rate[float64]{}
	}
}

// foretell guesses the drive at a sample.
func (st *strip) foretell(s *stencil) {
	values, rates := 0.0, 0.0
	for i, k := range &s.nodes {
		values += s.value[i] * st.drive[k]
		rates += s.rate[i] * st.slope[k]
	}
	st.drive[s.sample] = values + rates
}

// place puts all bodies of some samples where their drives have them. It is false where a dyad does
// not close.
func (st *strip) place(list []stencil) bool {
	st.first.place(st, list)
	for i := range st.pairs {
		if !st.pairs[i].place(st, list) {
			return false
		}
	}
	return true
}

// axle is where the axle of a placed sample is, and its velocity.
func (st *strip) axle(k int) seen {
	b := k*st.bodies + st.wheel.body
	return st.wheel.see(&st.poses[b], &st.rates[b])
}

// settle brings the axles of placed samples to their travels, for which most have nowhere left to go.
func (st *strip) settle(stage []stencil) bool {
	wheel := st.wheel
	for i := range stage {
		k := stage[i].sample
		b := k*st.bodies + wheel.body
		axle := wheel.see(&st.poses[b], &st.rates[b])
		off := st.long - st.step*float64(k) - axle.at.Along
		if axle.v.Along*st.topOut > 0 && off < sameRates && -off < sameRates {
			st.accept(k, off, -1/axle.v.Along)
		} else if !st.settleOne(k, st.step*float64(k)) {
			return false
		}
	}
	return true
}

// accept takes a sample as settled.
func (st *strip) accept(k int, off, perMM float64) {
	slope := perMM * st.first.perUnit(st.drive[k])
	st.drive[k] -= off * slope
	st.slope[k], st.perMM[k], st.off[k] = st.step*slope, perMM, off
}

// settleOne brings the axle of a placed sample to a travel by Newton.
func (st *strip) settleOne(k int, travelMM float64) bool {
	st.again[0].sample = k
	for range newtonMax {
		axle := st.axle(k)
		speed := axle.v.Along
		if !(speed*st.topOut > 0) || math.Abs(speed) < 1e-9*math.Abs(st.topOut) {
			return false
		}
		off, perMM := st.long-travelMM-axle.at.Along, -1/speed
		if math.Abs(off) < sameRates {
			st.accept(k, off, perMM)
			return true
		}
		st.drive[k] -= off * perMM * st.first.perUnit(st.drive[k])
		if !(math.Abs(off*perMM) < 0.3*st.first.scale) || !st.place(st.again[:]) {
			return false
		}
	}
	return false
}

// joined tells whether each sample is beyond doubt reached from the one before: the drive goes one
// way between them, as in Motion.forward, and no dyad comes to its toggle.
func (st *strip) joined(l *linkage[float64], states []State[float64]) bool {
	for b := 1; b < len(states); b++ {
		a := b - 1
		from, to := st.slope[a], st.slope[b]
		way, both := st.drive[b]-st.drive[a], from*to
		if !(both > 0 && way*from > 0 && way*(from+to) <= 3*both) {
			return false
		}
		if min(st.sines[a], st.sines[b]) <= plainSine && l.cut(&states[a], &states[b]) != "" {
			return false
		}
	}
	return true
}
