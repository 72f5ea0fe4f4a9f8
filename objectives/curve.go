package objectives

import (
	"math"

	"forkfront/kinematics/stance"
	"forkfront/objectives/ride"
)

// Curve is a quantity over the travel, one value per sample from top-out to full travel.
type Curve struct {
	Name, Unit, Doc string
	Needs           ride.Need
	OfLinkage       bool                          // has no meaning for the telescopic fork, whose spring moves with the axle
	Step            float64                       // a difference far below what a chart can show; 0: it is not charted
	Wanted          func(*ride.Setting) ride.Band // where the curve is wanted to be; nil: anywhere

	at func(*ride.Ride[float64], *state) float64
}

type state = stance.State[float64]

// Curves is the registry, in the order of the columns.
var Curves = []Curve{
	{
		Name: "travel_mm", Unit: "mm", Needs: ride.NeedTravel, Doc: "travel of the axle back along the steering axis",
		at: func(_ *ride.Ride[float64], s *state) float64 { return s.TravelMM },
	},
	{
		Name: "axle_along_mm", Unit: "mm", Needs: ride.NeedTravel, Doc: "axle down the steering axis from the crown race seat",
		at: func(_ *ride.Ride[float64], s *state) float64 { return s.Along },
	},
	{
		Name: "axle_ahead_mm", Unit: "mm", Needs: ride.NeedTravel, Doc: "axle ahead of the steering axis",
		at: func(_ *ride.Ride[float64], s *state) float64 { return s.Ahead },
	},
	{
		Name: "head_angle_deg", Unit: "deg", Needs: ride.NeedTravel, Step: 0.001, Doc: "head angle from the ground, rear side",
		at: func(_ *ride.Ride[float64], s *state) float64 { return ride.Degrees(s.HeadAngle()) },
	},
	{
		Name: "steering_axis_angle_deg", Unit: "deg", Needs: ride.NeedTravel,
		Doc: "angle of the steering axis from the ground, rear side; the head angle unless it runs through ball joints",
		at:  func(_ *ride.Ride[float64], s *state) float64 { return ride.Degrees(s.SteeringAngle()) },
	},
	{
		Name: "trail_mm", Unit: "mm", Needs: ride.NeedTravel, Step: 0.01,
		Doc: "trail, positive when the steering axis meets the ground ahead of the contact point",
		at:  func(_ *ride.Ride[float64], s *state) float64 { return s.TrailMM },
	},
	{
		Name: "wheelbase_mm", Unit: "mm", Needs: ride.NeedTravel, Doc: "distance of the axles along the ground",
		at: func(_ *ride.Ride[float64], s *state) float64 { return s.WheelbaseMM },
	},
	{
		Name: "shock_stroke_mm", Unit: "mm", Needs: ride.NeedDrive, Doc: "compression of the shock",
		at: func(r *ride.Ride[float64], s *state) float64 { return r.Compression(s) },
	},
	{
		Name: "leverage_ratio", Needs: ride.NeedShock, OfLinkage: true, Step: 0.0002, Doc: "travel per shock compression",
		Wanted: func(c *ride.Setting) ride.Band { return c.Leverage },
		at:     func(_ *ride.Ride[float64], s *state) float64 { return ride.LeverageAt(s) },
	},
	{
		Name: "anti_dive_pct", Unit: "%", Needs: ride.NeedTravel, Step: 0.01, Doc: "anti-dive; 100 cancels the load transfer of braking",
		Wanted: func(c *ride.Setting) ride.Band { return c.AntiDive },
		at:     func(r *ride.Ride[float64], s *state) float64 { return ride.AntiDive(&r.Setting.Chassis, s) },
	},
	{
		Name: "wheel_force_n", Unit: "N", Needs: ride.NeedSag, Step: 0.1, Doc: "vertical force at the contact that balances the springs",
		at: ride.WheelForce[float64],
	},
}

// ReadCurve appends one value per sample to dst; where the curve has no values the reason says why.
func ReadCurve(dst []float64, c *Curve, s *ride.Ride[float64]) (values []float64, reason string) {
	if reason = s.Missing[c.Needs]; reason != "" {
		return dst, reason
	}
	for i := range s.States {
		x := c.at(s, &s.States[i])
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return dst[:0], notFinite
		}
		dst = append(dst, x)
	}
	return dst, ""
}
