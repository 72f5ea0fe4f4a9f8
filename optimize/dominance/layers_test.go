package dominance

import (
	"math/rand/v2"
	"testing"
)

// The layers against their definition, on coarse random points, where ties and equal points
// abound: nobody is dominated within a layer, and everybody by someone of the layer before.
func TestLayersFollowTheirDefinition(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	var r Sorter // one for all, so that what a sorting leaves behind would show
	for m := 1; m <= 7; m++ {
		for trial := range 120 {
			most := 200
			if trial%10 == 9 {
				most = 2 * pairsMost
			}
			points := make([][]float64, 1+rng.IntN(most))
			for k := range points {
				points[k] = make([]float64, m)
				for i := range points[k] {
					points[k][i] = float64(rng.IntN(2 + trial%9))
				}
			}
			layers, count := r.Layers(points), 0
			for k, layer := range layers {
				count += len(layer)
				for _, x := range layer {
					if dominatedByAny(x, layer, points) || k > 0 && !dominatedByAny(x, layers[k-1], points) {
						t.Fatalf("%d objectives: %v in layer %d of %d", m, points[x], k, len(layers))
					}
				}
			}
			if count != len(points) {
				t.Fatalf("%d objectives: %d of %d points in layers", m, count, len(points))
			}
		}
	}
}

func dominatedByAny(x int, layer []int, points [][]float64) bool {
	for _, y := range layer {
		if Dominates(points[y], points[x]) {
			return true
		}
	}
	return false
}
