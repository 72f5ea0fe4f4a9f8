package structure

import (
	"math"

	"forkfront/kinematics/stance"
	"forkfront/objectives/ride"
)

// OfTelescopic are the measures that are known of the telescopic fork itself.
type OfTelescopic struct{ MassG, CostIndex, FrictionStaticN, FrictionBrakingN, SlideBindingPct float64 }

// Telescopic is what is known of the telescopic fork that a linkage would replace: its mass as given, its cost
// as the measure of others, and its friction at sag.
func Telescopic(r *Replaced, b *ride.Baseline) OfTelescopic {
	c, sag := b.Ride.Setting, &b.Ride.Sag
	binding := 0.0
	for _, st := range []*stance.State[float64]{b.Ride.At(0), sag, b.Ride.Full()} {
		binding = math.Max(binding, 100*telescopicFriction(c, r, st, 0, 1)/st.SinHead)
	}
	return OfTelescopic{
		MassG: r.MassG, CostIndex: 1, SlideBindingPct: binding,
		FrictionStaticN:  telescopicFriction(c, r, sag, 0, c.StaticLoadN()),
		FrictionBrakingN: telescopicFriction(c, r, sag, c.Chassis.FrontBrakeShare*c.BrakingN(), c.StaticLoadN()+c.TransferN()),
	}
}
