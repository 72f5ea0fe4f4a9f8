package objectives

import "forkfront/objectives/ride"

// Aim is what an objective wants of its measure.
type Aim int

// Aims of an objective.
const (
	Smallest Aim = iota
	Largest
	Within // a band: the distance outside it counts
)

// Goal is an objective: a measure and what is wanted of it. Beyond Enough values count as equal.
type Goal struct {
	Measure    int // in Measures
	Aim        Aim
	Band       ride.Band
	Enough     *float64
	Resolution float64
}

// Value turns the measure's value into a number to be made small.
func (g *Goal) Value(x float64) float64 {
	v, _ := g.minimised(x)
	return v
}

// Slope is the derivative of Value with the measure: −1, 0 or 1.
func (g *Goal) Slope(x float64) float64 {
	_, d := g.minimised(x)
	return d
}

func (g *Goal) minimised(x float64) (value, slope float64) {
	switch g.Aim {
	case Within:
		switch {
		case x < g.Band.Low:
			return g.Band.Low - x, -1
		case x > g.Band.High:
			return x - g.Band.High, 1
		}
		return 0, 0
	case Largest:
		if g.Enough != nil && x >= *g.Enough {
			return -*g.Enough, 0
		}
		return -x, -1
	}
	if g.Enough != nil && x <= *g.Enough {
		return *g.Enough, 0
	}
	return x, 1
}
