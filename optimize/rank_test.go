package optimize

import (
	"math/rand/v2"
	"testing"
)

// The layers against their definition, on coarse random points, where ties and equal points
// abound: nobody is dominated within a layer, and everybody by someone of the layer before.
func TestLayersFollowTheirDefinition(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	var r ranker // one for all, so that what a sorting leaves behind would show
	for m := 1; m <= 7; m++ {
		for trial := range 120 {
			members := newMembers(1+rng.IntN(200), 1, m, 0)
			for k, x := range members {
				x.number, x.feasible = k, true
				for i := range x.out.F {
					x.out.F[i] = float64(rng.IntN(2 + trial%9))
				}
			}
			layers, count := r.fronts(members), 0
			for k, layer := range layers {
				count += len(layer)
				for _, x := range layer {
					if dominatedByAny(x, layer) || k > 0 && !dominatedByAny(x, layers[k-1]) {
						t.Fatalf("%d objectives: %v in layer %d of %d", m, x.out.F, k, len(layers))
					}
				}
			}
			if count != len(members) {
				t.Fatalf("%d objectives: %d of %d members in layers", m, count, len(members))
			}
		}
	}
}

func dominatedByAny(x *member, layer []*member) bool {
	for _, y := range layer {
		if dominates(y.out.F, x.out.F) {
			return true
		}
	}
	return false
}

// Each point gets the direction with the largest cosine.
func TestDirectionsAreTheNearest(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for m := 2; m <= 6; m++ {
		d := newDirections(m, 200)
		points := randomPoints(rng, 300, m)
		at, off := d.assign(points)
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
			for _, w := range d {
				most = max(most, cosine(w))
			}
			// Tolerances of rounding: the values are of order 1.
			if got := cosine(d[at[i]]); got < most-1e-12 || off[i] < norm-most*most-1e-12 || off[i] > norm-most*most+1e-12 {
				t.Errorf("%d objectives: %v goes to a direction %g along and %g off, best %g along", m, p, got, off[i], most)
			}
		}
	}
}
