package ride

import (
	"fmt"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/stance"
	"forkfront/objectives/fork"
)

// Need is a condition that must be met for a measure to have a value. A need that is not met has a reason, which
// the measures that have the need give for their missing value.
type Need int

const (
	NeedTravel Need = iota // the mechanism moves through the whole travel
	NeedAtSag              // the fork stands at the sag travel: if it drives a shock, the static load balances there
	NeedDrive              // the mechanism drives a shock
	NeedShock              // the shock shortens all the way
	NeedSag                // the static load balances at sag
	NeedDive               // the fork comes to rest under braking
	Needs                  // how many needs of the motion there are; other packages number theirs from here
)

// Ride is the motion of one fork: its states, its spring and its rest under braking. With T = complex128
// everything carries one directional derivative.
type Ride[T kinematics.Scalar] struct {
	Setting   *Setting
	Shock     *fork.Shock
	States    []stance.State[T] // by sample; none if the mechanism does not reach full travel
	Sag       stance.State[T]   // at the exact sag travel
	Missing   [Needs]string     // reason why a need is not met; empty: met
	ReachedMM float64

	baseline   *Baseline
	sagSecond  stance.Second[T]
	restSecond stance.Second[T]
	spring     spring[T]
	dive       T // travel from sag to rest under braking, mm
	restState  stance.State[T]
	stopSample int // sample of the end stop that the fork hits under braking; -1 when it rests before
	pastSag    int // first sample beyond sag
	count      T   // of shocks
	brakedLoad T   // sprung load on the front wheel in a hard stop, N
	brakeForce T   // braking force at the front wheel, N
	zone       zone
	extremes   curveExtremes
	derivative source // of derivatives; nil for real numbers
}

// source is a *Derivative. It is not spelled out in a Ride because whoever imports a type compiles all instantiated generic code
// that the type leads to: here, all of kinematics.
type source interface{ differentiate(sample int) }

// solver finds the state at any travel.
type solver interface {
	Solve(dst *stance.State[float64], second *stance.Second[float64], travelMM float64) bool
}

func (s *Ride[T]) fail(from Need, format string, args ...any) {
	for n := from; n < Needs; n++ {
		if s.Missing[n] == "" {
			s.Missing[n] = fmt.Sprintf(format, args...)
		}
	}
}

// Study finds sag, spring and rest under braking of the fork that a motion was swept for.
func Study(s *Ride[float64], c *Setting, b *Baseline, shock *fork.Shock, motion *kinematics.Motion, m *mechanism.Mechanism) {
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
	findExtremes(s)
	if s.Missing[NeedDrive] != "" {
		return
	}
	if shortens(s) && s.fitsChamber() && s.balance() {
		rest(s, by)
	}
	s.Missing[NeedAtSag] = s.Missing[NeedSag]
}

// shortens checks that the shock is compressed monotonically over the travel.
func shortens(s *Ride[float64]) bool {
	for i := range s.States {
		if st := &s.States[i]; !(st.ShockRate > 0) {
			s.fail(NeedShock, "the shock does not shorten at %.4g mm of travel", st.TravelMM)
			return false
		}
	}
	return true
}

// fitsChamber checks that an air chamber is longer than the stroke used. Only the spring depends on it, leverage
// does not.
func (s *Ride[T]) fitsChamber() bool {
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
func (s *Ride[T]) Compression(st *stance.State[T]) T { return s.At(0).ShockMM - st.ShockMM }

// balance chooses the spring so that the static load balances at sag, and checks that the equilibrium is stable.
func (s *Ride[T]) balance() bool {
	c, count := s.Setting, kinematics.Lift[T](float64(s.Shock.Count))
	static := c.StaticLoadN()
	load := kinematics.Lift[T](static)
	s.count, s.brakedLoad = count, kinematics.Lift[T](static+c.TransferN())
	s.brakeForce = kinematics.Lift[T](c.Chassis.FrontBrakeShare * c.BrakingN())
	s.spring = newSpring[T](s.Shock)
	s.spring.start = s.At(0).ShockMM
	shape, _ := s.spring.shape(s.Compression(&s.Sag))
	if !(kinematics.Real(shape) > 0) {
		s.fail(NeedSag, "the shock is not compressed at sag")
		return false
	}
	s.spring.strength = (load*s.Sag.VZ/(count*s.Sag.ShockRate) - s.spring.atmosphere) / shape
	if s.Shock.Air != nil && !(kinematics.Real(s.spring.strength) > fork.AtmosphereMPa) {
		s.fail(NeedSag, "the air spring is too large for its load: it would need a pressure of %.4g bar, which must be above 0", kinematics.Real(AirPressure(s)))
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

// unbalance is the net force that compresses the fork under braking: virtual work per mm of travel, in N.
func (s *Ride[T]) unbalance(st *stance.State[T]) T {
	force, _ := s.spring.force(s.spring.start - st.ShockMM)
	return s.brakedLoad*st.VZ - s.brakeForce*st.ContactVX - s.count*force*st.ShockRate
}

// unbalanceRate is the derivative of unbalance with travel, in N/mm.
func (s *Ride[T]) unbalanceRate(st *stance.State[T], second *stance.Second[T]) T {
	force, rate := s.spring.force(s.Compression(st))
	return s.brakedLoad*second.VZ - s.brakeForce*second.ContactVX - s.count*(rate*st.ShockRate*st.ShockRate+force*second.ShockMM)
}
