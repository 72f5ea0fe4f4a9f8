package volume

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The sweep, and a look at one point among those that bound it, against the volume by all points, on random points and on coarse ones, where equal points and values abound; and
// what it says a volume depends on: without any other points the volume stays.
func TestContributionsByTheirBounds(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 3))
	for trial := range 200 {
		points := make([][]float64, 1+rng.IntN(60))
		for i := range points {
			points[i] = make([]float64, 3)
			for j := range points[i] {
				points[i][j] = rng.Float64() * 1.2
				if trial%2 == 0 {
					points[i][j] = float64(rng.IntN(8)) / 7
				}
			}
		}
		c := newContributions(points, Reference)
		looked := make([]uint64, len(points))
		known := make([]float64, len(points))
		c.sweep(looked, func(i int, v float64) { known[i] = v })
		for i := range points {
			if i%2 == 0 { // by itself, as after a drop
				c.looked = looked[i : i+1]
				clear(c.looked)
				known[i] = c.again(i)
				c.looked = nil
			}
			if v := c.of(i); math.Abs(v-known[i]) > 1e-12 {
				t.Fatalf("trial %d: point %d of %v adds %g, found %g", trial, i, points, v, known[i])
			}
			var few [][]float64
			for k, p := range points {
				if k == i || looked[i]>>k&1 != 0 {
					few = append(few, p)
					if k == i {
						few[0], few[len(few)-1] = few[len(few)-1], few[0]
					}
				}
			}
			if v := newContributions(few, Reference).of(0); math.Abs(v-known[i]) > 1e-12 {
				t.Fatalf("trial %d: point %d of %v adds %g to those that it depends on, found %g", trial, i, points, v, known[i])
			}
		}
	}
}
