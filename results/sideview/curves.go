package sideview

import "forkfront/objectives"

// Curve is a curve over travel that people are shown.
type Curve struct {
	Of   *objectives.Curve
	Step float64 // a difference in its unit far below what a chart can show
}

// Curves are the curves that people are shown.
func Curves() []Curve {
	var shown []Curve
	for _, want := range []struct {
		name string
		step float64
	}{{"head_angle_deg", 0.001}, {"trail_mm", 0.01}, {"leverage_ratio", 0.0002}, {"anti_dive_pct", 0.01}, {"wheel_force_n", 0.1}} {
		for i := range objectives.Curves {
			if c := &objectives.Curves[i]; c.Name == want.name {
				shown = append(shown, Curve{c, want.step})
			}
		}
	}
	return shown
}

// Band is the range that the band error of the curve is measured from; empty where it has none.
func (c Curve) Band(of *objectives.Conditions) []float64 {
	switch c.Of.Name {
	case "leverage_ratio":
		return []float64{of.Leverage.Low, of.Leverage.High}
	case "anti_dive_pct":
		return []float64{of.AntiDive.Low, of.AntiDive.High}
	}
	return []float64{}
}

// Telescopic reports whether the curve means something for the telescopic fork: its spring moves with the
// axle, so that it has no leverage to speak of.
func (c Curve) Telescopic() bool { return c.Of.Name != "leverage_ratio" }
