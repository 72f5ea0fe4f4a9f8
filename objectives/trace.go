package objectives

import (
	"slices"

	"forkfront/kinematics"
)

// trace gives states of a fork their derivative along one direction, only those that a measure
// looks at: an extreme needs the one sample at which it is reached. Where measures look at motion
// alone, that comes from partials; a shadow has the bodies' derivatives as well.
type trace struct {
	shadow   kinematics.Tangent
	partials partials
	built    bool // with sizes: top-out, sag and full travel by the shadow
	curved   bool // with second derivatives at sag, by the shadow
	plain    *Subject[float64]
	states   []kinematics.State[complex128] // by sample
	fresh    []bool                         // by sample: carries the derivative along the direction at hand
	moved    []moved
	layout   []kinematics.Vec[complex128]
	places   []kinematics.Vec[complex128]
}

// at is the state at a sample, with its derivative where there are any.
func (s *Subject[T]) at(i int) *kinematics.State[T] {
	if s.trace != nil {
		s.trace.follow(i)
	}
	return &s.States[i]
}

// follow gives a sample its derivative unless it has it.
func (tr *trace) follow(i int) {
	if tr.fresh[i] {
		return
	}
	tr.fresh[i] = true
	from, dst := &tr.plain.States[i], &tr.states[i]
	if !tr.partials.apt || tr.built && (i == 0 || i == len(tr.states)-1) {
		tr.shadow.Differentiate(dst, nil, from, complex(from.TravelMM, 0))
		return
	}
	by := tr.numbers(tr.partials.of(i, from))
	tr.plain.Conditions.Chassis.Differentiate(dst, from, &by, 0, step)
	if i == tr.plain.peaks.sine.low {
		tr.sine(dst, from)
	}
}

// sine adds what SineMin does, where it is smallest.
func (tr *trace) sine(dst *kinematics.State[complex128], from *kinematics.State[float64]) {
	l := &tr.partials.sine
	if !l.have {
		tr.partials.pull.Sine(l.by, from)
		l.have = true
	}
	dst.SineMin = complex(from.SineMin, tr.along(l)*step)
}

// step is that of the complex derivative: its square vanishes against any value here.
const step = 1e-40

// Slope gives the derivative of the named measures (indices into Measures; nil: all of them) along
// one direction of the layout, for the design scored last, which must have moved through. dst has
// an entry a measure; those that are missing, or not named, are 0. The direction is in mm per unit.
func (sc *Scorer) Slope(dst []float64, d *Design, direction []kinematics.Vec[float64], which []int) {
	tr := &sc.trace
	tr.built = which == nil || slices.ContainsFunc(which, func(i int) bool { return Measures[i].Needs >= NeedStructure })
	tr.curved = which == nil || slices.ContainsFunc(which, func(i int) bool { return Measures[i].second })
	tr.partials.learn(&sc.motion, len(sc.plain.States), len(d.Layout))
	sc.turn(d, direction)
	s := &sc.tangent
	clear(dst)
	if tr.built {
		sc.structureSlopes()
	}
	one := func(i int) {
		if m := &Measures[i]; s.Missing[m.Needs] == "" && m.spring.lacks(s.Shock) == "" && !m.Slow() {
			dst[i] = imag(m.slope(s)) / step
		}
	}
	for _, i := range which {
		one(i)
	}
	if which == nil {
		for i := range Measures {
			one(i)
		}
	}
}

