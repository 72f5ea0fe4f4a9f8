package ride

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/stance"
)

// Gravity in m/s² (standard acceleration, ISO 80000-3).
const Gravity = 9.80665

// Band is a wanted range, both ends included.
type Band struct{ Low, High float64 }

// deviation is how far x lies outside the band, negative below it; 0 within.
func (b Band) deviation(x float64) float64 {
	switch {
	case x < b.Low:
		return x - b.Low
	case x > b.High:
		return x - b.High
	}
	return 0
}

// percent converts a deviation to % of the band's middle.
func (b Band) percent() float64 { return 200 / (b.Low + b.High) }

// Setting is what all candidates of one case have in common: the bike, the travel, and the bands wanted.
type Setting struct {
	Chassis   stance.Chassis
	TravelMM  float64
	SagPct    float64   // sag in % of travel
	BrakingG  float64   // deceleration of a hard stop, in g
	Leverage  Band      // wanted leverage ratio
	AntiDive  Band      // wanted anti-dive, %
	CoilRates []float64 // on sale, N/mm
	Samples   int       // number of equally spaced travels from top-out to full travel; 33 in reports
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

// HardBraking returns the largest braking force at the front tyre with only the front brake applied, limited by the
// tyre's grip (coefficient of friction) and by pitch-over, and the vertical load on the tyre then, both in N.
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
func PitchOverG(c *stance.Chassis) float64 { return c.CGToFrontAxleMM / c.CGHeightMM }

// AntiDive is the anti-dive at a state in %, by virtual work of the braking force on the caliper's body: at 100 it
// cancels the load transfer.
func AntiDive[T kinematics.Scalar](c *stance.Chassis, s *stance.State[T]) T {
	return kinematics.Lift[T](antiDiveScale(c)) * s.ContactVX / s.VZ
}

func antiDiveScale(c *stance.Chassis) float64 {
	return 100 * c.FrontBrakeShare * c.WheelbaseMM / c.CGHeightMM
}
