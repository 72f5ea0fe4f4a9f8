package objectives

import (
	"fmt"

	"forkfront/kinematics"
)

// Need is what a measure cannot do without. A need that is not met has a reason, and the measures
// that have it are empty for that reason.
type Need int

const (
	NeedTravel Need = iota // the mechanism moves through the whole travel
	NeedShock              // the shock shortens all the way
	NeedSag                // the static load balances at sag
	NeedDive               // the fork comes to rest under braking
	needs
)

// Subject is one fork under study: its motion, its spring and how it rests. With T = complex128 all
// of it carries one directional derivative.
type Subject[T kinematics.Scalar] struct {
	Conditions *Conditions
	Shock      *Shock
	States     []kinematics.State[T] // by sample; none when the mechanism stops short
	Sag        kinematics.State[T]   // at the exact sag travel
	Missing    [needs]string         // reason why a need is not met; empty: met
	ReachedMM  float64

	sagSecond kinematics.Second[T]
	atRest    kinematics.Second[T]
	spring    spring[T]
	dive      T // travel from sag to rest under braking
	dived     kinematics.State[T]
	fromSag   []*kinematics.State[T]
	path      []kinematics.Vec[T]
	zone      zone[T]
	straight  span[T]
}

// solver finds the state at any travel.
type solver[T kinematics.Scalar] interface {
	Solve(dst *kinematics.State[T], second *kinematics.Second[T], travelMM T) bool
}

func (s *Subject[T]) fail(from Need, format string, args ...any) {
	for n := from; n < needs; n++ {
		if s.Missing[n] == "" {
			s.Missing[n] = fmt.Sprintf(format, args...)
		}
	}
}

// study finds sag, spring and rest under braking of a fork whose states are solved.
func (s *Subject[T]) study(by solver[T]) {
	c := s.Conditions
	s.path = s.path[:0]
	for i := range s.States {
		s.path = append(s.path, kinematics.Vec[T]{Along: s.States[i].Along, Ahead: s.States[i].Ahead})
	}
	s.straight = s.zone.of(s.path)
	if !by.Solve(&s.Sag, &s.sagSecond, kinematics.Lift[T](c.SagMM())) {
		s.fail(NeedTravel, "the sag travel of %.4g mm could not be solved", c.SagMM())
		return
	}
	s.fromSag = append(s.fromSag[:0], &s.Sag)
	for i := range s.States {
		if kinematics.Real(s.States[i].TravelMM) > c.SagMM() {
			s.fromSag = append(s.fromSag, &s.States[i])
		}
	}
	if s.shortens() && s.balance() {
		s.rest(by)
	}
}

// shortens checks that the shock is compressed all the way.
func (s *Subject[T]) shortens() bool {
	for i := range s.States {
		if st := &s.States[i]; !(kinematics.Real(st.ShockRate) > 0) {
			s.fail(NeedShock, "the shock does not shorten at %.4g mm of travel", kinematics.Real(st.TravelMM))
			return false
		}
	}
	if air := s.Shock.Air; air != nil {
		if end := kinematics.Real(s.compression(&s.States[len(s.States)-1])); end >= air.ChamberMM {
			s.fail(NeedShock, "the shock is compressed by %.4g mm, more than its air chamber's %.4g mm", end, air.ChamberMM)
			return false
		}
	}
	return true
}

// compression of the shock at a state, in mm.
func (s *Subject[T]) compression(st *kinematics.State[T]) T { return s.States[0].ShockMM - st.ShockMM }

// balance chooses the spring so that the static load rests at sag, and checks that it rests stably.
func (s *Subject[T]) balance() bool {
	count := kinematics.Lift[T](float64(s.Shock.Count))
	load := kinematics.Lift[T](s.Conditions.StaticLoadN())
	s.spring.shock = s.Shock
	shape, _ := s.spring.shape(s.compression(&s.Sag))
	if !(kinematics.Real(shape) > 0) {
		s.fail(NeedSag, "the shock is not compressed at sag")
		return false
	}
	s.spring.strength = (load*s.Sag.VZ/(count*s.Sag.ShockRate) - s.spring.outside()) / shape
	force, rate := s.spring.force(s.compression(&s.Sag))
	stiffening := count*(rate*s.Sag.ShockRate*s.Sag.ShockRate+force*s.sagSecond.ShockMM) - load*s.sagSecond.VZ
	if !(kinematics.Real(stiffening) > 0) {
		s.fail(NeedSag, "the fork would fall through sag: the spring gains less than the load at %.4g mm", s.Conditions.SagMM())
		return false
	}
	return true
}

