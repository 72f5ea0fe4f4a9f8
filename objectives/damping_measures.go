package objectives

import (
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
	"forkfront/objectives/structure"
)

// dampingMeasures are those of damper, tyre and road: the quarter model at sag.
var dampingMeasures = []Measure{
	{
		Name: "axle_path_angle_at_sag_deg", Unit: "deg", Needs: ride.NeedAtSag, Resolution: 0.2, Scale: 10,
		Doc:     "angle of the axle's path at sag from the vertical, positive rearward going up the travel",
		Formula: "atan(−v_x / v_z) at sag, (v_x, v_z) the velocity of the axle forward and up per mm of travel",
		Good:    "positive: the wheel moves back over a bump, as that of a telescopic fork does by 90° less its head angle",
		Sketch:  "path",
		reading: ofRide(ride.AxlePathAngle, ride.AxlePathAngle),
	},
	{
		Name: "damper_coefficient_ns_per_m", Unit: "N s/m", Needs: ride.NeedSag, Resolution: 20, Scale: 1000,
		Doc:     "damping coefficient at the shaft of each shock, mean of compression and rebound, for the damping ratio wanted at sag",
		Formula: "c = 2 ζ √(k_w m_s) · (v_z · ratio)² / n at sag, with the damping ratio ζ wanted, the wheel rate k_w, the sprung mass m_s = N / g, n shocks",
		Good:    "what a damper on sale can be set to, see damper_misfit_pct",
		Sketch:  "leverage_ratio",
		reading: ofQuarter(quarter.DamperCoefficient, quarter.DamperCoefficient),
	},
	{
		Name: "damper_misfit_pct", Unit: "%", Needs: ride.NeedSag, Sense: Low, Resolution: 1, Scale: 20, OfLinkage: true,
		Doc:     "how far the coefficients of compression and rebound lie outside those of the damper on sale that fits best, in % of the nearer limit",
		Formula: "min over the dampers of the larger of what c_c = 2 c / (1 + q) is outside the range for compression and c_r = q c_c outside that for rebound, q the ratio of rebound to compression",
		Good:    "0, the default limit where the job lists dampers: one on sale can be set",
		Sketch:  "leverage_ratio",
		reading: ofQuarter(quarter.DamperMisfit, quarter.DamperMisfit).with(givenDampers),
	},
	{
		Name: "damping_variation_pct", Unit: "%", Needs: ride.NeedSag, Sense: Low, Resolution: 0.5, Scale: 20,
		Doc:     "largest minus smallest damping ratio from sag to full travel with one setting of the damper, in % of that at sag",
		Formula: "100 (max ζ − min ζ) / ζ(sag), ζ = n c / ((v_z · ratio)² · 2 √(k_w m_s)) with v_z, ratio and wheel rate k_w at each travel",
		Good:    "30 % or less, the default limit where the job has a ride section (common practice, no source): more is underdamped at one end and harsh at the other",
		Sketch:  "leverage_ratio",
		reading: ofQuarter(quarter.DampingVariation, quarter.DampingVariation).with(givenEven),
	},
	{
		Name: "breakaway_static_mm", Unit: "mm", Needs: NeedStructure, Sense: Low, Resolution: 0.02, Scale: 1,
		Doc:     "height of a bump that the tyre takes before the fork moves at sag, the brake off",
		Formula: "friction_static_n / (v_z k_t), k_t the rate of the front tyre",
		Good:    "less than that of the telescopic fork",
		Sketch:  "parts",
		reading: reading{
			value: valueOf(func(f *findings) float64 {
				return quarter.Breakaway(f.damping, f.ride, structure.FrictionStatic(f.sized))
			}),
			slope: slopeOf(func(s *slopes) complex128 {
				return quarter.Breakaway(s.damping, s.ride, structure.FrictionStatic(s.sized))
			}),
		}.with(givenRide),
		telescopic: telescopicOf(func(t *knownTelescopic) float64 { return quarter.Breakaway(t.quarter, t.ride, t.FrictionStaticN) }),
	},
	{
		Name: "breakaway_braking_mm", Unit: "mm", Needs: NeedStructure, Sense: Low, Resolution: 0.02, Scale: 1,
		Doc:     "height of a bump that the tyre takes before the fork moves at sag in a hard stop",
		Formula: "friction_braking_n / (v_z k_t), k_t the rate of the front tyre",
		Good:    "less than that of the telescopic fork, whose bushes bind under braking",
		Sketch:  "parts",
		reading: reading{
			value: valueOf(func(f *findings) float64 {
				return quarter.Breakaway(f.damping, f.ride, structure.FrictionBraking(f.sized))
			}),
			slope: slopeOf(func(s *slopes) complex128 {
				return quarter.Breakaway(s.damping, s.ride, structure.FrictionBraking(s.sized))
			}),
		}.with(givenRide),
		telescopic: telescopicOf(func(t *knownTelescopic) float64 { return quarter.Breakaway(t.quarter, t.ride, t.FrictionBrakingN) }),
	},
	{
		Name: "body_frequency_hz", Unit: "Hz", Needs: ride.NeedSag, Resolution: 0.01, Scale: 0.5,
		Doc:     "undamped frequency of the body on spring and tyre at sag",
		Formula: "√(B − √(B² − D)) / 2π, B = ((k_w + k_t) / m_u + k_w / m_s) / 2, D = k_w k_t / (m_s m_u), with wheel rate k_w, tyre rate k_t, sprung mass m_s, unsprung mass m_u",
		Good:    "1 to 2.5 Hz (common practice, no source)",
		Sketch:  "wheel_force_n",
		reading: ofModel(quarter.BodyFrequency, quarter.BodyFrequency),
	},
	{
		Name: "wheel_hop_frequency_hz", Unit: "Hz", Needs: ride.NeedSag, Resolution: 0.05, Scale: 5,
		Doc:     "undamped frequency of the wheel between spring and tyre at sag",
		Formula: "√(B + √(B² − D)) / 2π, with B and D as of body_frequency_hz",
		Good:    "8 to 30 Hz, far above body_frequency_hz (common practice, no source)",
		Sketch:  "wheel_force_n",
		reading: ofModel(quarter.HopFrequency, quarter.HopFrequency),
	},
	{
		Name: "transmissibility_peak", Needs: ride.NeedSag, Sense: Low, Resolution: 0.01, Scale: 1,
		Doc:     "largest amplitude of the body over that of the road, between 0.3 and 2 times the body frequency",
		Formula: "max over ω of |k_t (k_w + i c_w ω)| / |(k_w + i c_w ω − m_s ω²)(k_w + k_t + i c_w ω − m_u ω²) − (k_w + i c_w ω)²|, c_w the damping at the wheel",
		Good:    "about 2 with a damping ratio of 0.4 and a tyre ten times as stiff as the fork; less takes more damping, and a harsher fork",
		Sketch:  "wheel_force_n",
		reading: ofModel(quarter.TransmissibilityPeak, quarter.TransmissibilityPeak),
	},
	{
		Name: "road_grip_rms_pct", Unit: "%", Needs: ride.NeedSag, Sense: Low, Resolution: 0.1, Scale: 10,
		Doc:     "root mean square of the variation of the wheel load on the road of the ride section (ISO 8608), in % of the static load",
		Formula: "√(½ S [(M³ k_w² / m_s² − 2 k_t k_w m_u M / m_s + k_t² m_u) / c_w + M² k_t c_w / m_s²]) / (M g), S = 2 π² n₀² G v, M = m_s + m_u, roughness G at n₀ = 0.1/m, speed v",
		Good:    "below 33 %: beyond, the tyre leaves a road of this kind now and then (three standard deviations)",
		Sketch:  "wheel_force_n",
		reading: ofQuarter(quarter.RoadGrip, quarter.RoadGrip),
	},
	{
		Name: "road_acceleration_rms_m_per_s2", Unit: "m/s2", Needs: ride.NeedSag, Sense: Low, Resolution: 0.02, Scale: 2,
		Doc:     "root mean square of the vertical acceleration of the body on the road of the ride section",
		Formula: "√(½ S [M k_w² / (c_w m_s²) + k_t c_w / m_s²]), with S and M as of road_grip_rms_pct",
		Good:    "as low as possible; it compares forks and does not measure exposure",
		Sketch:  "wheel_force_n",
		reading: ofQuarter(quarter.RoadAcceleration, quarter.RoadAcceleration),
	},
	{
		Name: "road_travel_rms_mm", Unit: "mm", Needs: ride.NeedSag, Sense: Low, Resolution: 0.1, Scale: 10,
		Doc:     "root mean square of the travel about sag on the road of the ride section",
		Formula: "√(½ S M / c_w) / v_z, with S and M as of road_grip_rms_pct",
		Good:    "below a third of the travel from top-out to sag, so that the fork seldom tops out",
		Sketch:  "wheel_force_n",
		reading: ofQuarter(quarter.RoadTravel, quarter.RoadTravel),
	},
	{
		Name: "best_comfort_damping_ratio", Needs: ride.NeedSag, Resolution: 0.005, Scale: 0.2,
		Doc:     "damping ratio at which the body is accelerated least on any road",
		Formula: "√(M k_w² / k_t) / (2 √(k_w m_s))",
		Good:    "a soft setting: the damping ratio wanted lies between it and best_grip_damping_ratio",
		Sketch:  "wheel_force_n",
		reading: ofQuarter(quarter.ComfortRatio, quarter.ComfortRatio),
	},
	{
		Name: "best_grip_damping_ratio", Needs: ride.NeedSag, Resolution: 0.005, Scale: 0.2,
		Doc:     "damping ratio at which the wheel load varies least on any road",
		Formula: "√((M³ k_w² / m_s² − 2 k_t k_w m_u M / m_s + k_t² m_u) m_s² / (M² k_t)) / (2 √(k_w m_s))",
		Good:    "a firm setting: the damping ratio wanted lies between best_comfort_damping_ratio and it",
		Sketch:  "wheel_force_n",
		reading: ofQuarter(quarter.GripRatio, quarter.GripRatio),
	},
}
