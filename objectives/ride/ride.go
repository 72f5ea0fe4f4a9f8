package ride

import (
	"fmt"

	"forkfront/kinematics"
	"forkfront/objectives/fork"
)

// Need is what a measure cannot do without. A need that is not met has a reason, and the measures
// that have it are empty for that reason.
type Need int

const (
	NeedTravel Need = iota // the mechanism moves through the whole travel
	NeedAtSag              // the fork stands at the sag travel: if it drives a shock, the static load balances there
	NeedDrive              // the mechanism drives a shock
	NeedShock              // the shock shortens all the way
	NeedSag                // the static load balances at sag
	NeedDive               // the fork comes to rest under braking
	Needs                  // of the motion; others may follow
)

// Ride is the motion of one fork: its states, its spring and how it rests. With T = complex128 all of it
// carries one directional derivative.
type Ride[T kinematics.Scalar] struct {
	Setting   *Setting
	Shock     *fork.Shock
	States    []kinematics.State[T] // by sample; none when the mechanism stops short
	Sag       kinematics.State[T]   // at the exact sag travel
	Missing   [Needs]string         // reason why a need is not met; empty: met
	ReachedMM float64

	baseline   *Baseline
	sagSecond  kinematics.Second[T]
	atRest     kinematics.Second[T]
	spring     spring[T]
	dive       T // travel from sag to rest under braking
	dived      kinematics.State[T]
	stopped    int // sample at which the fork hits its stop under braking; -1 when it rests before
	pastSag    int // first sample beyond sag
	count      T   // of shocks
	push       T   // load on the front wheel in a hard stop, N
	lift       T   // its braking force, N
	zone       zone
	peaks      peaks
	derivative *Derivative // where derivatives come from; nil for plain numbers
}

// solver finds the state at any travel.
type solver interface {
	Solve(dst *kinematics.State[float64], second *kinematics.Second[float64], travelMM float64) bool
}

func (s *Ride[T]) fail(from Need, format string, args ...any) {
	for n := from; n < Needs; n++ {
		if s.Missing[n] == "" {
			s.Missing[n] = fmt.Sprintf(format, args...)
		}
	}
}

// Study finds sag, spring and rest under braking of the fork that a motion was swept for.
func Study(s *Ride[float64], c *Setting, b *Baseline, shock *fork.Shock, motion *kinematics.Motion, m *kinematics.Mechanism) {
	s.Setting, s.baseline, s.Shock, s.States = c, b, shock, motion.States
	s.ReachedMM = motion.ReachedMM
	s.Missing = [Needs]string{}
	if motion.Fault != "" {
		s.fail(NeedTravel, "%s (reached %.4g of %.4g mm)", motion.Fault, s.ReachedMM, c.TravelMM)
		return
	}
	if !m.HasShock() {
		s.fail(NeedDrive, Undriven)
	}
	study(s, motion)
}

// Undriven is why a mechanism has no leverage, spring or sizes.
const Undriven = "the mechanism drives no shock"

// study finds sag, spring and rest under braking of a fork whose states are solved.
func study(s *Ride[float64], by solver) {
	c := s.Setting
	if !by.Solve(&s.Sag, &s.sagSecond, c.SagMM()) {
		s.fail(NeedTravel, "the sag travel of %.4g mm could not be solved", c.SagMM())
		return
	}
	s.pastSag = 0
	for s.pastSag < len(s.States) && s.States[s.pastSag].TravelMM <= c.SagMM() {
		s.pastSag++
	}
	straightest(s)
	survey(s)
	if s.Missing[NeedDrive] != "" {
		return
	}
	if shortens(s) && s.holds() && s.balance() {
		rest(s, by)
	}
	s.Missing[NeedAtSag] = s.Missing[NeedSag]
}

// shortens checks that the shock is compressed all the way.
func shortens(s *Ride[float64]) bool {
	for i := range s.States {
		if st := &s.States[i]; !(st.ShockRate > 0) {
			s.fail(NeedShock, "the shock does not shorten at %.4g mm of travel", st.TravelMM)
			return false
		}
	}
	return true
}

// holds checks that an air chamber is longer than the stroke used. Leverage needs no spring.
func (s *Ride[T]) holds() bool {
	air := s.Shock.Air
	if air == nil {
		return true
	}
	if end := kinematics.Real(s.Compression(&s.States[len(s.States)-1])); end >= air.ChamberMM {
		s.fail(NeedSag, "the shock is compressed by %.4g mm, more than its air chamber's %.4g mm", end, air.ChamberMM)
		return false
	}
	return true
}

// Compression of the shock at a state, in mm.
func (s *Ride[T]) Compression(st *kinematics.State[T]) T { return s.At(0).ShockMM - st.ShockMM }

// balance chooses the spring so that the static load rests at sag, and checks that it rests stably.
func (s *Ride[T]) balance() bool {
	c, count := s.Setting, kinematics.Lift[T](float64(s.Shock.Count))
	static := c.StaticLoadN()
	load := kinematics.Lift[T](static)
	s.count, s.push = count, kinematics.Lift[T](static+c.TransferN())
	s.lift = kinematics.Lift[T](c.Chassis.FrontBrakeShare * c.BrakingN())
	s.spring = newSpring[T](s.Shock)
	s.spring.start = s.At(0).ShockMM
	shape, _ := s.spring.shape(s.Compression(&s.Sag))
	if !(kinematics.Real(shape) > 0) {
		s.fail(NeedSag, "the shock is not compressed at sag")
		return false
	}
	s.spring.strength = (load*s.Sag.VZ/(count*s.Sag.ShockRate) - s.spring.outside) / shape
	if s.Shock.Air != nil && !(kinematics.Real(s.spring.strength) > fork.AtmosphereMPa) {
		s.fail(NeedSag, "the air spring would have to be at %.4g bar, and is too large for its load: more than 0 is needed", kinematics.Real(AirPressure(s)))
		return false
	}
	force, rate := s.spring.force(s.Compression(&s.Sag))
	stiffening := count*(rate*s.Sag.ShockRate*s.Sag.ShockRate+force*s.sagSecond.ShockMM) - load*s.sagSecond.VZ
	if !(kinematics.Real(stiffening) > 0) {
		s.fail(NeedSag, "the fork would fall through sag: the spring gains less than the load at %.4g mm", s.Setting.SagMM())
		return false
	}
	return true
}

// unbalance is what pushes the fork into its travel under braking, as work per mm of travel in N.
func (s *Ride[T]) unbalance(st *kinematics.State[T]) T {
	force, _ := s.spring.force(s.spring.start - st.ShockMM)
	return s.push*st.VZ - s.lift*st.ContactVX - s.count*force*st.ShockRate
}

// unbalanceRate is the derivative of unbalance with travel, in N/mm.
func (s *Ride[T]) unbalanceRate(st *kinematics.State[T], second *kinematics.Second[T]) T {
	force, rate := s.spring.force(s.Compression(st))
	return s.push*second.VZ - s.lift*second.ContactVX - s.count*(rate*st.ShockRate*st.ShockRate+force*second.ShockMM)
}
