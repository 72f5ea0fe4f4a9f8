package ride

import (
	"forkfront/kinematics"
	"forkfront/objectives/scalar"
)

// Derivative gives the states of a ride their derivative along one direction of the layout, only those that
// a measure looks at: an extreme needs the one sample at which it is reached. Where measures look at motion
// alone, that comes from partials; a shadow has the bodies' derivatives as well. It is one worker's memory.
type Derivative struct {
	Shadow kinematics.Tangent           // of the mechanism with its layout's derivative; where bodies or second derivatives are wanted
	Layout []kinematics.Vec[complex128] // by point, with the derivative; likewise

	ByShadow bool // also where virtual work would do: slower, and independent of it

	tangent  Ride[complex128]
	partials partials
	apt      bool // partials serve this mechanism
	built    bool // with sizes: top-out, sag and full travel by the shadow
	curved   bool // with second derivatives at sag, by the shadow
	motion   *kinematics.Motion
	plain    *Ride[float64]
	states   []kinematics.State[complex128] // by sample
	fresh    []bool                         // by sample: carries the derivative along the direction at hand
	moved    []moved
}

// Forget makes way for another design.
func (tr *Derivative) Forget() { tr.partials.forget() }

// Wanted is what of a derivative measures look at.
type Wanted struct {
	Bodies bool // the bodies at top-out, sag and full travel, and the layout
	Second bool // second derivatives with travel at sag
}

// Along points the derivative along a direction, in mm per unit by point of the layout: sag, spring and
// rest follow, the samples when they are asked for. The ride and its motion must be those studied last; what
// is returned holds until the next call.
func (tr *Derivative) Along(plain *Ride[float64], motion *kinematics.Motion, m *kinematics.Mechanism, layout, direction []kinematics.Vec[float64], w Wanted) *Ride[complex128] {
	tr.plain, tr.motion, tr.built, tr.curved = plain, motion, w.Bodies, w.Second
	tr.partials.learn(motion, len(plain.States), len(layout))
	tr.apt = tr.partials.apt && !tr.ByShadow
	tr.moved = tr.moved[:0]
	for i, by := range direction {
		if by != (kinematics.Vec[float64]{}) {
			tr.moved = append(tr.moved, moved{i, by})
		}
	}
	if tr.built || tr.curved || !tr.apt {
		tr.shade(m, layout, direction)
	}
	s := &tr.tangent
	if len(tr.fresh) != len(plain.States) {
		tr.fresh = make([]bool, len(plain.States))
		tr.states = make([]kinematics.State[complex128], len(plain.States))
		s.States = tr.states
	}
	clear(tr.fresh)
	s.Setting, s.baseline, s.Shock, s.derivative = plain.Setting, plain.baseline, plain.Shock, tr
	s.Missing, s.ReachedMM = plain.Missing, plain.ReachedMM
	s.pastSag, s.stopped = plain.pastSag, plain.stopped
	s.zone.edge, s.zone.far, s.peaks = plain.zone.edge, plain.zone.far, plain.peaks
	tr.rests(s, plain)
	return s
}

// At is the state at a sample, with its derivative where there are any.
func (s *Ride[T]) At(i int) *kinematics.State[T] {
	if s.derivative != nil {
		s.derivative.follow(i)
	}
	return &s.States[i]
}

// follow gives a sample its derivative unless it has it.
func (tr *Derivative) follow(i int) {
	if tr.fresh[i] {
		return
	}
	tr.fresh[i] = true
	from, dst := &tr.plain.States[i], &tr.states[i]
	if !tr.apt || tr.built && (i == 0 || i == len(tr.states)-1) {
		tr.Shadow.Differentiate(dst, nil, from, complex(from.TravelMM, 0))
		return
	}
	by := tr.numbers(tr.partials.of(i, from))
	tr.plain.Setting.Chassis.Differentiate(dst, from, &by, 0, scalar.Step)
	if i == tr.plain.peaks.sine.low {
		tr.sine(dst, from)
	}
}

