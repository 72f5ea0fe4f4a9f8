package fatigue

import "strconv"

// Joint is how tubes are joined, which decides where cracks start.
type Joint string

// Kinds of joints.
const (
	Notch  Joint = "notch"  // a joint with a stress concentration of 2
	Smooth Joint = "smooth" // none
	Welded Joint = "weld"
)

// Joints are all kinds, in the order of documents.
var Joints = []Joint{Notch, Smooth, Welded}

// known are the curves of the built-in materials. Bending is taken for axial load. Figures are of MIL-HDBK-5J (2003) for
// sheet, or for the stock named; "read in copies" means that the coefficients were read in public copies of the figures,
// and "from memory" that they were not.
var known = map[string]map[Joint]*Equivalent{
	"2024-T3": {
		Smooth: {11.1, 3.97, 0.56, 15.8, 0.38, "MIL-HDBK-5J figure 3.2.3.1.8(e), read in copies"},
		Notch:  {9.2, 3.33, 0.68, 12.3, 0.27, "MIL-HDBK-5J figure 3.2.3.1.8(g), read in copies"},
	},
	"7075-T6": {
		Smooth: {14.86, 5.80, 0.49, 0, 0.41, "MIL-HDBK-5J figure 3.7.6.1.8(d), read in copies"},
		Notch:  {7.50, 2.46, 0.54, 18.6, 0.31, "MIL-HDBK-5J figure 3.7.6.1.8(f), read in copies"},
	},
	"6061-T6": {
		Smooth: {20.68, 9.84, 0.63, 0, 0, "MIL-HDBK-5J figure 3.6.2.2.8: curve read in copies, number of the figure from memory; no deviation known"},
	},
	"4130": {
		Smooth: {9.65, 2.85, 0.41, 61.3, 0, "MIL-HDBK-5J figure 2.3.1.3.8(a), from memory and unchecked; no deviation known"},
	},
}

// weldClass are classes of a fillet weld's toe, MPa (IIW recommendations, from memory).
var weldClass = map[string]float64{"2024-T3": 22, "7075-T6": 22, "6061-T6": 22, "4130": 63}

// Of is the curve of a built-in material and a joint; class is that of a weld, 0 for the usual one. Where none is known,
// the second result says so.
func Of(material string, joint Joint, class float64) (Curve, string) {
	if joint == Welded {
		from := "class as given"
		if class == 0 {
			if class = weldClass[material]; class == 0 {
				return nil, "no weld class of " + material + " is known"
			}
			from = "fillet toe, IIW recommendations, from memory"
		}
		return &Weld{class, "FAT " + strconv.FormatFloat(class, 'g', -1, 64) + ", " + from}, ""
	}
	if c := known[material][joint]; c != nil {
		return c, ""
	}
	return nil, "no fatigue curve of " + material + " with a " + string(joint) + " joint is known"
}

// YieldLeft is the share of its yield strength that a material keeps at a joint: half of it in welded 6061-T6 (common
// practice, no source).
func YieldLeft(material string, joint Joint) float64 {
	if joint == Welded && material == "6061-T6" {
		return 0.5
	}
	return 1
}
