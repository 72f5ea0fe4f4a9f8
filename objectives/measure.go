package objectives

// Sense tells which way is better. Whether it matters at all is the job's to say.
type Sense string

// Senses of a measure.
const (
	Low     Sense = "low"
	High    Sense = "high"
	Neutral Sense = "" // neither, or a band
)

// Measure is a named number read off a studied fork. All that is shown of it (columns, help, the
// report's labels) follows from this declaration.
type Measure struct {
	Name, Unit, Doc string
	Sense           Sense
	Needs           Need    // the highest need that it has; the lower ones are implied
	Resolution      float64 // difference below which two forks count as equal; 0: none stated
	Scale           float64 // an amount that is plainly a lot, by which violations are scaled
	Linkage         bool    // has no meaning for the telescopic baseline

	reading
}

// reading is how a measure is taken: its value, and its value with a derivative.
type reading struct {
	value  func(*Subject[float64]) float64
	slope  func(*Subject[complex128]) complex128
	second bool // looks at second derivatives at sag, so that its own needs third ones
	spring springKind
}

func both(value func(*Subject[float64]) float64, slope func(*Subject[complex128]) complex128) reading {
	return reading{value: value, slope: slope}
}

// curved marks a reading that looks at second derivatives.
func (r reading) curved() reading {
	r.second = true
	return r
}

// on marks a reading of one kind of spring.
func (r reading) on(k springKind) reading {
	r.spring = k
	return r
}

