package parts

import (
	"math"

	"forkfront/kinematics"
)

// SlideRules are how the tubes of slides run in each other.
type SlideRules struct {
	OverlapMM    float64 // wanted at top-out; less where the inner tube is too short for that and the travel
	BushFriction float64
}

// DefaultSlideRules are common practice without a source, and those of the telescopic fork that is replaced.
func DefaultSlideRules() SlideRules { return SlideRules{OverlapMM: 110, BushFriction: 0.05} }

// SlideBushLength and slideBushWall are those of a slide's bushes in parts of the inner tube's diameter (common practice, no source:
// 1 mm at 34 mm).
const (
	SlideBushLength = 0.5
	slideBushWall   = 0.03
)

// SlideBushRate is the stiffness in N/mm that a bush is taken for: it stands for rigid, far above that of tubes, and low enough for
// rounding.
const SlideBushRate = 1e8

// Fit is the outside diameter of an outer tube over that of the inner one: its bore leaves room for the bushes,
// even at the smallest diameter.
func (r *TubeRules) Fit() float64 {
	bore := 1 + 2*slideBushWall
	return math.Max(bore/(1-2*r.WallShare), bore+2*r.MinWallMM/r.MinDiameterMM)
}

// SlideBushMass is that of a slide's bushes in g: two on each of a number of tubes, diameter the outside one in mm of the inner tube.
func SlideBushMass[T kinematics.Scalar](diameter T, tubes float64) T {
	return diameter * diameter * diameter * kinematics.Lift[T](2*tubes*math.Pi*slideBushWall*(1+slideBushWall)*SlideBushLength*bushGramsPerMM3)
}
