package spacing

import (
	"math/rand/v2"
	"testing"
)

// Each point gets the direction with the largest cosine.
func TestDirectionsAreTheNearest(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for m := 2; m <= 6; m++ {
		d := NewDirections(m, 200)
		points := make([][]float64, 300)
		for i := range points {
			for range m {
				points[i] = append(points[i], float64(rng.IntN(12))/10) // ties in plenty
			}
		}
		at, off := d.assign(points, len(d.vectors))
		for i, p := range points {
			norm, most := 0.0, 0.0
			for _, v := range p {
				norm += v * v
			}
			cosine := func(w []float64) float64 {
				dot := 0.0
				for j, v := range p {
					dot += v * w[j]
				}
				return dot
			}
			for _, w := range d.vectors {
				most = max(most, cosine(w))
			}
			// Tolerances of rounding: the values are of order 1.
			if got := cosine(d.vectors[at[i]]); got < most-1e-12 || off[i] < norm-most*most-1e-12 || off[i] > norm-most*most+1e-12 {
				t.Errorf("%d objectives: %v goes to a direction %g along and %g off, best %g along", m, p, got, off[i], most)
			}
		}
	}
}
