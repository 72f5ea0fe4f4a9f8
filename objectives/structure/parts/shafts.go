package parts

import "math"

// Steel of shafts and bearings: its density, and Young's modulus of 4130 by MIL-HDBK-5J.
const (
	SteelGramsPerMM3 = 7.85e-3
	SteelMPa         = 199950
)

// WheelAxleMM and WheelAxleBoreMM are the outside and inside diameters of the steel axle that joins both sides at the wheel (common
// practice, no source).
const WheelAxleMM, WheelAxleBoreMM = 15.0, 9.0

// EyeShaftMM is the outside diameter of the shafts at the shock's eyes (common practice, no source).
const EyeShaftMM = 18.0

// LockedMM2 is the section of the steel rod of 10 mm that a locked shock is taken for.
const LockedMM2 = math.Pi / 4 * 100

// Ring is the area between two circles, by diameters.
func Ring(inside, outside float64) float64 {
	return 0.7853981633974483 * (outside*outside - inside*inside)
}

// HollowSteel is the bending stiffness E I of a steel shaft in N·mm² divided by the fourth power of its diameter in mm, by its inside over
// its outside diameter.
func HollowSteel(bore float64) float64 { return SteelMPa * math.Pi / 64 * (1 - bore*bore*bore*bore) }
