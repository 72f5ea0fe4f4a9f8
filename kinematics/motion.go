package kinematics

import (
	"math"

	"forkfront/kinematics/plane"
)

// Motion is one solved sweep, and one worker's memory: Sweep reuses its slices.
type Motion struct {
	States    []State[float64] // by sample, from top-out; all of them only when Fault is empty
	ReachedMM float64          // travel up to which the mechanism moves
	Fault     string           // why it stops short; empty when it does not
	link      linkage[float64]
	attitude  attitude
	topOut    float64 // sign of the axle's velocity along, per unit of drive
	turns     []float64
	between   []State[float64] // what joined looked at
	strip     strip
}

const (
	closed    = 1e-6 // mm: a residual below this is taken out by one linear step, to 1e-12
	sameRates = 1e-8 // mm: a step below this leaves the rates what they are, to 1e-10 of themselves
	newtonMax = 12
	leastStep = 1e-6 // mm of travel: how exactly the end of the motion is found
)

// Sweep moves the mechanism through samples equally spaced travels from 0 to travelMM. The layout
// has one top-out position a point of the mechanism. A fork that stops short is no error: Fault
// and ReachedMM say so.
func (mo *Motion) Sweep(m *Mechanism, c *Chassis, layout []plane.Vec[float64], travelMM float64, samples int) {
	mo.attitude = c.attitude()
	mo.States = plane.Resize(mo.States, samples)
	mo.turns = mo.turns[:0]
	mo.ReachedMM, mo.strip.plain = 0, false
	if mo.Fault = mo.link.set(m, layout); mo.Fault != "" {
		return
	}
	if mo.strip.sweep(mo, travelMM) {
		mo.ReachedMM = travelMM
		return
	}
	mo.march(travelMM, samples)
}

// march goes from sample to sample.
func (mo *Motion) march(travelMM float64, samples int) {
	mo.strip.stood = standing{}
	if mo.link.locate(drive[float64]{cos: 1}); !mo.settle(0) {
		mo.Fault = "the links cannot move at top-out: the axle stands at a dead point"
		return
	}
	step := travelMM / float64(samples-1)
	for i := range samples {
		travel := step * float64(i)
		if i > 0 && !mo.follow(travel, step, i) {
			return
		}
		mo.link.read(&mo.States[i], &mo.attitude, travel)
		if i > 0 && !mo.joined(i) {
			return
		}
	}
	mo.ReachedMM = travelMM
}

// Solve finds the state at any travel within a sweep that went through, and its second derivatives
// when they are asked for. It reports false when the mechanism does not get there.
func (mo *Motion) Solve(dst *State[float64], second *Second[float64], travelMM float64) bool {
	if s, ok := mo.strip.solve(mo.States, travelMM); ok {
		if dst.Copy(s); second != nil {
			mo.link.standAs(s.Pose, s.Rate)
			*second = mo.link.second(s, &mo.attitude)
		}
		return true
	}
	mo.stand(mo.near(travelMM))
	if !mo.settle(travelMM) {
		return false
	}
	mo.link.read(dst, &mo.attitude, travelMM)
	if second != nil {
		*second = mo.link.second(dst, &mo.attitude)
	}
	return true
}

// near is the solved state closest to a travel, the first of two that are equally so.
func (mo *Motion) near(travelMM float64) *State[float64] {
	last := len(mo.States) - 1
	place := travelMM / mo.States[last].TravelMM * float64(last)
	return &mo.States[max(0, min(int(math.Ceil(place-0.5)), last))]
}

func (mo *Motion) stand(s *State[float64]) {
	mo.link.recall(s.Drive, s.Pose)
	mo.link.locate(drive[float64]{s.Drive.Cos, s.Drive.Sin, s.Drive.Way})
	mo.link.rates()
}

