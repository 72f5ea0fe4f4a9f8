package testbed

import (
	"math"
	"slices"

	"forkfront/optimize/volume"
)

// curve is the normalised volume of a front in two objectives given as a dense curve of
// points, most of it non-dominated: the first objective ascends.
func curve(ideal, nadir []float64, n int, at func(t float64) (f1, f2 float64)) float64 {
	return normalised(sampled(n, at), ideal, nadir)
}

// along sets the ideal, nadir and volume of a front in two objectives from a dense curve
// that holds it. What the curve has beyond the front is dominated, or NaN where the curve is
// out of reach. The steps between the points make the volume too small by at most some 1/n.
func (p *Problem) along(n int, at func(t float64) (f1, f2 float64)) *Problem {
	front := undominated(sampled(n, at))
	first, last := front[0], front[len(front)-1]
	p.Ideal, p.Nadir = []float64{first[0], last[1]}, []float64{last[0], first[1]}
	p.Volume = normalised(front, p.Ideal, p.Nadir)
	return p
}

// sampled returns a curve at t = 0, 1/n, …, 1.
func sampled(n int, at func(t float64) (f1, f2 float64)) [][]float64 {
	points := make([][]float64, n+1)
	for i := range points {
		f1, f2 := at(float64(i) / float64(n))
		points[i] = []float64{f1, f2}
	}
	return points
}

// undominated returns the non-dominated among points in two objectives, the first of them
// ascending; points with NaN are left out.
func undominated(points [][]float64) [][]float64 {
	points = slices.DeleteFunc(points, func(f []float64) bool { return math.IsNaN(f[0] + f[1]) })
	slices.SortFunc(points, slices.Compare[[]float64])
	front, least := points[:0], math.Inf(1)
	for _, f := range points {
		if f[1] < least {
			front, least = append(front, f), f[1]
		}
	}
	return front
}

// normalised is the volume that points dominate below 1.1 in each objective, where ideal is
// 0 and nadir 1.
func normalised(points [][]float64, ideal, nadir []float64) float64 {
	scaled := make([][]float64, len(points))
	for i, point := range points {
		for j, f := range point {
			scaled[i] = append(scaled[i], (f-ideal[j])/(nadir[j]-ideal[j]))
		}
	}
	return volume.Hypervolume(scaled, fill(len(ideal), 1.1))
}
