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
	samples int
	stages  stages
	drive   []float64       // by sample
	slope   []float64       // by sample: rate of the drive per sample
	poses   []Pose[float64] // by sample and body
	rates   []Rate[float64] // by sample and body; per unit of drive (radian or mm) until read, then per mm of travel
	sines   []float64       // by sample: smallest sine of the angle between the links of a dyad
	axles   []seen          // by sample
	pairs   []pair
	first   lead
	axle    spot
	again   [1]stencil
}

// size makes room for a number of samples and bodies, and lends the states their part of it.
func (st *strip) size(states []State[float64], bodies int) {
	samples := len(states)
	if st.samples != samples {
		st.samples, st.stages = samples, newStages(samples)
		st.drive, st.slope, st.sines = make([]float64, samples), make([]float64, samples), make([]float64, samples)
		st.axles = make([]seen, samples)
	}
	first := states[0].Pose
	if len(st.poses) == samples*bodies && len(first) == bodies && &first[0] == &st.poses[0] {
		return
	}
	st.poses, st.rates = resize(st.poses, samples*bodies), resize(st.rates, samples*bodies)
	for i := range states {
		from, to := i*bodies, (i+1)*bodies
		states[i].Pose, states[i].Rate = st.poses[from:to:to], st.rates[from:to:to]
	}
}

// sweep solves all samples and is false where that is not plain.
func (st *strip) sweep(mo *Motion, travelMM float64) bool {
	m := mo.link.m
	for i := range m.steps {
		if m.steps[i].kind > dyad {
			return false
		}
	}
	st.size(mo.States, len(m.Bodies))
	st.take(&mo.link)
	step := travelMM / float64(st.samples-1)
	along := mo.attitude.chassis.AxleToCrownMM
	st.drive[0], st.again[0].sample = 0, 0
	if !st.place(st.again[:]) {
		return false
	}
	mo.topOut = st.axles[0].v.Along
	if st.slope[0] = -step / mo.topOut * st.first.perUnit(0); math.IsInf(st.slope[0], 0) {
		return false
	}
	for _, stage := range st.stages {
		for i := range stage {
			st.foretell(&stage[i])
		}
		if !st.place(stage) {
			return false
		}
		for i := range stage {
			k := stage[i].sample
			if !st.settle(k, along-step*float64(k), step, mo.topOut) {
				return false
			}
		}
	}
	st.read(mo.States, &mo.link, &mo.attitude, step)
	return st.joined(&mo.link, mo.States)
}

// take copies what the strip needs of a linkage whose coordinates are set.
func (st *strip) take(l *linkage[float64]) {
	m := l.m
	st.first = newLead(l)
	st.pairs = st.pairs[:0]
	for i := 1; i < len(m.steps); i++ {
		st.pairs = append(st.pairs, newPair(l, i))
	}
	st.axle = newSpot(l, place{m.wheel, m.axle})
	at := l.layout[m.anchor[m.ground]]
	for i := m.ground; i < len(st.poses); i += len(m.Bodies) {
		st.poses[i], st.rates[i] = Pose[float64]{At: at, Cos: 1}, Rate[float64]{}
	}
}

// foretell guesses the drive at a sample.
func (st *strip) foretell(s *stencil) {
	sum := 0.0
	for i, k := range s.nodes {
		sum += s.value[i]*st.drive[k] + s.rate[i]*st.slope[k]
	}
	st.drive[s.sample] = sum
}

// place puts all bodies of some samples where their drives have them. It is false where a dyad does
// not close.
func (st *strip) place(list []stencil) bool {
	bodies := len(st.poses) / st.samples
	st.first.place(st, list, bodies)
	for i := range st.pairs {
		if !st.pairs[i].place(st, list, bodies) {
			return false
		}
	}
	for i := range list {
		k := list[i].sample
		from, to := k*bodies, (k+1)*bodies
		st.axles[k] = st.axle.see(st.poses[from:to], st.rates[from:to])
	}
	return true
}

// settle brings the axle of a placed sample to where it has to be along, by Newton.
func (st *strip) settle(k int, along, step, topOut float64) bool {
	for range newtonMax {
		speed := st.axles[k].v.Along
		if !(speed*topOut > 0) || math.Abs(speed) < 1e-9*math.Abs(topOut) {
			return false
		}
		inverse := 1 / speed
		off := along - st.axles[k].at.Along
		by, unit := off*inverse, st.first.perUnit(st.drive[k])
		st.drive[k] += by * unit
		if math.Abs(off) < sameRates {
			st.slope[k] = -step * inverse * unit
			st.shift(k, by)
			return true
		}
		st.again[0].sample = k
		if !(math.Abs(by) < 0.3*st.first.scale) || !st.place(st.again[:]) {
			return false
		}
	}
	return false
}

// shift moves all bodies of a sample by a step of the drive along their rates, as linkage.shift.
func (st *strip) shift(k int, by float64) {
	bodies := len(st.poses) / st.samples
	poses, rates := st.poses[k*bodies:(k+1)*bodies], st.rates[k*bodies:(k+1)*bodies]
	for b := range poses {
		p, r := &poses[b], &rates[b]
		turn := r.Turn * by
		p.At.Along += r.At.Along * by
		p.At.Ahead += r.At.Ahead * by
		p.Cos, p.Sin = p.Cos-p.Sin*turn, p.Sin+p.Cos*turn
	}
	a := &st.axles[k]
	a.at.Along += a.v.Along * by
	a.at.Ahead += a.v.Ahead * by
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
		if math.Min(st.sines[a], st.sines[b]) <= plainSine && l.cut(&states[a], &states[b]) != "" {
			return false
		}
	}
	return true
}