// Measures is the registry, in the order of the columns.
var Measures = []Measure{
	{"path_straightness_mm", "mm", "minimum-zone straightness of the axle path in the fork frame (ISO 1101)", Low, NeedTravel, 0.05, 5, false, both(straightness, straightness)},
	{"path_inclination_deg", "deg", "angle from the steering axis to the minimum-zone line, positive forward going up the travel", Neutral, NeedTravel, 0.1, 10, false, both(inclination, inclination)},
	{"offset_variation_mm", "mm", "largest minus smallest distance of the axle ahead of the steering axis", Low, NeedTravel, 0.05, 10, false, both(offsetVariation, offsetVariation)},
	{"trail_variation_mm", "mm", "largest minus smallest trail over the travel", Low, NeedTravel, 0.1, 20, false, both(trailVariation, trailVariation)},
	{"trail_at_sag_mm", "mm", "trail at sag", Neutral, NeedTravel, 0.1, 20, false, both(trailAtSag, trailAtSag)},
	{"trail_min_mm", "mm", "smallest trail over the travel; negative where the contact point runs ahead of the steering axis", Neutral, NeedTravel, 0.1, 20, false, both(trailMin, trailMin)},
	{"trail_vs_telescopic_mm", "mm", "largest difference to the telescopic baseline's trail at the same travel", Low, NeedTravel, 0.1, 20, false, both(trailVersus, trailVersus)},
	{"trail_loss_braking_mm", "mm", "trail at sag minus trail where the fork rests under braking", Low, NeedDive, 0.1, 20, false, both(trailLoss, trailLoss)},
	{"wheelbase_variation_mm", "mm", "largest minus smallest wheelbase over the travel", Low, NeedTravel, 0.1, 20, false, both(wheelbaseVariation, wheelbaseVariation)},
	{"leverage_start", "", "travel per shock compression at top-out", Neutral, NeedShock, 0.005, 1, true, both(leverageStart, leverageStart)},
	{"leverage_end", "", "travel per shock compression at full travel", Neutral, NeedShock, 0.005, 1, true, both(leverageEnd, leverageEnd)},
	{"leverage_min", "", "smallest leverage ratio over the travel", Neutral, NeedShock, 0.005, 1, true, both(leverageMin, leverageMin)},
	{"leverage_max", "", "largest leverage ratio over the travel", Neutral, NeedShock, 0.005, 1, true, both(leverageMax, leverageMax)},
	{"progression_pct", "%", "how much the leverage ratio falls from start to end, in % of the start", Neutral, NeedShock, 0.1, 20, true, both(progression, progression)},
	{"leverage_band_error_pct", "%", "RMS over travel of the distance of the leverage ratio outside its band, in % of the band's middle", Low, NeedShock, 0.1, 20, true, both(leverageError, leverageErrorSlope)},
	{"anti_dive_at_sag_pct", "%", "anti-dive at sag; 100 cancels the load transfer of braking", Neutral, NeedTravel, 0.5, 50, false, both(antiDiveAtSag, antiDiveAtSag)},
	{"anti_dive_min_pct", "%", "smallest anti-dive from sag to full travel", Neutral, NeedTravel, 0.5, 50, false, both(antiDiveMin, antiDiveMin)},
	{"anti_dive_max_pct", "%", "largest anti-dive from sag to full travel", Neutral, NeedTravel, 0.5, 50, false, both(antiDiveMax, antiDiveMax)},
	{"anti_dive_band_error_pct", "%", "RMS from sag to full travel of the distance of anti-dive outside its band, in points", Low, NeedTravel, 0.5, 50, false, both(antiDiveError, antiDiveErrorSlope)},
	{"brake_dive_mm", "mm", "travel from sag to where the fork rests in a hard stop; negative where it rises", Low, NeedDive, 0.1, 20, false, both(brakeDive, brakeDive)},
	{"brake_dive_vs_telescopic_mm", "mm", "brake dive minus that of the telescopic baseline", Low, NeedDive, 0.1, 20, false, both(brakeDiveVersus, brakeDiveVersus)},
	{"spring_rate_n_per_mm", "N/mm", "rate of each shock's spring that balances the static load at sag; of an air spring, its rate there", Neutral, NeedSag, 0.1, 50, false, both(springRate, springRate)},
	{"air_pressure_bar", "bar", "pressure of each air spring at top-out, above that of the atmosphere, that balances the static load at sag", Neutral, NeedSag, 0.1, 5, true, both(airPressure, airPressure).on(airSpring)},
	{"wheel_rate_at_sag_n_per_mm", "N/mm", "wheel rate at sag per mm of vertical axle travel, the geometric term included", Neutral, NeedSag, 0.1, 10, false, both(wheelRate, wheelRate).curved()},
	{"bottom_out_force_n", "N", "vertical force at the contact that balances the springs at full travel", Neutral, NeedSag, 1, 1000, false, both(bottomOut, bottomOut)},
	{"coil_step_error_n_per_mm", "N/mm", "distance of the spring rate to the nearest coil on sale", Low, NeedSag, 0.1, 10, true, both(coilError, coilError).on(coilSpring)},
	{"shock_stroke_used_mm", "mm", "compression of the shock at full travel", Neutral, NeedDrive, 0.1, 10, true, both(strokeUsed, strokeUsed)},
	{"shock_stroke_used_pct", "%", "compression of the shock at full travel in % of its stroke", Neutral, NeedDrive, 0.1, 20, true, both(strokeUsedPct, strokeUsedPct)},
	{"shock_stroke_left_mm", "mm", "stroke of the shock minus its compression at full travel", Neutral, NeedDrive, 0.1, 10, true, both(strokeLeft, strokeLeft)},
	{"transmission_angle_min_deg", "deg", "smallest angle between the two links of any dyad over the travel, folded to 0–90", High, NeedTravel, 0.1, 20, true, both(transmission, transmission)},
	{"mass_g", "g", "mass of the fork: tubes, pivots, shocks and fixed parts", Low, NeedStructure, 5, 500, false, both(mass, mass)},
	{"linkage_mass_g", "g", "mass of tubes and pivots alone", Low, NeedStructure, 5, 500, true, both(linkageMass, linkageMass)},
	{"unsprung_mass_g", "g", "mass at the axle that has the kinetic energy of the fork's parts at sag, the wheel left out", Low, NeedStructure, 5, 500, true, both(unsprung, unsprung)},
	{"steering_inertia_kg_cm2", "kg cm2", "moment of inertia of the fork's parts about the steering axis at top-out", Low, NeedStructure, 1, 100, true, both(steeringInertia, steeringInertia)},
	{"fore_aft_stiffness_n_per_mm", "N/mm", "horizontal force at the axle over its deflection, shock locked at sag; tubes are sized up to the stiffness wanted", High, NeedStructure, 1, 50, true, both(foreAft, foreAft)},
	{"tube_diameter_max_mm", "mm", "largest outside diameter that any tube needs", Low, NeedStructure, 0.1, 10, true, both(thickest, thickest)},
	{"bearing_load_max_n", "N", "largest pin force over the load cases, both sides together", Low, NeedStructure, 10, 5000, true, both(heaviestPin, heaviestPin)},
	{"friction_static_n", "N", "force along the travel at the axle that resists motion at sag, the brake off", Low, NeedStructure, 0.1, 20, false, both(frictionStatic, frictionStatic)},
	{"friction_braking_n", "N", "force along the travel at the axle that resists motion at sag in a hard stop", Low, NeedStructure, 0.1, 20, false, both(frictionBraking, frictionBraking)},
	{"clearance_mm", "mm", "smallest gap between parts over travel and steering angle; negative where they overlap", High, NeedPackage, 0.25, 10, true, both(clearance, clearanceSlope)},
	{"hub_clearance_mm", "mm", "smallest gap between the parts beside the wheel and its hub and rotor", High, NeedPackage, 0.25, 10, true, both(hubClearance, hubSlope)},
	{"cost_index", "", "cost of the parts over that of the telescopic fork", Low, NeedStructure, 0.01, 0.5, false, both(costIndex, costIndex)},
	{"lateral_stiffness_n_per_mm", "N/mm", "side force at the contact point over its deflection, shock locked at sag, by a space frame", High, NeedStructure, 0.5, 20, true, reading{}},
	{"torsional_stiffness_nm_per_deg", "Nm/deg", "couple about the steering axis at the axle over its turn, shock locked at sag, by a space frame", High, NeedStructure, 0.1, 10, true, reading{}},
	{"tolerance_path_straightness_mm", "mm", "standard deviation of path_straightness_mm when every pivot lies off its place by the tolerance, first order", Low, NeedTravel, 0.02, 1, true, reading{}},
	{"tolerance_trail_variation_mm", "mm", "standard deviation of trail_variation_mm when every pivot lies off its place by the tolerance, first order", Low, NeedTravel, 0.02, 2, true, reading{}},
	{"tolerance_progression_pct", "%", "standard deviation of progression_pct when every pivot lies off its place by the tolerance, first order", Low, NeedShock, 0.02, 5, true, reading{}},
	{"tolerance_leverage_band_error_pct", "%", "standard deviation of leverage_band_error_pct when every pivot lies off its place by the tolerance, first order", Low, NeedShock, 0.02, 5, true, reading{}},
	{"tolerance_anti_dive_at_sag_pct", "%", "standard deviation of anti_dive_at_sag_pct when every pivot lies off its place by the tolerance, first order", Low, NeedTravel, 0.1, 10, true, reading{}},
	{"tolerance_brake_dive_mm", "mm", "standard deviation of brake_dive_mm when every pivot lies off its place by the tolerance, first order", Low, NeedDive, 0.02, 5, true, reading{}},
}

