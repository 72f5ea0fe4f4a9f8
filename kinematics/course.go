package kinematics

import "math"

// coursePoints is how many points of a course a prediction looks at, at most.
const coursePoints = 3

// course is the latest points that a motion has passed: unknowns and their rates, by travel.
type course struct {
	points int
	travel [coursePoints]float64 // the latest last
	value  [coursePoints][]float64
	rate   [coursePoints][]float64
}

func (c *course) clear() { c.points = 0 }

// add appends a point and forgets the first one where there are too many.
func (c *course) add(travel float64, value, rate []float64) {
	if c.points == coursePoints {
		first, slope := c.value[0], c.rate[0]
		copy(c.travel[:], c.travel[1:])
		copy(c.value[:], c.value[1:])
		copy(c.rate[:], c.rate[1:])
		c.points--
		c.value[c.points], c.rate[c.points] = first, slope
	}
	i := c.points
	c.travel[i] = travel
	c.value[i], c.rate[i] = append(c.value[i][:0], value...), append(c.rate[i][:0], rate...)
	c.points++
}

// predict follows the Hermite polynomial through the points to a travel; with one point, its rate. Points that are much closer
// to each other than the travel is to them tell nothing of it but their rounding.
func (c *course) predict(dst []float64, travel float64) {
	last := c.points - 1
	first, apart := last, math.Abs(travel-c.travel[last])/4
	for first > 0 && math.Abs(c.travel[first]-c.travel[first-1]) >= apart {
		first--
	}
	var value, rate [coursePoints]float64
	hermite(c.travel[first:c.points], travel, value[first:], rate[first:])
	clear(dst)
	for k := first; k < c.points; k++ {
		of, slope := c.value[k], c.rate[k]
		for i := range dst {
			dst[i] += value[k]*of[i] + rate[k]*slope[i]
		}
	}
}
