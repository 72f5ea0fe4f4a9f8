package structure

import "math"

// SlideRules are how the tubes of slides run in each other.
type SlideRules struct {
	OverlapMM    float64 // wanted at top-out; less where the inner tube is too short for that and the travel
	BushFriction float64
}

// DefaultSlideRules are common practice without a source, and those of the telescopic fork that is replaced.
func DefaultSlideRules() SlideRules { return SlideRules{OverlapMM: 110, BushFriction: 0.05} }

// The bushes of a slide in parts of the inner tube's diameter (common practice, no source: 1 mm at 34 mm).
const (
	slideBushWall   = 0.03
	slideBushLength = 0.5
)

// fit is the outside diameter of an outer tube over that of the inner one: its bore leaves room for the bushes,
// even at the smallest diameter.
func (r *TubeRules) fit() float64 {
	bore := 1 + 2*slideBushWall
	return math.Max(bore/(1-2*r.WallShare), bore+2*r.MinWallMM/r.MinDiameterMM)
}
