package objectives

import (
	"slices"

	"forkfront/kinematics"
)

// trace gives states of a fork their derivative along one direction, only those that a measure
// looks at: an extreme needs the one sample at which it is reached.
type trace struct {
	shadow kinematics.Shadow
	plain  *Subject[float64]
	states []kinematics.State[complex128] // by sample
	fresh  []bool                         // by sample: carries the derivative along the direction at hand
	layout []kinematics.Vec[complex128]
	places []kinematics.Vec[complex128]
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
	from := &tr.plain.States[i]
	tr.shadow.Follow(&tr.states[i], nil, from, complex(from.TravelMM, 0))
	tr.fresh[i] = true
}

// step is that of the complex derivative: its square vanishes against any value here.
const step = 1e-40

// Slope gives the derivative of the named measures (indices into Measures; nil: all of them) along
// one direction of the layout, for the design scored last, which must have moved through. dst has
// an entry a measure; those that are missing, or not named, are 0. The direction is in mm per unit.
func (sc *Scorer) Slope(dst []float64, d *Design, direction []kinematics.Vec[float64], which []int) {
	sc.turn(d, direction)
	s := &sc.tangent
	clear(dst)
	if which == nil || slices.ContainsFunc(which, func(i int) bool { return Measures[i].Needs >= NeedStructure }) {
		sc.structureSlopes()
	}
	one := func(i int) {
		if s.Missing[Measures[i].Needs] == "" && !Measures[i].Slow() {
			dst[i] = imag(Measures[i].slope(s)) / step
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
	tr.layout = tr.layout[:0]
	for i, p := range d.Layout {
		tr.layout = append(tr.layout, kinematics.Vec[complex128]{
			Along: complex(p.Along, direction[i].Along*step), Ahead: complex(p.Ahead, direction[i].Ahead*step),
		})
	}
	tr.shadow.Set(&sc.motion, d.Mechanism, tr.layout)
	if len(tr.fresh) != len(plain.States) {
		tr.fresh = make([]bool, len(plain.States))
		tr.states = make([]kinematics.State[complex128], len(plain.States))
		s.States = tr.states
	}
	clear(tr.fresh)
	for i := range s.States {
		s.States[i].Lift(&plain.States[i])
	}
	s.Conditions, s.Shock, s.trace = plain.Conditions, plain.Shock, tr
	s.Missing, s.ReachedMM = plain.Missing, plain.ReachedMM
	s.room, s.design = plain.room, plain.design
	s.pastSag, s.stopped, s.pushN, s.liftN = plain.pastSag, plain.stopped, plain.pushN, plain.liftN
	s.zone.edge, s.zone.far, s.peaks = plain.zone.edge, plain.zone.far, plain.peaks
	sc.rests(s, plain)
}

// rests carries sag, spring and rest under braking over to the tangent subject. The rest moves to
// where the unbalance vanishes with its derivative, by a Newton step that is zero in value.
func (sc *Scorer) rests(s *Subject[complex128], plain *Subject[float64]) {
	shadow := &sc.trace.shadow
	if s.Missing[NeedTravel] == "" {
		shadow.Follow(&s.Sag, &s.sagSecond, &plain.Sag, complex(plain.Sag.TravelMM, 0))
	}
	if s.Missing[NeedSag] == "" {
		s.balance()
	}
	if s.Missing[NeedDive] != "" {
		return
	}
	if s.stopped >= 0 {
		s.dived.Copy(s.at(s.stopped))
	} else {
		travel := complex(plain.dived.TravelMM, 0)
		shadow.Follow(&s.dived, &s.atRest, &plain.dived, travel)
		travel -= s.unbalance(&s.dived) / s.unbalanceRate(&s.dived, &s.atRest)
		shadow.Follow(&s.dived, nil, &plain.dived, travel)
	}
	s.dive = s.dived.TravelMM - s.Sag.TravelMM
}
