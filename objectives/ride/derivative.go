package ride

import (
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/stance"
	"forkfront/objectives/scalar"
)

// Derivative computes directional derivatives of a ride along one direction of the layout, lazily: only for the
// states that a measure reads, since an extreme depends only on the sample at which it occurs. Measures of motion
// use partials, by the adjoint method; the tangent also carries the derivatives of the bodies. Each worker has one.
type Derivative struct {
	Tangent kinematics.Tangent           // set where derivatives of bodies or second derivatives are needed
	Layout  []kinematics.Vec[complex128] // by point, mm, with the derivative; set in the same cases

	ByTangent bool // use the tangent also where the adjoint method would do: slower, and independent of it

	ride      Ride[complex128]
	partials  partials
	byAdjoint bool // partials support this mechanism
	built     bool // with bodies: top-out, sag and full travel by the tangent
	curved    bool // with second derivatives at sag, by the tangent
	motion    *kinematics.Motion
	plain     *Ride[float64]
	states    []stance.State[complex128] // by sample
	done      []bool                     // by sample: has the derivative along the current direction
	moved     []displacement
}

// Forget discards what is known of the current design. Call it before the next one is studied.
func (tr *Derivative) Forget() { tr.partials.forget() }

// Wanted selects the derivatives that measures read.
type Wanted struct {
	Bodies bool // the bodies at top-out, sag and full travel, and the layout
	Second bool // second derivatives with travel at sag
}

// Along returns the ride with its derivative along a direction, in mm per unit by point of the layout. Sag,
// spring and rest are differentiated at once, samples when they are read. The ride and its motion must be those
// studied last; the result is valid until the next call.
func (tr *Derivative) Along(plain *Ride[float64], motion *kinematics.Motion, m *mechanism.Mechanism, layout, direction []kinematics.Vec[float64], w Wanted) *Ride[complex128] {
	tr.plain, tr.motion, tr.built, tr.curved = plain, motion, w.Bodies, w.Second
	tr.partials.set(motion, len(plain.States), len(layout))
	tr.byAdjoint = tr.partials.supported && !tr.ByTangent
	tr.moved = tr.moved[:0]
	for i, by := range direction {
		if by != (kinematics.Vec[float64]{}) {
			tr.moved = append(tr.moved, displacement{i, by})
		}
	}
	if tr.built || tr.curved || !tr.byAdjoint || !tr.partials.adjoint.HasSine() {
		tr.setTangent(m, layout, direction)
	}
	s := &tr.ride
	if len(tr.done) != len(plain.States) {
		tr.done = make([]bool, len(plain.States))
		tr.states = make([]stance.State[complex128], len(plain.States))
		s.States = tr.states
	}
	clear(tr.done)
	s.Setting, s.baseline, s.Shock, s.derivative = plain.Setting, plain.baseline, plain.Shock, tr
	s.Missing, s.ReachedMM = plain.Missing, plain.ReachedMM
	s.pastSag, s.stopSample = plain.pastSag, plain.stopSample
	s.zone.edge, s.zone.far, s.extremes = plain.zone.edge, plain.zone.far, plain.extremes
	tr.rests(s, plain)
	return s
}

// At is the state at a sample, with its derivative if the ride carries derivatives.
func (s *Ride[T]) At(i int) *stance.State[T] {
	if s.derivative != nil {
		s.derivative.differentiate(i)
	}
	return &s.States[i]
}

// differentiate computes the derivative of a sample unless that is done already.
func (tr *Derivative) differentiate(i int) {
	if tr.done[i] {
		return
	}
	tr.done[i] = true
	from, dst := &tr.plain.States[i], &tr.states[i]
	narrowest := i == tr.plain.extremes.sine.low
	if !tr.byAdjoint || tr.built && (i == 0 || i == len(tr.states)-1) || narrowest && !tr.partials.adjoint.HasSine() {
		tr.Tangent.Differentiate(dst, nil, from, complex(from.TravelMM, 0))
		return
	}
	by := tr.quantities(tr.partials.of(i, from))
	tr.plain.Setting.Chassis.Differentiate(dst, from, &by, 0, scalar.Step)
	if narrowest {
		tr.sine(dst, from)
	}
}

