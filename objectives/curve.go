package objectives

import (
	"math"

	"forkfront/kinematics"
)

// Curve is a quantity over the travel, one value a sample from top-out to full travel.
type Curve struct {
	Name, Unit, Doc string
	Needs           Need
	at              func(*Subject[float64], *kinematics.State[float64]) float64
}

type state = kinematics.State[float64]

// Curves is the registry, in the order of the columns.
var Curves = []Curve{
	{"travel_mm", "mm", "travel of the axle back along the steering axis", NeedTravel, func(_ *Subject[float64], s *state) float64 { return s.TravelMM }},
	{"axle_along_mm", "mm", "axle down the steering axis from the crown race seat", NeedTravel, func(_ *Subject[float64], s *state) float64 { return s.Along }},
	{"axle_ahead_mm", "mm", "axle ahead of the steering axis", NeedTravel, func(_ *Subject[float64], s *state) float64 { return s.Ahead }},
	{"head_angle_deg", "deg", "head angle from the ground, rear side", NeedTravel, func(_ *Subject[float64], s *state) float64 { return degrees(s.HeadAngle()) }},
	{"steering_axis_angle_deg", "deg", "angle of the steering axis from the ground, rear side; the head angle unless it runs through ball joints", NeedTravel, func(_ *Subject[float64], s *state) float64 { return degrees(s.SteeringAngle()) }},
	{"trail_mm", "mm", "trail, positive when the steering axis meets the ground ahead of the contact point", NeedTravel, func(_ *Subject[float64], s *state) float64 { return s.TrailMM }},
	{"wheelbase_mm", "mm", "distance of the axles along the ground", NeedTravel, func(_ *Subject[float64], s *state) float64 { return s.WheelbaseMM }},
	{"shock_stroke_mm", "mm", "compression of the shock", NeedDrive, func(s *Subject[float64], st *state) float64 { return s.compression(st) }},
	{"leverage_ratio", "", "travel per shock compression", NeedShock, func(_ *Subject[float64], s *state) float64 { return leverageAt(s) }},
	{"anti_dive_pct", "%", "anti-dive; 100 cancels the load transfer of braking", NeedTravel, func(s *Subject[float64], st *state) float64 { return antiDive(&s.Conditions.Chassis, st) }},
	{"wheel_force_n", "N", "vertical force at the contact that balances the springs", NeedSag, wheelForce[float64]},
}

// ReadCurve appends one value a sample to dst; where the curve has no values the reason says why.
func ReadCurve(dst []float64, c *Curve, s *Subject[float64]) (values []float64, reason string) {
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
