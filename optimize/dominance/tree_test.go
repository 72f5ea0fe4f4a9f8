package dominance

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The tree against a look at all points, as these come and go: on fine and coarse values, with far ones, and in more columns than are
// packed.
func TestTreeAgreesWithALookAtAll(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 1))
	relations := map[Relation]int{}
	beatenMost := 0
	for trial := range 80 {
		m := 1 + trial%18
		var tree Tree
		var all [][]float64
		for step := range 400 {
			p := make([]float64, m)
			for j := range p {
				p[j] = rng.Float64()
				switch {
				case trial%3 == 0:
					p[j] = math.Floor(5 * p[j])
				case rng.IntN(30) == 0:
					p[j] *= 1e9
				}
			}
			if m > 1 && trial%2 == 0 { // many on one front
				p[0] = float64(m) - sum(p[1:])
			}
			at, found, beaten := tree.Compare(p)
			beaten = slices.Sorted(slices.Values(beaten))
			relations[found]++
			beatenMost = max(beatenMost, len(beaten))
			var want []int
			better := false
			for i, q := range all {
				switch Compare(p, q) {
				case Better:
					want = append(want, i)
				case Worse, Equal:
					better = true
				}
			}
			switch {
			case better != (found != Neither), found != Neither && Compare(p, all[at]) != found:
				t.Fatalf("%d columns: %v among %v is %v of %d", m, p, all, found, at)
			case found != Neither:
				continue
			case !slices.Equal(beaten, want):
				t.Fatalf("%d columns: %v beats %v, should be %v", m, p, beaten, want)
			}
			for _, i := range slices.Backward(beaten) {
				tree.Remove(i)
				all[i] = all[len(all)-1]
				all = all[:len(all)-1]
			}
			tree.Add(p)
			all = append(all, p)
			if step == 200 {
				tree.Load(slices.Concat(all...), m)
			}
		}
	}
	if relations[Equal] < 100 || relations[Worse] < 1000 || relations[Neither] < 1000 || beatenMost < 5 {
		t.Errorf("hardly anything tried: %v, at most %d beaten", relations, beatenMost)
	}
}

func sum(values []float64) float64 {
	s := 0.0
	for _, v := range values {
		s += v
	}
	return s
}

// The point that is the least above a place, by the column in which it is most, against a look at all points.
func TestBelowFindsTheNearest(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 2))
	looked, held := 0, 0
	for trial := range 40 {
		m := 1 + trial%7
		var tree Tree
		var all []float64
		for range 1000 * m {
			all = append(all, math.Floor(1000*rng.Float64())/1000)
		}
		tree.Load(slices.Clone(all), m)
		place, limit := make([]float64, m), make([]float64, m)
		for j := range place {
			place[j], limit[j] = rng.Float64(), math.Inf(1)
		}
		above := func(at int) float64 {
			most := math.Inf(-1)
			for j, v := range all[at*m : (at+1)*m] {
				most = max(most, v-place[j])
			}
			return most
		}
		want, got := math.Inf(1), math.Inf(1)
		for at := range 1000 {
			want = min(want, above(at))
		}
		tree.Below(limit, func(at int) bool {
			looked++
			if above(at) >= got {
				return false
			}
			got = above(at)
			for j, v := range place {
				limit[j] = v + got
			}
			return true
		})
		held += 1000
		if got != want {
			t.Fatalf("%d columns: the nearest is %g above %v, want %g", m, got, place, want)
		}
	}
	if looked > held/10 {
		t.Errorf("%d of %d points were looked at", looked, held)
	}
}
