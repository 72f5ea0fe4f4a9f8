package quarter

import (
	"forkfront/kinematics"
	"forkfront/objectives/ride"
)

// Damper is a damper on sale: the damping coefficients to which its clicks can set it, from soft to firm, each above 0, in
// N·s/m at the shaft of the shock. With a curve they are its chords at ChordMPerS.
type Damper struct {
	Name                 string
	Compression, Rebound ride.Band
	Clicks               [2]int // of compression and rebound, evenly spaced from soft to firm; 0: any setting
	Curve                *Curve // nil: force in proportion to speed
}

// Directions splits a mean damping coefficient into those of compression and rebound, whose ratio is rebound per
// compression.
func Directions[T kinematics.Scalar](mean T, reboundPerCompression float64) (compression, rebound T) {
	q := reboundPerCompression
	return mean * kinematics.Lift[T](2/(1+q)), mean * kinematics.Lift[T](2*q/(1+q))
}

// Misfit is how far coefficients of compression and rebound lie outside those of a damper, in % of the nearer limit; the
// worse of the two counts.
func Misfit[T kinematics.Scalar](d *Damper, compression, rebound T) T {
	a, b := outside(d.Compression, compression), outside(d.Rebound, rebound)
	if kinematics.Real(b) > kinematics.Real(a) {
		return b
	}
	return a
}

func outside[T kinematics.Scalar](of ride.Band, c T) T {
	switch x := kinematics.Real(c); {
	case x < of.Low:
		return 100 - c*kinematics.Lift[T](100/of.Low)
	case x > of.High:
		return c*kinematics.Lift[T](100/of.High) - 100
	}
	return 0
}
