package kinematics

import (
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// Tangent is a solved motion with one directional derivative: it goes along with a Motion whose
// layout is the real part of its own. The derivative comes from the closure equations themselves,
// since one Newton step from a closed position moves only the imaginary part.
type Tangent struct {
	link   linkage[complex128]
	loops  loopEquations[complex128] // where the motion is not that of a driver and dyads
	motion *Motion
	real   stance.State[float64]
}

// Set takes the layout with its derivative in the imaginary parts. The motion must have been swept
// through with the same mechanism and the real parts.
func (sh *Tangent) Set(mo *Motion, m *mechanism.Mechanism, layout []plane.Vec[complex128]) {
	sh.motion = mo
	sh.link.set(m, layout)
	if !mo.batch.plain {
		sh.loops.set(m, layout)
	}
}

// Differentiate gives the derivative to a state that the motion has solved.
func (sh *Tangent) Differentiate(dst *stance.State[complex128], second *stance.Second[complex128], from *stance.State[float64], travelMM complex128) {
	l, a := &sh.link, &sh.motion.attitude
	if !sh.motion.batch.plain {
		sh.follow(dst, second, from, travelMM)
		return
	}
	l.recall(from.Drive, from.Pose)
	l.locate(drive[complex128]{complex(from.Drive.Cos, 0), complex(from.Drive.Sin, 0), complex(from.Drive.Way, 0)})
	// The bodies go to the travel along their rates; only the real rates count, for the way there is
	// only a derivative.
	off := l.at(l.m.Hub()).Along - complex(a.Chassis.AxleToCrownMM, 0) + travelMM
	drift(l, imag(off), from.Rate)
	l.rates()
	l.read(dst, a, travelMM)
	if second != nil {
		l.accelerations()
		*second = l.second(dst, a)
	}
}

// follow does so by the vector loops: one Newton step from a closed position.
func (sh *Tangent) follow(dst *stance.State[complex128], second *stance.Second[complex128], from *stance.State[float64], travelMM complex128) {
	l, e, a := &sh.link, &sh.loops, &sh.motion.attitude
	e.recall(from.Pose)
	e.factor()
	e.correct(travelMM)
	e.factor()
	e.rates()
	if second != nil {
		e.seconds()
	}
	e.place(l, second != nil)
	l.drive = drive[complex128]{complex(from.Drive.Cos, 0), complex(from.Drive.Sin, 0), complex(from.Drive.Way, 0)}
	l.read(dst, a, travelMM)
	if second != nil {
		*second = l.second(dst, a)
	}
}

// Solve finds the state at any travel, as Motion.Solve does.
func (sh *Tangent) Solve(dst *stance.State[complex128], second *stance.Second[complex128], travelMM complex128) bool {
	if !sh.motion.Solve(&sh.real, nil, real(travelMM)) {
		return false
	}
	sh.Differentiate(dst, second, &sh.real, travelMM)
	return true
}

// drift moves the derivatives of all poses by a way in travel. The reaches of the dyads follow.
func drift(l *linkage[complex128], way float64, perMM []plane.Rate[float64]) {
	for b := range l.pose {
		p, r := &l.pose[b], &perMM[b]
		turn := r.Turn * way
		p.At.Along += complex(0, r.At.Along*way)
		p.At.Ahead += complex(0, r.At.Ahead*way)
		p.Cos, p.Sin = p.Cos-complex(0, real(p.Sin)*turn), p.Sin+complex(0, real(p.Cos)*turn)
	}
	l.refreshDyads()
}
