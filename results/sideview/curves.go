package sideview

import "forkfront/objectives"

// Curve is a curve over travel that people are shown.
type Curve struct{ Of *objectives.Curve }

// Curves are the curves that people are shown.
func Curves() []Curve {
	var shown []Curve
	for i := range objectives.Curves {
		if c := &objectives.Curves[i]; c.Step > 0 {
			shown = append(shown, Curve{c})
		}
	}
	return shown
}

// Band is the range that the band error of the curve is measured from; empty where it has none.
func (c Curve) Band(of *objectives.Conditions) []float64 {
	if c.Of.Wanted == nil {
		return []float64{}
	}
	band := c.Of.Wanted(&of.Setting)
	return []float64{band.Low, band.High}
}

// Telescopic reports whether the curve means something for the telescopic fork.
func (c Curve) Telescopic() bool { return !c.Of.OfLinkage }
