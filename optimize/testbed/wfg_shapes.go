package testbed

import "math"

// The transformations of WFG take parameters in 0..1 to values in 0..1, which rounding must
// not leave, hence clip. Their letters are those of the paper.

func clip(v float64) float64 { return min(max(v, 0), 1) }

// shiftLinear is 0 at a and rises in a straight line to 1 at both ends. Within rounding of a
// it is 0 too: there need be no variable that gives a to the last digit, and WFG1 makes 0.48
// of 1e-16.
func shiftLinear(y, a float64) float64 {
	if math.Abs(y-a) < 1e-15 {
		return 0
	}
	return clip(math.Abs(y-a) / math.Abs(math.Floor(a-y)+a))
}

// shiftMulti is 0 at c and has a local valleys, the higher b the shallower.
func shiftMulti(y, a, b, c float64) float64 {
	t := math.Abs(y-c) / math.Abs(2*(math.Floor(c-y)+c))
	return clip((1 + math.Cos((4*a+2)*math.Pi*(0.5-t)) + 4*b*t*t) / (b + 2))
}

// shiftDecept is 0 at a, in a gap of half width b; outside it falls away from it, to c at
// both ends.
func shiftDecept(y, a, b, c float64) float64 {
	below := math.Floor(y-a+b) * (1 - c + (a-b)/b) / (a - b)
	above := math.Floor(a+b-y) * (1 - c + (1-a-b)/b) / (1 - a - b)
	return clip(1 + (math.Abs(y-a)-b)*(below+above+1/b))
}

// biasFlat is a all the way from b to c.
func biasFlat(y, a, b, c float64) float64 {
	return clip(a + min(0, math.Floor(y-b))*a*(b-y)/b - min(0, math.Floor(c-y))*(1-a)*(y-c)/(1-c))
}

// biasBy raises y to a power that u, from 0 to 1, takes from 0.02 over 1 at u = 1/2 to 50.
func biasBy(y, u float64) float64 {
	const a, b, c = 0.98 / 49.98, 0.02, 50
	v := a - (1-2*u)*math.Abs(math.Floor(0.5-u)+a)
	return clip(math.Pow(y, b+(c-b)*v))
}

// mean is the paper's weighted sum with equal weights.
func mean(y []float64) float64 {
	sum := 0.0
	for _, v := range y {
		sum += v
	}
	return sum / float64(len(y))
}

// entangled joins all of y without being separable (the paper's r_nonsep with A = |y|): the
// sum of the values and of all their differences, as a share of the most that it can be.
func entangled(y []float64) float64 {
	sum := 0.0
	for i, v := range y {
		sum += v
		for k, other := range y {
			if k != i {
				sum += math.Abs(v - other)
			}
		}
	}
	a := float64(len(y))
	up := math.Ceil(a / 2)
	return clip(sum / (up * (1 + 2*a - 2*up)))
}
