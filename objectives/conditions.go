package objectives

import (
	"math"

	"forkfront/kinematics"
)

// Gravity in m/s² (standard acceleration, ISO 80000-3).
const Gravity = 9.80665

// Band is a wanted range, both ends included.
type Band struct{ Low, High float64 }

// off is how far x lies outside, negative below.
func (b Band) off(x float64) float64 {
	switch {
	case x < b.Low:
		return x - b.Low
	case x > b.High:
		return x - b.High
	}
	return 0
}

// percent turns what lies outside into % of the band's middle.
func (b Band) percent() float64 { return 200 / (b.Low + b.High) }

// Conditions are what all candidates of one case share: the bike, its travel, what is wanted, and
// the telescopic fork beside which they are judged. Prepare fills in what follows from the rest.
type Conditions struct {
	Chassis   kinematics.Chassis
	TravelMM  float64
	SagPct    float64 // sag in % of travel
	BrakingG  float64 // deceleration of a hard stop, in g
	Leverage  Band    // wanted leverage ratio
	AntiDive  Band    // wanted anti-dive, %
	CoilRates []float64
	Samples   int // travels from top-out to full travel; 33 in what people read

	Structure *Structure // nil: forks get no sizes

	Baseline Baseline
}

// Baseline is the telescopic fork: its states by sample, and its spring.
type Baseline struct {
	States        []kinematics.State[float64]
	SpringNPerMM  float64 // along the axis
	BrakeDiveMM   float64
	TrailLossMM   float64
	AntiDiveAtSag float64
	Subject       *Subject[float64]
	Values        []float64 // of the measures
	Missing       []string  // why a measure has no value; empty: it has
	trails        []float64 // of the states
}

// SagMM is the travel at which the static load balances.
func (c *Conditions) SagMM() float64 { return c.TravelMM * c.SagPct / 100 }

// StaticLoadN is the sprung load on the front wheel at rest, in N.
func (c *Conditions) StaticLoadN() float64 {
	ch := &c.Chassis
	return ch.MassKG*Gravity*(ch.WheelbaseMM-ch.CGToFrontAxleMM)/ch.WheelbaseMM - ch.UnsprungFrontKG*Gravity
}

// BrakingN is the braking force of a hard stop, both wheels together, in N.
func (c *Conditions) BrakingN() float64 { return c.Chassis.MassKG * Gravity * c.BrakingG }

// TransferN is the load that braking moves to the front wheel, in N.
func (c *Conditions) TransferN() float64 {
	return c.BrakingN() * c.Chassis.CGHeightMM / c.Chassis.WheelbaseMM
}

// PitchOverG is the deceleration that lifts the rear wheel, in g.
func PitchOverG(c *kinematics.Chassis) float64 { return c.CGToFrontAxleMM / c.CGHeightMM }

// antiDive is by virtual work on the caliper's body: 100 % cancels the load transfer.
func antiDive[T kinematics.Scalar](c *kinematics.Chassis, s *kinematics.State[T]) T {
	return kinematics.Lift[T](antiDiveScale(c)) * s.ContactVX / s.VZ
}

func antiDiveScale(c *kinematics.Chassis) float64 {
	return 100 * c.FrontBrakeShare * c.WheelbaseMM / c.CGHeightMM
}

// Shock is the spring and damper unit of a candidate, or several side by side.
type Shock struct {
	Count      int
	EyeToEyeMM float64
	StrokeMM   float64
	PreloadMM  float64
	MassG      float64    // of one; 0: by its size
	Air        *AirSpring // nil: a coil
}

// AirSpring is a closed chamber that the shock's rod compresses.
type AirSpring struct {
	BoreMM, ChamberMM float64
	Exponent          float64 // of compression: 1 isothermal, 1.4 adiabatic; 1.3 where not given
	MaxBar            float64 // what it holds above the atmosphere, at top-out; 0: not known
}

// AtmosphereMPa is the pressure outside (standard atmosphere, ISO 2533).
const AtmosphereMPa = 0.101325

// spring is the force of one shock as a strength times a shape of its compression, plus a constant:
// the strength is the rate of a coil, in N/mm, or the absolute pressure of an air spring, in MPa.
type spring[T kinematics.Scalar] struct {
	shock    *Shock
	strength T
	preload  T // mm
	start    T // length of the shock at top-out, mm; 0 where compressions are given
	outside  T // force of the atmosphere against an air spring, in N
}

func newSpring[T kinematics.Scalar](of *Shock) spring[T] {
	s := spring[T]{shock: of, preload: kinematics.Lift[T](of.PreloadMM)}
	if of.Air != nil {
		s.outside = kinematics.Lift[T](-s.area() * AtmosphereMPa)
	}
	return s
}

func (s *spring[T]) area() float64 { return math.Pi / 4 * s.shock.Air.BoreMM * s.shock.Air.BoreMM }

// shape returns force per strength and its derivative, at a compression in mm.
func (s *spring[T]) shape(compression T) (force, rate T) {
	if s.shock.Air == nil {
		return compression + s.preload, 1
	}
	return s.chamber(compression)
}

// chamber is the shape of an air spring.
func (s *spring[T]) chamber(compression T) (force, rate T) {
	air := s.shock.Air
	length := kinematics.Lift[T](air.ChamberMM)
	ratio := power(length/(length-compression), air.Exponent)
	force = kinematics.Lift[T](s.area()) * ratio
	return force, force * kinematics.Lift[T](air.Exponent) / (length - compression)
}

// force of one shock and its rate.
func (s *spring[T]) force(compression T) (force, rate T) {
	if s.shock.Air == nil {
		return s.strength * (compression + s.preload), s.strength
	}
	f, r := s.chamber(compression)
	return s.strength*f + s.outside, s.strength * r
}

// power is x to a constant exponent, for x > 0.
func power[T kinematics.Scalar](x T, n float64) T {
	value := math.Pow(kinematics.Real(x), n)
	lifted := kinematics.Lift[T](value)
	slope := kinematics.Lift[T](n * value / kinematics.Real(x))
	return lifted + slope*(x-kinematics.Lift[T](kinematics.Real(x)))
}
