package objectives

// Measures that code needs by name, as indices into Measures. A name that is not declared ends the program as
// it starts.
var (
	Mass                 = declared("mass_g")
	TubeDiameterMax      = declared("tube_diameter_max_mm")
	AirPressure          = declared("air_pressure_bar")
	SpringRate           = declared("spring_rate_n_per_mm")
	UnsprungMass         = declared("unsprung_mass_g")
	SteeringInertia      = declared("steering_inertia_kg_cm2")
	ShockStrokeUsedPct   = declared("shock_stroke_used_pct")
	Progression          = declared("progression_pct")
	PathInclination      = declared("path_inclination_deg")
	TransmissionAngleMin = declared("transmission_angle_min_deg")
	BrakeDiveVersus      = declared("brake_dive_vs_telescopic_mm")
	ForeAftStiffness     = declared("fore_aft_stiffness_n_per_mm")
	LateralStiffness     = declared("lateral_stiffness_n_per_mm")
	ProofMargin          = declared("proof_margin_min")
	FatigueDamage        = declared("fatigue_damage")
	TorsionalStiffness   = declared("torsional_stiffness_nm_per_deg")
	Clearance            = declared("clearance_mm")
	HubClearance         = declared("hub_clearance_mm")
	DampingVariation     = declared("damping_variation_pct")
	damperCoefficient    = declared("damper_coefficient_ns_per_m")
	frictionStatic       = declared("friction_static_n")
	frictionBraking      = declared("friction_braking_n")
	DamperMisfit         = declared("damper_misfit_pct")
	// GapMeasures are the smallest gaps between parts. Below 0 two parts overlap, and the fork cannot be built.
	GapMeasures = []int{Clearance, HubClearance}
)

func declared(name string) int {
	i := Index(name)
	if i < 0 {
		panic("objectives: no measure is called " + name)
	}
	return i
}