// unbalance is what pushes the fork into its travel under braking, as work per mm of travel in N.
func (s *Subject[T]) unbalance(st *kinematics.State[T]) T {
	c := s.Conditions
	force, _ := s.spring.force(s.compression(st))
	push := kinematics.Lift[T](c.StaticLoadN()+c.TransferN()) * st.VZ
	lift := kinematics.Lift[T](c.Chassis.FrontBrakeShare*c.BrakingN()) * st.ContactVX
	return push - lift - kinematics.Lift[T](float64(s.Shock.Count))*force*st.ShockRate
}

// rest finds the first travel from sag, going the way in which the unbalance pushes, where the
// fork comes to rest under braking; the stop if there is none.
func (s *Subject[T]) rest(by solver[T]) {
	sag := &s.Sag
	start := kinematics.Real(s.unbalance(sag))
	before := sag
	end := &s.States[len(s.States)-1]
	next := func(i int) *kinematics.State[T] { return s.fromSag[1+i] }
	count := len(s.fromSag) - 1
	if start < 0 {
		below := len(s.States) - count
		end = &s.States[0]
		next = func(i int) *kinematics.State[T] { return &s.States[below-1-i] }
		count = below
	}
	for i := range count {
		st := next(i)
		if kinematics.Real(s.unbalance(st))*start <= 0 && st != before {
			s.refine(by, before, st)
			return
		}
		before = st
	}
	s.dive = end.TravelMM - sag.TravelMM
	s.dived = *end
}

// refine closes in on the rest between two states by the secant method kept within its bracket
// (Illinois variant), then takes one linear step that carries the derivative.
func (s *Subject[T]) refine(by solver[T], from, to *kinematics.State[T]) {
	a, b := kinematics.Real(from.TravelMM), kinematics.Real(to.TravelMM)
	fa, fb := kinematics.Real(s.unbalance(from)), kinematics.Real(s.unbalance(to))
	at := b
	for range 60 {
		if fa == fb {
			break
		}
		at = b - fb*(b-a)/(fb-fa)
		if !by.Solve(&s.dived, nil, kinematics.Lift[T](at)) {
			s.fail(NeedDive, "the rest under braking near %.4g mm could not be solved", at)
			return
		}
		f := kinematics.Real(s.unbalance(&s.dived))
		if f*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		done := at-b < 1e-10 && b-at < 1e-10
		b, fb = at, f
		if done || f == 0 {
			break
		}
	}
	s.carry(by, at)
}

// carry moves the rest to where the unbalance vanishes with its derivative: a Newton step that is
// zero in value and the implicit derivative in its imaginary part.
func (s *Subject[T]) carry(by solver[T], at float64) {
	travel := kinematics.Lift[T](at)
	if by.Solve(&s.dived, &s.atRest, travel) {
		travel -= s.unbalance(&s.dived) / s.unbalanceRate(&s.dived, &s.atRest)
		by.Solve(&s.dived, nil, travel)
	}
	s.dive = travel - s.Sag.TravelMM
}

// unbalanceRate is the derivative of unbalance with travel, in N/mm.
func (s *Subject[T]) unbalanceRate(st *kinematics.State[T], second *kinematics.Second[T]) T {
	c := s.Conditions
	force, rate := s.spring.force(s.compression(st))
	push := kinematics.Lift[T](c.StaticLoadN()+c.TransferN()) * second.VZ
	lift := kinematics.Lift[T](c.Chassis.FrontBrakeShare*c.BrakingN()) * second.ContactVX
	return push - lift - kinematics.Lift[T](float64(s.Shock.Count))*(rate*st.ShockRate*st.ShockRate+force*second.ShockMM)
}
