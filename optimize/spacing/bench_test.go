package spacing

import (
	"math/rand/v2"
	"testing"
)

func BenchmarkSpread(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, m := range []int{3, 6} {
		b.Run(string(rune('0'+m)), func(b *testing.B) {
			points := make([][]float64, 5000)
			for i := range points {
				points[i] = make([]float64, m)
				for j := range points[i] {
					points[i][j] = rng.NormFloat64()
				}
			}
			for b.Loop() {
				Spread(points, 2500)
			}
		})
	}
}
