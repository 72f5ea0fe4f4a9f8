package volume

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Sets against the definition, value by value, at places between the samples and at their own.
func TestSamplesDominated(t *testing.T) {
	const n, columns = 100, 4
	rng := rand.New(rand.NewPCG(1, 2))
	s := NewSamples(n, columns, -0.5, 1.1, rand.New(rand.NewPCG(3, 4)))
	drawn := rand.New(rand.NewPCG(3, 4))
	places := make([][]float64, n)
	for k := range places {
		places[k] = make([]float64, columns)
		for j := range places[k] {
			places[k][j] = -0.5 + 1.6*drawn.Float64()
		}
	}
	for range 500 {
		p := make([]float64, columns)
		for j := range p {
			if p[j] = places[rng.IntN(n)][j]; rng.IntN(2) == 0 {
				p[j] = -0.8 + 2*rng.Float64()
			}
		}
		got := s.None()
		got[0] = rng.Uint64() // what was there does not count
		s.Dominated(got, p)
		for k, place := range places {
			if is := got[k/64]>>(k%64)&1 == 1; is != below(p, place) {
				t.Fatalf("%v dominates %v: %t, want %t", p, place, is, !is)
			}
		}
		left, scratch := s.None(), s.None()
		for w := range left {
			left[w] = rng.Uint64()
		}
		before := slices.Clone(left)
		s.Strike(left, scratch, p)
		for w := range left {
			if want := before[w] &^ got[w]; left[w] != want {
				t.Fatalf("%v leaves %x of %x, want %x", p, left[w], before[w], want)
			}
		}
		if CountBits(got) > n {
			t.Fatalf("%d of %d places dominated", CountBits(got), n)
		}
	}
}

func below(p, place []float64) bool {
	for j, v := range p {
		if v > place[j] {
			return false
		}
	}
	return true
}

// Every pass of exchange against one that recounts what each choice would cover.
func TestExchangeAgainstRecounting(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	points := make([][]float64, 60)
	for i := range points {
		p := make([]float64, 4)
		norm := 0.0
		for j := range p {
			p[j] = rng.Float64()
			norm += p[j] * p[j]
		}
		for j := range p {
			p[j] /= math.Sqrt(norm)
		}
		points[i] = p
	}
	c := NewCoverage(points, rand.New(rand.NewPCG(7, 8)), func(n int, do func(from, to int)) { do(0, n/2); do(n/2, n) })
	covers := func(chosen []int) int {
		all := make([]uint64, len(c.covered))
		for _, i := range chosen {
			for w, set := range c.sets[i] {
				all[w] |= set
			}
		}
		return CountBits(all)
	}
	chosen := c.Greedy(12)
	passes := 0
	for ; ; passes++ {
		want := slices.Clone(chosen)
		for k, was := range want {
			best, most := was, covers(want)
			for i := range points {
				if want[k] = i; covers(want) > most {
					best, most = i, covers(want)
				}
			}
			want[k] = best
		}
		changed := c.Exchange(chosen)
		if !slices.Equal(chosen, want) {
			t.Fatalf("pass %d chose %v, want %v", passes, chosen, want)
		}
		if !changed {
			break
		}
	}
	if passes == 0 {
		t.Fatal("greedy left nothing to exchange: the check is idle")
	}
}
