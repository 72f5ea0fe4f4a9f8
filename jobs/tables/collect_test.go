package tables

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"testing"

	"forkfront/optimize/dominance"
)

// The front of a bike by definition: the candidates that no other dominates, equal ones all of them. Coarse random
// objectives have many ties.
func TestTheFrontOfABikeFollowsItsDefinition(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	alike := 0
	for trial := range 300 {
		points := make([][]float64, 1+r.IntN(150))
		var front frontOfBike
		for k := range points {
			points[k] = make([]float64, 1+trial%6)
			for i := range points[k] {
				points[k][i] = float64(r.IntN(2 + trial%9))
			}
			front.add(candidateKey{k / 10, k}, points[k])
		}
		got, want := map[candidateKey]bool{}, map[candidateKey]bool{}
		for _, held := range front.held {
			for _, c := range held {
				got[c] = true
			}
			if len(held) > 1 {
				alike++
			}
		}
		for k, p := range points {
			dominated := false
			for _, q := range points {
				dominated = dominated || dominance.Dominates(q, p)
			}
			if !dominated {
				want[candidateKey{k / 10, k}] = true
			}
		}
		if !maps.Equal(got, want) {
			t.Fatalf("%d points of %d objectives: got %v, want %v", len(points), len(points[0]), got, want)
		}
	}
	if alike == 0 {
		t.Error("no candidates were alike")
	}
}

// The candidates of a sweep in six objectives, of which one in some ten stays: time per candidate over the size of the
// sweep shows how finishing grows.
func BenchmarkFrontOfBike(b *testing.B) {
	for _, cases := range []int{1000, 3000, 10000} {
		b.Run(fmt.Sprint(cases), func(b *testing.B) {
			const each = 10
			r := rand.New(rand.NewPCG(3, 3))
			points := make([][]float64, each*cases)
			for k := range points {
				points[k] = make([]float64, 6)
				for i := range points[k] {
					points[k][i] = r.ExpFloat64()
				}
			}
			for b.Loop() {
				var front frontOfBike
				for k, p := range points {
					front.add(candidateKey{k / each, k}, p)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(points)), "ns/candidate")
		})
	}
}
