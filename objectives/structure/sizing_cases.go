package structure

import "math"

// sizingCase is a load case that tubes and pivots are sized for, and stands for all whose forces are its own times a factor: of
// these it is the one with the largest forces, which decides buckling and pivots.
type sizingCase struct {
	*LoadCase
	severity float64   // factor on its stresses: the largest that any of them asks for
	hardest  *LoadCase // and which that is
}

// sizingCases are the cases to size for, where each load case has a severity.
func (r *Rules) sizingCases(dst []sizingCase, severities []float64) []sizingCase {
	for i := range r.Cases {
		c := &r.Cases[i]
		mine := sizingCase{c, severities[i], c}
		joined := false
		for k := range dst {
			other := &dst[k]
			by := c.over(other.LoadCase)
			if by <= 0 {
				continue
			}
			// Forces are by times those of the other one.
			if by > 1 {
				mine, *other = *other, mine
				by = 1 / by
			}
			if hard := mine.severity * by; hard > other.severity {
				other.severity, other.hardest = hard, mine.hardest
			}
			joined = true
			break
		}
		if !joined {
			dst = append(dst, mine)
		}
	}
	return dst
}

// over is by which factor the forces of a load case are those of another one on any fork; 0 where that is not so, or not known.
func (l *LoadCase) over(other *LoadCase) float64 {
	mine, ok := l.given()
	theirs, too := other.given()
	if !ok || !too || l.At != other.At {
		return 0
	}
	dot, square, own := 0.0, 0.0, 0.0
	for i, x := range mine {
		dot += x * theirs[i]
		square += theirs[i] * theirs[i]
		own += x * x
	}
	if by := dot / square; by > 0 && math.Abs(dot*dot-square*own) <= 1e-14*square*own {
		return by
	}
	return 0
}

// given are the forces in N of a load case that are the same on any fork: rearward, along, and what a brake holds by its arm, or by
// the wheel's radius. It is false where there are others.
func (l *LoadCase) given() (forces [4]float64, ok bool) {
	t := l.Test
	if t == nil {
		return [4]float64{l.RearwardN}, l.RearwardN != 0 && l.VerticalStatic == 0 && l.TyreFriction == 0 && l.SideStatic == 0
	}
	forces = [4]float64{t.RearwardN, t.AlongN}
	switch {
	case t.Braked && t.BrakeArmMM == 0:
		forces[3] = t.RearwardN
	case t.Braked:
		forces[2] = t.RearwardN * t.BrakeArmMM
	}
	return forces, true
}