// turn points the tangent subject along a direction: sag, spring and rest follow, the samples when
// they are asked for.
func (sc *Scorer) turn(d *Design, direction []kinematics.Vec[float64]) {
	tr, plain, s := &sc.trace, &sc.plain, &sc.tangent
	tr.plain = plain
	tr.moved = tr.moved[:0]
	for i, by := range direction {
		if by != (kinematics.Vec[float64]{}) {
			tr.moved = append(tr.moved, moved{i, by})
		}
	}
	if tr.built || tr.curved || !tr.partials.apt {
		sc.shade(d, direction)
	}
	if len(tr.fresh) != len(plain.States) {
		tr.fresh = make([]bool, len(plain.States))
		tr.states = make([]kinematics.State[complex128], len(plain.States))
		s.States = tr.states
	}
	clear(tr.fresh)
	s.Conditions, s.Shock, s.trace = plain.Conditions, plain.Shock, tr
	s.Missing, s.ReachedMM = plain.Missing, plain.ReachedMM
	s.room, s.design = plain.room, plain.design
	s.pastSag, s.stopped = plain.pastSag, plain.stopped
	s.zone.edge, s.zone.far, s.peaks = plain.zone.edge, plain.zone.far, plain.peaks
	sc.rests(s, plain)
}

// shade takes the layout with its derivative to the shadow.
func (sc *Scorer) shade(d *Design, direction []kinematics.Vec[float64]) {
	tr := &sc.trace
	tr.layout = tr.layout[:0]
	for i, p := range d.Layout {
		tr.layout = append(tr.layout, kinematics.Vec[complex128]{
			Along: complex(p.Along, direction[i].Along*step), Ahead: complex(p.Ahead, direction[i].Ahead*step),
		})
	}
	tr.shadow.Set(&sc.motion, d.Mechanism, tr.layout)
}

// rests carries sag, spring and rest under braking over to the tangent subject.
func (sc *Scorer) rests(s *Subject[complex128], plain *Subject[float64]) {
	tr := &sc.trace
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
		s.dived.Copy(s.at(s.stopped))
	case tr.partials.apt:
		sc.rest(s, plain)
	default:
		tr.restShadowed(s, plain)
	}
	s.dive = s.dived.TravelMM - s.Sag.TravelMM
}

// sag carries the state at sag over. Without third derivatives the second ones stay as they are.
func (tr *trace) sag(s *Subject[complex128], plain *Subject[float64]) {
	if tr.curved || !tr.partials.apt {
		tr.shadow.Differentiate(&s.Sag, &s.sagSecond, &plain.Sag, complex(plain.Sag.TravelMM, 0))
		return
	}
	s.sagSecond.Lift(&plain.sagSecond)
	if tr.built {
		tr.shadow.Differentiate(&s.Sag, nil, &plain.Sag, complex(plain.Sag.TravelMM, 0))
		return
	}
	by := tr.numbers(tr.partials.of(len(plain.States), &plain.Sag))
	plain.Conditions.Chassis.Differentiate(&s.Sag, &plain.Sag, &by, 0, step)
}

// restShadowed moves the rest to where the unbalance vanishes with its derivative, by a Newton step that is
// zero in value.
func (tr *trace) restShadowed(s *Subject[complex128], plain *Subject[float64]) {
	travel := complex(plain.dived.TravelMM, 0)
	tr.shadow.Differentiate(&s.dived, &s.atRest, &plain.dived, travel)
	travel -= s.unbalance(&s.dived) / s.unbalanceRate(&s.dived, &s.atRest)
	tr.shadow.Differentiate(&s.dived, nil, &plain.dived, travel)
}

// rest does the same by partials.
func (sc *Scorer) rest(s *Subject[complex128], plain *Subject[float64]) {
	tr, chassis := &sc.trace, &plain.Conditions.Chassis
	r := &tr.partials.rest
	if !r.have {
		if !sc.motion.Solve(&r.state, &plain.atRest, plain.dived.TravelMM) {
			panic("objectives: a rest that was solved cannot be solved again")
		}
		r.rate, r.onward = plain.unbalanceRate(&plain.dived, &plain.atRest), chassis.QuantityRates(&plain.dived, &plain.atRest)
		r.have = true
	}
	by := tr.numbers(tr.partials.of(len(plain.States)+1, &plain.dived))
	chassis.Differentiate(&s.dived, &plain.dived, &by, 0, step)
	travel := -imag(s.unbalance(&s.dived)) / step / r.rate
	by.AddScaled(&r.onward, travel)
	chassis.Differentiate(&s.dived, &plain.dived, &by, travel, step)
}
