package parts

// Whether bodies may tilt at a pivot: cylindrical bearings hold them in line, self-aligning ones do not.
const (
	TiltFixed = "fixed"
	TiltFree  = "free"
)

// PivotRules are how pivots are made: a hollow shaft of steel, and on each side a rolling bearing or
// a plain bush.
type PivotRules struct {
	StaticSafety    float64 // of rolling bearings, on their static rating
	BushNPerMM2     float64 // of plain bushes, on the projected area
	ShaftYieldMPa   float64
	ShaftBore       float64 // inside over outside diameter
	Safety          float64 // of shafts, on yield
	LeastArmMM      float64 // lever of the pin force on the shaft where both bodies stand as wide
	BossMM          float64 // length of the shaft beyond the outer body's middle
	SleeveMM        float64 // wall of the sleeve around a bearing or bush
	RollingFriction float64
	PlainFriction   float64
	SealNMM         float64 // torque of a rolling bearing's seals
	Tilt            string  // TiltFixed or TiltFree: whether the bodies at a pivot may tilt against each other
}

// DefaultPivotRules are common practice without a source, except the yield strength: 4130
// normalized, MIL-HDBK-5J.
func DefaultPivotRules() PivotRules {
	return PivotRules{
		StaticSafety: 1, BushNPerMM2: 60, ShaftYieldMPa: 517.1, ShaftBore: 0.7, Safety: 1.5, LeastArmMM: 10, BossMM: 12, SleeveMM: 2,
		RollingFriction: 0.0015, PlainFriction: 0.05, SealNMM: 15, Tilt: TiltFixed,
	}
}

// Spin is the share of its torsional stiffness with which each end of a tube resists rotation about the tube's axis where
// pivots allow tilt. A tube between two such pivots may spin, which matters to nobody, but leaves equations without a
// unique solution. The share is too small to be seen in other displacements.
func (r *PivotRules) Spin() float64 {
	if r.Tilt == TiltFree {
		return 1e-8
	}
	return 0
}
