package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// Motion is one solved sweep, and one worker's memory: Sweep reuses its slices.
type Motion struct {
	States    []stance.State[float64] // by sample, from top-out; all of them only when Fault is empty
	ReachedMM float64                 // travel up to which the mechanism moves
	Fault     string                  // why it stops short; empty when it does not
	link      linkage[float64]
	attitude  stance.Attitude
	batch     batch
	loops     loopBatch
	path      continuation
}

const (
	sameRates = 1e-8 // mm: a step below this leaves the rates what they are, to 1e-10 of themselves
	newtonMax = 12
)

// Sweep moves the mechanism through samples equally spaced travels from 0 to travelMM. The layout
// has one top-out position per point of the mechanism. A fork that stops short is no error: Fault
// and ReachedMM say so.
//
// The motion ends at the first dead point, where the axle would turn back along the steering axis. It
// does not matter which body drives: where one turns back while the axle continues, so does the motion.
func (mo *Motion) Sweep(m *mechanism.Mechanism, c *stance.Chassis, layout []plane.Vec[float64], travelMM float64, samples int) {
	mo.attitude = c.Attitude()
	mo.States = plane.Resize(mo.States, samples)
	mo.ReachedMM, mo.Fault, mo.batch.plain, mo.loops.solved = 0, "", false, false
	reason := mo.link.set(m, layout)
	if reason == "" && (mo.batch.sweep(mo, travelMM) || !m.OnlyDyads() && mo.loops.sweep(mo, travelMM)) {
		mo.ReachedMM = travelMM
		return
	}
	mo.walk(travelMM, samples, reason)
}

// walk goes from sample to sample in certain steps.
func (mo *Motion) walk(travelMM float64, samples int, reason string) {
	mo.batch.grounded = groundPose{}
	if !mo.path.begin(mo.link.m, mo.link.layout) {
		if mo.Fault = reason; reason == "" {
			mo.Fault = "the links cannot move at top-out: the axle stands at a dead point"
		}
		return
	}
	step := travelMM / float64(samples-1)
	for i := range samples {
		travel := step * float64(i)
		if !mo.path.reach(travel) {
			if mo.ReachedMM = mo.path.travel; !mo.path.tired {
				mo.ReachedMM = min(mo.path.end(), travelMM)
			}
			mo.Fault = mo.stopped()
			return
		}
		mo.readCourse(&mo.States[i], false)
	}
	mo.ReachedMM = travelMM
}

// readCourse fills in the state where the course stands.
func (mo *Motion) readCourse(dst *stance.State[float64], second bool) {
	if second {
		mo.path.seconds()
	}
	mo.path.place(&mo.link, second)
	mo.link.drive = mo.link.driven()
	mo.link.read(dst, &mo.attitude, mo.path.travel)
}

// Solve finds the state at any travel within a sweep that went through, and its second derivatives
// when they are asked for. It reports false when the mechanism does not get there.
func (mo *Motion) Solve(dst *stance.State[float64], second *stance.Second[float64], travelMM float64) bool {
	if s, ok := mo.batch.solve(mo.States, travelMM); ok {
		if dst.Copy(s); second != nil {
			mo.link.standAs(s.Pose, s.Rate)
			mo.link.accelerations()
			*second = mo.link.second(s, &mo.attitude)
		}
		return true
	}
	if s := mo.loops.state(&mo.batch, mo.States, travelMM); s != nil {
		if dst.Copy(s); second != nil {
			mo.path.resume(s)
			mo.path.seconds()
			mo.path.place(&mo.link, true)
			*second = mo.link.second(s, &mo.attitude)
		}
		return true
	}
	if mo.batch.plain {
		// The sweep was certain, but a guess between its samples was not good enough.
		mo.path.begin(mo.link.m, mo.link.layout)
	}
	if !mo.path.resume(mo.near(travelMM)) || !mo.path.reach(travelMM) {
		return false
	}
	mo.readCourse(dst, second != nil)
	if second != nil {
		*second = mo.link.second(dst, &mo.attitude)
	}
	return true
}

// near is the solved state closest to a travel, the first of two that are equally so.
func (mo *Motion) near(travelMM float64) *stance.State[float64] {
	last := len(mo.States) - 1
	place := travelMM / mo.States[last].TravelMM * float64(last)
	return &mo.States[max(0, min(int(math.Ceil(place-0.5)), last))]
}
