package ride

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

// Setting is what all candidates of one case share of their motion: the bike, its travel, and what is
// wanted of both.
type Setting struct {
	Chassis   kinematics.Chassis
	TravelMM  float64
	SagPct    float64   // sag in % of travel
	BrakingG  float64   // deceleration of a hard stop, in g
	Leverage  Band      // wanted leverage ratio
	AntiDive  Band      // wanted anti-dive, %
	CoilRates []float64 // on sale, N/mm
	Samples   int       // travels from top-out to full travel; 33 in what people read
}

// SagMM is the travel at which the static load balances.
func (c *Setting) SagMM() float64 { return c.TravelMM * c.SagPct / 100 }

// StaticLoadN is the sprung load on the front wheel at rest, in N.
func (c *Setting) StaticLoadN() float64 {
	ch := &c.Chassis
	return ch.MassKG*Gravity*(ch.WheelbaseMM-ch.CGToFrontAxleMM)/ch.WheelbaseMM - ch.UnsprungFrontKG*Gravity
}

// BrakingN is the braking force of a hard stop, both wheels together, in N.
func (c *Setting) BrakingN() float64 { return c.Chassis.MassKG * Gravity * c.BrakingG }

// TransferN is the load that braking moves to the front wheel, in N.
func (c *Setting) TransferN() float64 {
	return c.BrakingN() * c.Chassis.CGHeightMM / c.Chassis.WheelbaseMM
}

// FrontLoadN is the load on the front tyre at rest, in N, the unsprung mass included.
func (c *Setting) FrontLoadN() float64 {
	return c.StaticLoadN() + c.Chassis.UnsprungFrontKG*Gravity
}

// HardBraking is the braking force in N at the front tyre, the front brake alone, limited by the
// tyre's grip and by pitch-over, and the load on the tyre then.
func (c *Setting) HardBraking(grip float64) (force, load float64) {
	ch := &c.Chassis
	lever := ch.CGHeightMM / ch.WheelbaseMM
	force = ch.MassKG * Gravity * ch.CGToFrontAxleMM / ch.CGHeightMM
	if free := 1 - grip*lever; free > 0 { // F = grip (N + F h/L)
		force = math.Min(force, grip*c.FrontLoadN()/free)
	}
	return force, c.FrontLoadN() + force*lever
}

// PitchOverG is the deceleration that lifts the rear wheel, in g.
func PitchOverG(c *kinematics.Chassis) float64 { return c.CGToFrontAxleMM / c.CGHeightMM }

// AntiDive is by virtual work on the caliper's body: 100 % cancels the load transfer.
func AntiDive[T kinematics.Scalar](c *kinematics.Chassis, s *kinematics.State[T]) T {
	return kinematics.Lift[T](antiDiveScale(c)) * s.ContactVX / s.VZ
}

func antiDiveScale(c *kinematics.Chassis) float64 {
	return 100 * c.FrontBrakeShare * c.WheelbaseMM / c.CGHeightMM
}
