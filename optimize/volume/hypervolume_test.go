package volume

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/optimize/dominance"
	"forkfront/optimize/spacing"
)

// byInclusion is the volume by inclusion–exclusion, exact and slow.
func byInclusion(points [][]float64, ref float64) float64 {
	sum := 0.0
	for set := 1; set < 1<<len(points); set++ {
		part, sign := 1.0, -1.0
		for j := range points[0] {
			corner := math.Inf(-1)
			for i, p := range points {
				if set>>i&1 == 1 {
					corner = max(corner, p[j])
				}
			}
			part *= max(ref-corner, 0)
		}
		for i := range points {
			if set>>i&1 == 1 {
				sign = -sign
			}
		}
		sum += sign * part
	}
	return sum
}

func randomPoints(rng *rand.Rand, n, m int) [][]float64 {
	points := make([][]float64, n)
	for i := range points {
		for range m {
			points[i] = append(points[i], float64(rng.IntN(12))/10) // ties, and some beyond the reference
		}
	}
	return points
}

func fullOf(m int, v float64) []float64 {
	out := make([]float64, m)
	for i := range out {
		out[i] = v
	}
	return out
}

func TestHypervolumeAgainstInclusionExclusion(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for m := 1; m <= 8; m++ {
		for range 40 {
			points := randomPoints(rng, 1+rng.IntN(9), m)
			want := byInclusion(points, 1)
			if got := Hypervolume(points, fullOf(m, 1)); math.Abs(got-want) > 1e-12 {
				t.Fatalf("%d objectives, %v: %g, want %g", m, points, got, want)
			}
		}
	}
}

// What a point adds is the volume with it less the volume without, after any drops.
func TestContributionsStayExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, m := range []int{2, 3} {
		for range 30 {
			points := dominance.Nondominated(randomPoints(rng, 40, m))
			c := newContributions(points, 1.1)
			for len(c.order) > 1 {
				checkContributions(t, c, m)
				c.drop(c.order[rng.IntN(len(c.order))].index)
			}
		}
	}
}

// Points beyond the reference take no volume, and none from others.
func TestContributionsOfOutliers(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 100 {
		points := dominance.Nondominated(randomPoints(rng, 40, 3))
		for _, p := range points[:min(3, len(points))] {
			p[rng.IntN(3)] += 2
		}
		c := newContributions(dominance.Nondominated(points), 1.1)
		for len(c.order) > 1 {
			checkContributions(t, c, 3)
			c.drop(c.order[rng.IntN(len(c.order))].index)
		}
	}
}

func checkContributions(t *testing.T, c *contributions, m int) {
	t.Helper()
	living, index := [][]float64{}, []int{}
	for _, o := range c.order {
		living, index = append(living, c.points[o.index]), append(index, o.index)
	}
	whole := Hypervolume(living, fullOf(m, c.ref))
	for k, i := range index {
		var others [][]float64
		others = append(append(others, living[:k]...), living[k+1:]...)
		want := whole - Hypervolume(others, fullOf(m, c.ref))
		if got := c.of(i); math.Abs(got-want) > 1e-12 {
			t.Fatalf("%d objectives, %d points: contribution %g, want %g", m, len(living), got, want)
		}
	}
}

// Cut drops what a recount of the whole volume at each turn drops.
func TestCutAgainstRecounting(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 20 {
		points := spacing.Normalised(dominance.Nondominated(randomPoints(rng, 60, 3)))
		left := make([]int, len(points))
		for i := range left {
			left[i] = i
		}
		keep := len(left) / 2
		got := Cut(points, keep, false)
		for len(left) > keep {
			worst, most := 0, -1.0
			for k := range left {
				var others [][]float64
				for j, i := range left {
					if j != k {
						others = append(others, points[i])
					}
				}
				if v := Hypervolume(others, fullOf(3, Reference)); v > most {
					worst, most = k, v
				}
			}
			left = slices.Delete(left, worst, worst+1)
		}
		if !slices.Equal(got, left) {
			t.Fatalf("kept %v, want %v", got, left)
		}
	}
}