// sine sets the derivative of SineMin at the sample where it is smallest.
func (tr *Derivative) sine(dst *stance.State[complex128], from *stance.State[float64]) {
	l := &tr.partials.sine
	if !l.have {
		tr.partials.adjoint.Sine(l.by, from)
		l.have = true
	}
	dst.SineMin = complex(from.SineMin, tr.along(l)*scalar.Step)
}

// setTangent sets the tangent to the layout with its derivative.
func (tr *Derivative) setTangent(m *mechanism.Mechanism, layout, direction []kinematics.Vec[float64]) {
	tr.Layout = tr.Layout[:0]
	for i, p := range layout {
		tr.Layout = append(tr.Layout, kinematics.Vec[complex128]{
			Along: complex(p.Along, direction[i].Along*scalar.Step), Ahead: complex(p.Ahead, direction[i].Ahead*scalar.Step),
		})
	}
	tr.Tangent.Set(tr.motion, m, tr.Layout)
}

// rests differentiates sag, spring and rest under braking.
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
	case s.stopSample >= 0:
		s.restState.Copy(s.At(s.stopSample))
	case tr.byAdjoint:
		tr.restByAdjoint(s, plain)
	default:
		tr.restByTangent(s, plain)
	}
	s.dive = s.restState.TravelMM - s.Sag.TravelMM
}

// sag differentiates the state at sag. Where third derivatives are not needed, the second ones are copied without
// a derivative.
func (tr *Derivative) sag(s *Ride[complex128], plain *Ride[float64]) {
	if tr.curved || !tr.byAdjoint {
		tr.Tangent.Differentiate(&s.Sag, &s.sagSecond, &plain.Sag, complex(plain.Sag.TravelMM, 0))
		return
	}
	s.sagSecond.Lift(&plain.sagSecond)
	if tr.built {
		tr.Tangent.Differentiate(&s.Sag, nil, &plain.Sag, complex(plain.Sag.TravelMM, 0))
		return
	}
	by := tr.quantities(tr.partials.of(len(plain.States), &plain.Sag))
	plain.Setting.Chassis.Differentiate(&s.Sag, &plain.Sag, &by, 0, scalar.Step)
}

// restByTangent differentiates the rest, where the unbalance vanishes, by one Newton step whose value is zero.
func (tr *Derivative) restByTangent(s *Ride[complex128], plain *Ride[float64]) {
	travel := complex(plain.restState.TravelMM, 0)
	tr.Tangent.Differentiate(&s.restState, &s.restSecond, &plain.restState, travel)
	travel -= s.unbalance(&s.restState) / s.unbalanceRate(&s.restState, &s.restSecond)
	tr.Tangent.Differentiate(&s.restState, nil, &plain.restState, travel)
}

// restByAdjoint does the same by the adjoint method.
func (tr *Derivative) restByAdjoint(s *Ride[complex128], plain *Ride[float64]) {
	chassis := &plain.Setting.Chassis
	r := &tr.partials.rest
	if !r.have {
		if !tr.motion.Solve(&r.state, &plain.restSecond, plain.restState.TravelMM) {
			panic("objectives: a rest that was solved cannot be solved again")
		}
		r.rate, r.quantities = plain.unbalanceRate(&plain.restState, &plain.restSecond), chassis.QuantityRates(&plain.restState, &plain.restSecond)
		r.have = true
	}
	by := tr.quantities(tr.partials.of(len(plain.States)+1, &plain.restState))
	chassis.Differentiate(&s.restState, &plain.restState, &by, 0, scalar.Step)
	travel := -imag(s.unbalance(&s.restState)) / scalar.Step / r.rate
	by.AddScaled(&r.quantities, travel)
	chassis.Differentiate(&s.restState, &plain.restState, &by, travel, scalar.Step)
}
