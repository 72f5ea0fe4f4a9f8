package objectives

import (
	"forkfront/objectives/clearance"
	"forkfront/objectives/ride"
	"forkfront/objectives/structure"
)

// Measures is the registry, in the order of the columns.
var Measures = []Measure{
	{
		Name: "path_straightness_mm", Unit: "mm", Needs: ride.NeedTravel, Sense: Low, Resolution: 0.05, Scale: 5,
		Doc:     "minimum-zone straightness of the axle path in the fork frame (ISO 1101)",
		reading: ofRide(ride.Straightness, ride.Straightness),
	},
	{
		Name: "path_inclination_deg", Unit: "deg", Needs: ride.NeedTravel, Resolution: 0.1, Scale: 10,
		Doc:     "angle from the steering axis to the minimum-zone line, positive forward going up the travel",
		reading: ofRide(ride.Inclination, ride.Inclination),
	},
	{
		Name: "offset_variation_mm", Unit: "mm", Needs: ride.NeedTravel, Sense: Low, Resolution: 0.05, Scale: 10,
		Doc:     "largest minus smallest distance of the axle ahead of the steering axis",
		reading: ofRide(ride.OffsetVariation, ride.OffsetVariation),
	},
	{
		Name: "trail_variation_mm", Unit: "mm", Needs: ride.NeedTravel, Sense: Low, Resolution: 0.1, Scale: 20,
		Doc:     "largest minus smallest trail over the travel",
		reading: ofRide(ride.TrailVariation, ride.TrailVariation),
	},
	{
		Name: "trail_at_sag_mm", Unit: "mm", Needs: ride.NeedAtSag, Resolution: 0.1, Scale: 20,
		Doc:     "trail at sag",
		reading: ofRide(ride.TrailAtSag, ride.TrailAtSag),
	},
	{
		Name: "trail_min_mm", Unit: "mm", Needs: ride.NeedTravel, Resolution: 0.1, Scale: 20,
		Doc:     "smallest trail over the travel; negative where the contact point runs ahead of the steering axis",
		reading: ofRide(ride.TrailMin, ride.TrailMin),
	},
	{
		Name: "trail_vs_telescopic_mm", Unit: "mm", Needs: ride.NeedTravel, Sense: Low, Resolution: 0.1, Scale: 20,
		Doc:     "largest difference to the telescopic baseline's trail at the same travel",
		reading: ofRide(ride.TrailVersusTelescopic, ride.TrailVersusTelescopic),
	},
	{
		Name: "trail_loss_braking_mm", Unit: "mm", Needs: ride.NeedDive, Sense: Low, Resolution: 0.1, Scale: 20,
		Doc:     "trail at sag minus trail where the fork rests under braking",
		reading: ofRide(ride.TrailLoss, ride.TrailLoss),
	},
	{
		Name: "wheelbase_variation_mm", Unit: "mm", Needs: ride.NeedTravel, Sense: Low, Resolution: 0.1, Scale: 20,
		Doc:     "largest minus smallest wheelbase over the travel",
		reading: ofRide(ride.WheelbaseVariation, ride.WheelbaseVariation),
	},
	{
		Name: "leverage_start", Needs: ride.NeedShock, Resolution: 0.005, Scale: 1, OfLinkage: true,
		Doc:     "travel per shock compression at top-out",
		reading: ofRide(ride.LeverageStart, ride.LeverageStart),
	},
	{
		Name: "leverage_end", Needs: ride.NeedShock, Resolution: 0.005, Scale: 1, OfLinkage: true,
		Doc:     "travel per shock compression at full travel",
		reading: ofRide(ride.LeverageEnd, ride.LeverageEnd),
	},
	{
		Name: "leverage_min", Needs: ride.NeedShock, Resolution: 0.005, Scale: 1, OfLinkage: true,
		Doc:     "smallest leverage ratio over the travel",
		reading: ofRide(ride.LeverageMin, ride.LeverageMin),
	},
	{
		Name: "leverage_max", Needs: ride.NeedShock, Resolution: 0.005, Scale: 1, OfLinkage: true,
		Doc:     "largest leverage ratio over the travel",
		reading: ofRide(ride.LeverageMax, ride.LeverageMax),
	},
	{
		Name: "progression_pct", Unit: "%", Needs: ride.NeedShock, Resolution: 0.1, Scale: 20, OfLinkage: true,
		Doc:     "how much the leverage ratio falls from start to end, in % of the start",
		reading: ofRide(ride.Progression, ride.Progression),
	},
	{
		Name: "leverage_band_error_pct", Unit: "%", Needs: ride.NeedShock, Sense: Low, Resolution: 0.1, Scale: 20, OfLinkage: true,
		Doc:     "RMS over travel of the distance of the leverage ratio outside its band, in % of the band's middle",
		reading: ofRide(ride.LeverageBandError, ride.LeverageBandErrorSlope),
	},
	{
		Name: "anti_dive_at_sag_pct", Unit: "%", Needs: ride.NeedAtSag, Resolution: 0.5, Scale: 50,
		Doc:     "anti-dive at sag; 100 cancels the load transfer of braking",
		reading: ofRide(ride.AntiDiveAtSag, ride.AntiDiveAtSag),
	},
	{
		Name: "anti_dive_min_pct", Unit: "%", Needs: ride.NeedTravel, Resolution: 0.5, Scale: 50,
		Doc:     "smallest anti-dive from sag to full travel",
		reading: ofRide(ride.AntiDiveMin, ride.AntiDiveMin),
	},
	{
		Name: "anti_dive_max_pct", Unit: "%", Needs: ride.NeedTravel, Resolution: 0.5, Scale: 50,
		Doc:     "largest anti-dive from sag to full travel",
		reading: ofRide(ride.AntiDiveMax, ride.AntiDiveMax),
	},
	{
		Name: "anti_dive_band_error_pct", Unit: "%", Needs: ride.NeedTravel, Sense: Low, Resolution: 0.5, Scale: 50,
		Doc:     "RMS from sag to full travel of the distance of anti-dive outside its band, in points",
		reading: ofRide(ride.AntiDiveBandError, ride.AntiDiveBandErrorSlope),
	},
	{
		Name: "brake_dive_mm", Unit: "mm", Needs: ride.NeedDive, Sense: Low, Resolution: 0.1, Scale: 20,
		Doc:     "travel from sag to where the fork rests in a hard stop; negative where it rises",
		reading: ofRide(ride.BrakeDive, ride.BrakeDive),
	},
	{
		Name: "brake_dive_vs_telescopic_mm", Unit: "mm", Needs: ride.NeedDive, Sense: Low, Resolution: 0.1, Scale: 20,
		Doc:     "brake dive minus that of the telescopic baseline",
		reading: ofRide(ride.BrakeDiveVersusTelescopic, ride.BrakeDiveVersusTelescopic),
	},
	{
		Name: "spring_rate_n_per_mm", Unit: "N/mm", Needs: ride.NeedSag, Resolution: 0.1, Scale: 50,
		Doc:     "rate of each shock's spring that balances the static load at sag; of an air spring, its rate there",
		reading: ofRide(ride.SpringRate, ride.SpringRate),
	},
	{
		Name: "air_pressure_bar", Unit: "bar", Needs: ride.NeedSag, Resolution: 0.1, Scale: 5, OfLinkage: true,
		Doc:     "pressure of each air spring at top-out, above that of the atmosphere, that balances the static load at sag",
		reading: ofRide(ride.AirPressure, ride.AirPressure).on(airSpring),
	},
	{
		Name: "wheel_rate_at_sag_n_per_mm", Unit: "N/mm", Needs: ride.NeedSag, Resolution: 0.1, Scale: 10,
		Doc:     "wheel rate at sag per mm of vertical axle travel, the geometric term included",
		reading: ofRide(ride.WheelRate, ride.WheelRate).curved(),
	},
	{
		Name: "bottom_out_force_n", Unit: "N", Needs: ride.NeedSag, Resolution: 1, Scale: 1000,
		Doc:     "vertical force at the contact that balances the springs at full travel",
		reading: ofRide(ride.BottomOutForce, ride.BottomOutForce),
	},
	{
		Name: "coil_step_error_n_per_mm", Unit: "N/mm", Needs: ride.NeedSag, Sense: Low, Resolution: 0.1, Scale: 10, OfLinkage: true,
		Doc:     "distance of the spring rate to the nearest coil on sale",
		reading: ofRide(ride.CoilStepError, ride.CoilStepError).on(coilSpring),
	},
	{
		Name: "shock_stroke_used_mm", Unit: "mm", Needs: ride.NeedDrive, Resolution: 0.1, Scale: 10, OfLinkage: true,
		Doc:     "compression of the shock at full travel",
		reading: ofRide(ride.StrokeUsed, ride.StrokeUsed),
	},
	{
		Name: "shock_stroke_used_pct", Unit: "%", Needs: ride.NeedDrive, Resolution: 0.1, Scale: 20, OfLinkage: true,
		Doc:     "compression of the shock at full travel in % of its stroke",
		reading: ofRide(ride.StrokeUsedPct, ride.StrokeUsedPct),
	},
	{
		Name: "shock_stroke_left_mm", Unit: "mm", Needs: ride.NeedDrive, Resolution: 0.1, Scale: 10, OfLinkage: true,
		Doc:     "stroke of the shock minus its compression at full travel",
		reading: ofRide(ride.StrokeLeft, ride.StrokeLeft),
	},
	{
		Name: "transmission_angle_min_deg", Unit: "deg", Needs: ride.NeedTravel, Sense: High, Resolution: 0.1, Scale: 20, OfLinkage: true,
		Doc:     "smallest angle over the travel between the two links of any dyad that bears load between the ground and the axle, caliper or shock, folded to 0–90; the body on the ground that the shock acts on from the ground drives, otherwise the one on the ground for which the angle is largest",
		reading: ofRide(ride.TransmissionAngleMin, ride.TransmissionAngleMin),
	},
	{
		Name: "mass_g", Unit: "g", Needs: NeedStructure, Sense: Low, Resolution: 5, Scale: 500,
		Doc:        "mass of the fork: tubes, pivots, shocks and fixed parts",
		reading:    ofSizes(structure.Mass, structure.Mass),
		telescopic: func(t *structure.OfTelescopic) float64 { return t.MassG },
	},
	{
		Name: "linkage_mass_g", Unit: "g", Needs: NeedStructure, Sense: Low, Resolution: 5, Scale: 500, OfLinkage: true,
		Doc:     "mass of tubes and pivots alone",
		reading: ofSizes(structure.LinkageMass, structure.LinkageMass),
	},
	{
		Name: "unsprung_mass_g", Unit: "g", Needs: NeedStructure, Sense: Low, Resolution: 5, Scale: 500, OfLinkage: true,
		Doc:     "mass at the axle that has the kinetic energy of the fork's parts at sag, the wheel left out",
		reading: ofSizes(structure.UnsprungMass, structure.UnsprungMass),
	},
	{
		Name: "steering_inertia_kg_cm2", Unit: "kg cm2", Needs: NeedStructure, Sense: Low, Resolution: 1, Scale: 100, OfLinkage: true,
		Doc:     "moment of inertia of the fork's parts about the steering axis at top-out",
		reading: ofSizes(structure.SteeringInertia, structure.SteeringInertia),
	},
	{
		Name: "fore_aft_stiffness_n_per_mm", Unit: "N/mm", Needs: NeedStructure, Sense: High, Resolution: 1, Scale: 50, OfLinkage: true,
		Doc:     "horizontal force at the axle over its deflection, shock locked at sag; tubes and shafts bend; tubes are sized up to the stiffness wanted",
		reading: ofSizes(structure.ForeAftStiffness, structure.ForeAftStiffness),
	},
	{
		Name: "tube_diameter_max_mm", Unit: "mm", Needs: NeedStructure, Sense: Low, Resolution: 0.1, Scale: 10, OfLinkage: true,
		Doc:     "largest outside diameter that any tube needs",
		reading: ofSizes(structure.TubeDiameterMax, structure.TubeDiameterMax),
	},
	{
		Name: "bearing_load_max_n", Unit: "N", Needs: NeedStructure, Sense: Low, Resolution: 10, Scale: 5000, OfLinkage: true,
		Doc:     "largest pin force over the load cases, both sides together",
		reading: ofSizes(structure.BearingLoadMax, structure.BearingLoadMax),
	},
	{
		Name: "friction_static_n", Unit: "N", Needs: NeedStructure, Sense: Low, Resolution: 0.1, Scale: 20,
		Doc:        "force along the travel at the axle that resists motion at sag, the brake off",
		reading:    ofSizes(structure.FrictionStatic, structure.FrictionStatic),
		telescopic: func(t *structure.OfTelescopic) float64 { return t.FrictionStaticN },
	},
	{
		Name: "friction_braking_n", Unit: "N", Needs: NeedStructure, Sense: Low, Resolution: 0.1, Scale: 20,
		Doc:        "force along the travel at the axle that resists motion at sag in a hard stop",
		reading:    ofSizes(structure.FrictionBraking, structure.FrictionBraking),
		telescopic: func(t *structure.OfTelescopic) float64 { return t.FrictionBrakingN },
	},
	{
		Name: "clearance_mm", Unit: "mm", Needs: NeedPackage, Sense: High, Resolution: 0.25, Scale: 10, OfLinkage: true,
		Doc:     "smallest gap between parts over travel and steering angle; negative where they overlap",
		reading: ofGaps((*clearance.Search).Clearance, (*clearance.Search).ClearanceDerivative),
	},
	{
		Name: "hub_clearance_mm", Unit: "mm", Needs: NeedPackage, Sense: High, Resolution: 0.25, Scale: 10, OfLinkage: true,
		Doc:     "smallest gap between the parts beside the wheel and its hub and rotor",
		reading: ofGaps((*clearance.Search).HubClearance, (*clearance.Search).HubDerivative),
	},
	{
		Name: "cost_index", Needs: NeedStructure, Sense: Low, Resolution: 0.01, Scale: 0.5,
		Doc:        "cost of the parts over that of the telescopic fork",
		reading:    ofSizes(structure.CostIndex, structure.CostIndex),
		telescopic: func(t *structure.OfTelescopic) float64 { return t.CostIndex },
	},
	{
		Name: "lateral_stiffness_n_per_mm", Unit: "N/mm", Needs: NeedStructure, Sense: High, Resolution: 0.5, Scale: 20, OfLinkage: true,
		Doc: "side force at the contact point over its deflection, shock locked at sag, by a space frame of both sides: tubes, pivot shafts, wheel axle and the shafts at the shock's eyes; the hub stiffens nothing",
	},
	{
		Name: "torsional_stiffness_nm_per_deg", Unit: "Nm/deg", Needs: NeedStructure, Sense: High, Resolution: 0.1, Scale: 10, OfLinkage: true,
		Doc: "couple about the steering axis at the axle over its rotation, shock locked at sag, by the same space frame as the lateral stiffness",
	},
	{
		Name: "tolerance_path_straightness_mm", Unit: "mm", Needs: ride.NeedTravel, Sense: Low, Resolution: 0.02, Scale: 1, OfLinkage: true,
		Doc:         "standard deviation of path_straightness_mm when every pivot lies off its place by the tolerance, first order",
		ToleranceOf: "path_straightness_mm",
	},
	{
		Name: "tolerance_trail_variation_mm", Unit: "mm", Needs: ride.NeedTravel, Sense: Low, Resolution: 0.02, Scale: 2, OfLinkage: true,
		Doc:         "standard deviation of trail_variation_mm when every pivot lies off its place by the tolerance, first order",
		ToleranceOf: "trail_variation_mm",
	},
	{
		Name: "tolerance_progression_pct", Unit: "%", Needs: ride.NeedShock, Sense: Low, Resolution: 0.02, Scale: 5, OfLinkage: true,
		Doc:         "standard deviation of progression_pct when every pivot lies off its place by the tolerance, first order",
		ToleranceOf: "progression_pct",
	},
	{
		Name: "tolerance_leverage_band_error_pct", Unit: "%", Needs: ride.NeedShock, Sense: Low, Resolution: 0.02, Scale: 5, OfLinkage: true,
		Doc:         "standard deviation of leverage_band_error_pct when every pivot lies off its place by the tolerance, first order",
		ToleranceOf: "leverage_band_error_pct",
	},
	{
		Name: "tolerance_anti_dive_at_sag_pct", Unit: "%", Needs: ride.NeedAtSag, Sense: Low, Resolution: 0.1, Scale: 10, OfLinkage: true,
		Doc:         "standard deviation of anti_dive_at_sag_pct when every pivot lies off its place by the tolerance, first order",
		ToleranceOf: "anti_dive_at_sag_pct",
	},
	{
		Name: "tolerance_brake_dive_mm", Unit: "mm", Needs: ride.NeedDive, Sense: Low, Resolution: 0.02, Scale: 5, OfLinkage: true,
		Doc:         "standard deviation of brake_dive_mm when every pivot lies off its place by the tolerance, first order",
		ToleranceOf: "brake_dive_mm",
	},
}