// follow goes from the sample before to travel: predicted from the turns so far, or in ever
// smaller steps where that fails.
func (mo *Motion) follow(travel, step float64, i int) bool {
	before := &mo.States[i-1]
	guess := mo.predict(step, i)
	from := mo.link.drive
	if mo.link.locate(moved(from, guess, mo.link.m.steps[0].kind)) < 0 && mo.settle(travel) {
		mo.turns = append(mo.turns, mo.apart(before.Drive))
		return true
	}
	mo.stand(before)
	if !mo.creep(before.TravelMM, travel) {
		return false
	}
	mo.turns = append(mo.turns, mo.apart(before.Drive))
	return true
}

// perMM is the drive per mm of travel where the linkage stands.
func (mo *Motion) perMM() float64 {
	m := mo.link.m
	return -1 / mo.link.velocity(place{m.wheel, m.axle}).Along
}

// predict extrapolates the drive over the next step by Hermite interpolation of the steps so far,
// which errs in the fourth power of the step with one and in the sixth with two.
func (mo *Motion) predict(step float64, i int) float64 {
	rate := mo.slope(i - 1)
	n := len(mo.turns)
	switch {
	case n == 0:
		return step * rate
	case n == 1:
		return -5*mo.turns[n-1] + step*(4*rate+2*mo.slope(i-2))
	}
	return -19*mo.turns[n-1] - 10*mo.turns[n-2] + step*(9*rate+18*mo.slope(i-2)+3*mo.slope(i-3))
}

// slope is the drive per mm of travel at a solved sample.
func (mo *Motion) slope(i int) float64 {
	return mo.slopeOf(&mo.States[i])
}

// apart is the drive from an earlier position to where the linkage stands.
func (mo *Motion) apart(d Drive) float64 {
	now := mo.link.drive
	if mo.link.m.steps[0].kind == slideDrive {
		return now.way - d.Way
	}
	return angleOf(now.sin*d.Cos-now.cos*d.Sin, now.cos*d.Cos+now.sin*d.Sin)
}

// settle brings the axle to a travel by Newton on the one remaining equation, from where the
// linkage stands. It fails where a dyad does not close, where the axle would turn back, or where
// the iteration does not converge.
func (mo *Motion) settle(travel float64) bool {
	l := &mo.link
	kind := l.m.steps[0].kind
	axle := place{l.m.wheel, l.m.axle}
	target := mo.attitude.chassis.AxleToCrownMM - travel
	for range newtonMax {
		l.rates()
		slope := l.velocity(axle).Along
		if travel == 0 && l.drive == (drive[float64]{cos: 1}) {
			mo.topOut = slope
		}
		if !(slope*mo.topOut > 0) || math.Abs(slope) < 1e-9*math.Abs(mo.topOut) {
			return false
		}
		by := (target - l.at(axle).Along) / slope
		if off := math.Abs(by * slope); off < closed {
			l.shift(by)
			if off > sameRates {
				if l.locate(l.drive) >= 0 {
					return false
				}
				l.rates()
			}
			return l.velocity(axle).Along*mo.topOut > 0 // near a dead point a small way is a large turn
		}
		if kind == turnDrive {
			by = math.Max(-0.3, math.Min(0.3, by))
		}
		if l.locate(moved(l.drive, by, kind)) >= 0 {
			return false
		}
	}
	return false
}

// creep goes from one travel to another in steps that are halved where they fail. When they get
// too small the mechanism has come to the end of its motion.
func (mo *Motion) creep(from, to float64) bool {
	at, step := from, (to-from)/2
	for at < to {
		next := math.Min(at+step, to)
		mo.link.keep()
		if mo.settle(next) {
			at = next
			step *= 1.5
			continue
		}
		mo.link.back()
		if step /= 2; step < leastStep {
			mo.stop(at)
			return false
		}
	}
	return true
}

// angleOf is the angle of a unit vector. The small ones between two samples go by the series of the
// arc sine, exact to rounding below 0.06 rad.
func angleOf(sin, cos float64) float64 {
	if q := sin * sin; cos > 0 && q < 0.0036 {
		return sin * (1 + q*(1./6+q*(3./40+q*(15./336+q*(105./3456+q*945./42240)))))
	}
	return math.Atan2(sin, cos)
}
