package structure

import "forkfront/objectives/structure/loads"

// sizingCase is a load case that tubes and pivots are sized for, and stands for all whose forces are its own times a factor: of
// these it is the one with the largest forces, which decides buckling and pivots.
type sizingCase struct {
	*loads.Case
	severity float64     // factor on its stresses: the largest that any of them asks for
	hardest  *loads.Case // and which that is
}

// sizingCases are the cases to size for, where each load case has a severity.
func (r *Rules) sizingCases(dst []sizingCase, severities []float64) []sizingCase {
	for i := range r.Cases {
		c := &r.Cases[i]
		mine := sizingCase{c, severities[i], c}
		joined := false
		for k := range dst {
			other := &dst[k]
			by := c.Over(other.Case)
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