// sine adds what SineMin does, where it is smallest.
func (tr *Derivative) sine(dst *kinematics.State[complex128], from *kinematics.State[float64]) {
	l := &tr.partials.sine
	if !l.have {
		tr.partials.pull.Sine(l.by, from)
		l.have = true
	}
	dst.SineMin = complex(from.SineMin, tr.along(l)*scalar.Step)
}

// shade takes the layout with its derivative to the shadow.
func (tr *Derivative) shade(m *kinematics.Mechanism, layout, direction []kinematics.Vec[float64]) {
	tr.Layout = tr.Layout[:0]
	for i, p := range layout {
		tr.Layout = append(tr.Layout, kinematics.Vec[complex128]{
			Along: complex(p.Along, direction[i].Along*scalar.Step), Ahead: complex(p.Ahead, direction[i].Ahead*scalar.Step),
		})
	}
	tr.Shadow.Set(tr.motion, m, tr.Layout)
}

// rests carries sag, spring and rest under braking over to the tangent subject.
func (tr *Derivative) rests(s *Ride[complex128], plain *Ride[float64]) {
	if s.Missing[NeedTravel] == "" {
		tr.sag(s, plain)
	}
	if s.Missing[NeedSag] == "" {
		s.balance()
	}
	switch {
	case s.Missing[NeedDive] != "":
		return
	case s.stopped >= 0:
		s.dived.Copy(s.At(s.stopped))
	case tr.apt:
		tr.rest(s, plain)
	default:
		tr.restShadowed(s, plain)
	}
	s.dive = s.dived.TravelMM - s.Sag.TravelMM
}

// sag carries the state at sag over. Without third derivatives the second ones stay as they are.
func (tr *Derivative) sag(s *Ride[complex128], plain *Ride[float64]) {
	if tr.curved || !tr.apt {
		tr.Shadow.Differentiate(&s.Sag, &s.sagSecond, &plain.Sag, complex(plain.Sag.TravelMM, 0))
		return
	}
	s.sagSecond.Lift(&plain.sagSecond)
	if tr.built {
		tr.Shadow.Differentiate(&s.Sag, nil, &plain.Sag, complex(plain.Sag.TravelMM, 0))
		return
	}
	by := tr.numbers(tr.partials.of(len(plain.States), &plain.Sag))
	plain.Setting.Chassis.Differentiate(&s.Sag, &plain.Sag, &by, 0, scalar.Step)
}

// restShadowed moves the rest to where the unbalance vanishes with its derivative, by a Newton step that is
// zero in value.
func (tr *Derivative) restShadowed(s *Ride[complex128], plain *Ride[float64]) {
	travel := complex(plain.dived.TravelMM, 0)
	tr.Shadow.Differentiate(&s.dived, &s.atRest, &plain.dived, travel)
	travel -= s.unbalance(&s.dived) / s.unbalanceRate(&s.dived, &s.atRest)
	tr.Shadow.Differentiate(&s.dived, nil, &plain.dived, travel)
}

// rest does the same by partials.
func (tr *Derivative) rest(s *Ride[complex128], plain *Ride[float64]) {
	chassis := &plain.Setting.Chassis
	r := &tr.partials.rest
	if !r.have {
		if !tr.motion.Solve(&r.state, &plain.atRest, plain.dived.TravelMM) {
			panic("objectives: a rest that was solved cannot be solved again")
		}
		r.rate, r.onward = plain.unbalanceRate(&plain.dived, &plain.atRest), chassis.QuantityRates(&plain.dived, &plain.atRest)
		r.have = true
	}
	by := tr.numbers(tr.partials.of(len(plain.States)+1, &plain.dived))
	chassis.Differentiate(&s.dived, &plain.dived, &by, 0, scalar.Step)
	travel := -imag(s.unbalance(&s.dived)) / scalar.Step / r.rate
	by.AddScaled(&r.onward, travel)
	chassis.Differentiate(&s.dived, &plain.dived, &by, travel, scalar.Step)
}