// Apart are the measures of what stays between parts. Below 0 two parts are in each other's place, which no fork
// can be built with.
var Apart = []string{"clearance_mm", "hub_clearance_mm"}

// Index finds a measure by name, or -1.
func Index(name string) int {
	for i := range Measures {
		if Measures[i].Name == name {
			return i
		}
	}
	return -1
}

// taken is what read needs of a measure, side by side in memory for all of them.
type taken struct {
	needs  Need
	spring springKind
	value  func(*Subject[float64]) float64
}

var takenOf = func() []taken {
	all := make([]taken, len(Measures))
	for i := range Measures {
		all[i] = taken{Measures[i].Needs, Measures[i].spring, Measures[i].value}
	}
	return all
}()

// read takes all measures off a subject. missing is the reason of an empty one.
func read(s *Subject[float64], values []float64, missing []string) {
	values, missing = values[:len(takenOf)], missing[:len(takenOf)]
	for i := range takenOf {
		m := &takenOf[i]
		why := s.Missing[m.needs]
		if why == "" {
			why = m.spring.lacks(s.Shock)
		}
		if why == "" && m.value == nil {
			why = unsearched
		}
		x := 0.0
		if why == "" {
			if x = m.value(s); x-x != 0 { // no number, or infinite
				x, why = 0, notFinite
			}
		}
		values[i], missing[i] = x, why
	}
}

// notFinite is the reason of a measure whose formula overflows or divides by nothing: a wheel of
// 1e70 mm, say.
const notFinite = "it comes to no finite number"
