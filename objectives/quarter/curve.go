package quarter

import "slices"

// ChordMPerS is the speed of the shaft, in m/s, at which the coefficient of a damper with a curve is read: force over speed.
const ChordMPerS = 0.2

// CurvePoint is the force in N with which a damper resists a speed of its shaft in m/s; compression is positive.
type CurvePoint struct{ SpeedMPerS, ForceN float64 }

// Curve is the shape of a damper's force over the speed of its shaft: a polyline through the origin, straight on beyond its
// ends. Clicks scale its forces.
type Curve struct{ points []CurvePoint }

// NewCurve returns the curve through points whose speeds rise and whose forces do not fall, with at least one on either side of
// the origin. A force must have the sign of its speed; the origin may be left out.
func NewCurve(points []CurvePoint) *Curve {
	all := slices.Clone(points)
	at := slices.IndexFunc(all, func(p CurvePoint) bool { return p.SpeedMPerS >= 0 })
	if all[at].SpeedMPerS > 0 {
		all = slices.Insert(all, at, CurvePoint{})
	}
	return &Curve{all}
}

// Points are those of the polyline, the origin among them.
func (c *Curve) Points() []CurvePoint { return slices.Clone(c.points) }

// Force is the force in N at a speed of the shaft in m/s.
func (c *Curve) Force(speed float64) float64 {
	i, last := 1, len(c.points)-1
	for i < last && speed > c.points[i].SpeedMPerS {
		i++
	}
	a, b := c.points[i-1], c.points[i]
	return a.ForceN + float64((speed-a.SpeedMPerS)*((b.ForceN-a.ForceN)/(b.SpeedMPerS-a.SpeedMPerS)))
}

// Chords are the coefficients of compression and rebound in N·s/m of the curve as it is given: force over speed at
// ChordMPerS.
func (c *Curve) Chords() (compression, rebound float64) {
	return c.Force(ChordMPerS) / ChordMPerS, c.Force(-ChordMPerS) / -ChordMPerS
}

// Adjustment is what the damper of each shock is set to: coefficients of compression and rebound in N·s/m at its shaft; with a
// curve they are its chords at ChordMPerS, to which its forces are scaled.
type Adjustment struct {
	CompressionNS, ReboundNS float64
	Curve                    *Curve // nil: force in proportion to speed
}

// Fitting is the damper on sale with the least misfit, the first of several; nil where none is listed.
func Fitting(sold []Damper, compression, rebound float64) (best *Damper) {
	least := 0.0
	for i := range sold {
		if by := Misfit(&sold[i], compression, rebound); best == nil || by < least {
			best, least = &sold[i], by
		}
	}
	return best
}
