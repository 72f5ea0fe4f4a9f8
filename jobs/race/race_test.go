package race_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/jobs/race"
)

// Worked out by hand: 26 cases of 16,000 are 416,000; 13 of them double for 208,000, 8 double for 256,000; what is then left of
// 1,200,000, 320,000, is 40,000 for each of the eight, which are the last, so that they take it all at once.
func TestRoundsByHand(t *testing.T) {
	for _, x := range []struct {
		cases, first, total, finalists int
		want                           []race.Round
	}{
		{26, 16000, 1_200_000, 8, []race.Round{{26, 16000}, {13, 32000}, {8, 104000}}},
		{11, 16000, 440_000, 8, []race.Round{{11, 16000}, {8, 49000}}},
		{8, 16000, 400_000, 8, []race.Round{{8, 50000}}},
		{40, 100, 4000, 2, []race.Round{{40, 100}}},
		{40, 100, 3999, 2, nil},
		{40, 100, 5000, 10, []race.Round{{40, 100}, {20, 150}}},            // 1000 left: half a round
		{40, 100, 7999, 10, []race.Round{{40, 100}, {20, 299}}},            // 3999 left: one round and not quite a second
		{40, 100, 8000, 10, []race.Round{{40, 100}, {20, 200}, {10, 400}}}, // exactly two
		{40, 100, 7999, 8, []race.Round{{40, 100}, {14, 200}, {8, 524}}},   // halving would end with 20; a third is 14, for 1400, and 2599 are left for 8
		{40, 100, 5000, 2, []race.Round{{40, 100}, {7, 242}}},              // halving would end with 20, a third with 14, …; a sixth is 7
		{3, 10, 1000, 1, []race.Round{{3, 10}, {2, 20}, {1, 970}}},         // an odd number rounds up
		{1, 10, 1000, 1, []race.Round{{1, 1000}}},
		{0, 10, 1000, 1, nil},
	} {
		if got := race.Rounds(x.cases, x.first, x.total, x.finalists); !slices.Equal(got, x.want) {
			t.Errorf("%d cases, %d of %d, %d finalists: %v, want %v", x.cases, x.first, x.total, x.finalists, got, x.want)
		}
	}
}

// Whatever a race is given, it never spends more than its total and leaves less than one evaluation a finalist unspent, unless
// nobody is left to spend it; evaluations double, and by how much cases are divided is the same in all rounds, and more than two only
// where halving ends with more than twice the finalists.
func TestRoundsSpendTheTotal(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		cases, first, finalists := 1+rng.IntN(300), 1+rng.IntN(20000), 1+rng.IntN(12)
		total := cases*first + rng.IntN(cases*first*6)
		rounds := race.Rounds(cases, first, total, finalists)
		last := rounds[len(rounds)-1]
		if spent := race.Evaluations(rounds); spent > total || total-spent >= max(last.Cases, race.Kept(last.Cases, 2, finalists)) {
			t.Fatalf("%d cases, %d of %d, %d finalists: %v spend %d", cases, first, total, finalists, rounds, spent)
		}
		oneIn := 2 // as the second round shows
		for len(rounds) > 1 && oneIn < 6 && rounds[1].Cases < race.Kept(cases, oneIn, finalists) {
			oneIn++
		}
		for i, r := range rounds[1:] {
			before := rounds[i]
			whole := r.Until == 2*before.Until
			if r.Cases != race.Kept(before.Cases, oneIn, finalists) || r.Until <= before.Until || !whole && i+2 < len(rounds) {
				t.Fatalf("%d cases, %d of %d, %d finalists: %v", cases, first, total, finalists, rounds)
			}
		}
	}
}

// entries are random ones, among them equal ones, some without anything feasible.
func entries(rng *rand.Rand, n int) []race.Entry {
	all := make([]race.Entry, n)
	for i := range all {
		all[i].Case = fmt.Sprintf("case %02d", i)
		switch rng.IntN(4) {
		case 0:
			all[i].Violation = float64(1 + rng.IntN(3))
		case 1:
			if i > 0 && all[i-1].Cover != nil {
				all[i].Cover = slices.Clone(all[i-1].Cover)
				continue
			}
			fallthrough
		default:
			all[i].Cover = race.Cover{rng.Uint64() & rng.Uint64() & rng.Uint64(), rng.Uint64() & rng.Uint64()}
		}
	}
	return all
}

func names(of []race.Entry, all []race.Place) (list []string) {
	for _, p := range all {
		list = append(list, fmt.Sprintln(of[p.Entry].Case, p.Adds, p.Own, p.Coverer, p.Coverers, p.Kept))
	}
	return list
}

// Standings depend on the entries, not on their order; they are greedy, and nothing infeasible stands before anything feasible.
func TestStandings(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 500 {
		n := 1 + rng.IntN(20)
		all := entries(rng, n)
		kept := race.Kept(n, 2, 1+rng.IntN(5))
		places := race.Standings(all, kept)
		shuffled := slices.Clone(all)
		rng.Shuffle(n, func(i, k int) { shuffled[i], shuffled[k] = shuffled[k], shuffled[i] })
		if a, b := names(all, places), names(shuffled, race.Standings(shuffled, kept)); !slices.Equal(a, b) {
			t.Fatalf("%v in another order became %v", a, b)
		}
		sum := 0
		for i, p := range places {
			sum += p.Adds
			if p.Kept != (i < kept) {
				t.Fatalf("place %d of %d kept: %t", i, kept, p.Kept)
			}
			if i == 0 {
				continue
			}
			before := places[i-1]
			a, b := all[before.Entry], all[p.Entry]
			if p.Adds > before.Adds || a.Cover == nil && (b.Cover != nil || a.Violation > b.Violation) {
				t.Fatalf("%v", names(all, places))
			}
		}
		if sum != together(all) {
			t.Fatalf("they add %d and cover %d together", sum, together(all))
		}
	}
}

// The greedy choice covers at least 1 − 1/e of what the best choice of as many covers (Nemhauser, Wolsey and Fisher 1978), found
// here by trying all.
func TestTheChoiceIsNearTheBest(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 100 {
		const n, kept = 9, 3
		all := entries(rng, n)
		var chosen []race.Entry
		for _, p := range race.Standings(all, kept)[:kept] {
			chosen = append(chosen, all[p.Entry])
		}
		best := 0
		for set := range 1 << n {
			var some []race.Entry
			for i := range n {
				if set>>i&1 == 1 {
					some = append(some, all[i])
				}
			}
			if len(some) == kept {
				best = max(best, together(some))
			}
		}
		if got := together(chosen); float64(got) < (1-1/math.E)*float64(best) {
			t.Fatalf("covers %d; the best choice covers %d", got, best)
		}
	}
}

// One case with a feasible front among 100 that never have one is first in every round down to the last, wherever it is listed and
// whatever it is called, and the least violated go with it.
func TestAPlantedCaseReachesTheLastRound(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 50 {
		at := rng.IntN(101)
		field := make([]race.Entry, 101)
		for i := range field {
			field[i] = race.Entry{Case: fmt.Sprintf("%03d", rng.IntN(1000)*1000+i), Violation: rng.Float64()}
		}
		planted := field[at].Case
		field[at].Cover, field[at].Violation = race.NewBox([][][]float64{{{1, 2}}}, 1).Covered([][]float64{{1, 2}}), 0
		for _, r := range race.Rounds(101, 16000, 10_000_000, 8)[1:] {
			places := race.Standings(field, r.Cases)
			if field[places[0].Entry].Case != planted {
				t.Fatalf("%s is first, not %s", field[places[0].Entry].Case, planted)
			}
			var left []race.Entry
			least := math.Inf(1)
			for _, p := range places {
				if p.Kept {
					left = append(left, field[p.Entry])
				} else {
					least = min(least, field[p.Entry].Violation)
				}
			}
			for _, e := range left {
				if e.Violation > least {
					t.Fatalf("%g goes on and %g does not", e.Violation, least)
				}
			}
			field = left
		}
		if len(field) != 8 {
			t.Fatalf("%d cases in the last round", len(field))
		}
	}
}

// The box reaches from the best values to the 95 % quantile by nearest rank, here 0 to 95 of 0 to 100 (101 values: the 96th), and
// points in it cover products of the distances to its far end, within four standard deviations for that number of samples.
func TestTheBoxAndWhatPointsCover(t *testing.T) {
	var front [][]float64
	for i := range 101 {
		front = append(front, []float64{float64(i), 2 * float64(100-i), 7})
	}
	box := race.NewBox([][][]float64{front[:50], nil, front[50:]}, 9)
	for _, x := range []struct {
		point []float64
		want  float64
	}{
		{[]float64{0, 0, 7}, 1},
		{[]float64{-5, -5, 3}, 1},
		{[]float64{95, 0, 7}, 0},
		{[]float64{0, 191, 7}, 0},
		{[]float64{0, 0, 8}, 0}, // the objective in which all agree
		{[]float64{47.5, 0, 7}, 0.5},
		{[]float64{47.5, 95, 7}, 0.25},
		{[]float64{19, 152, 7}, 0.16},
	} {
		got := float64(box.Covered([][]float64{x.point}).Count()) / race.Samples
		if d := 4 * math.Sqrt(x.want*(1-x.want)/race.Samples); math.Abs(got-x.want) > d {
			t.Errorf("%v covers %g, want %g ± %g", x.point, got, x.want, d)
		}
	}
	if race.NewBox([][][]float64{nil, {}}, 1) != nil {
		t.Error("a box of nothing")
	}
}

// Gains by hand. Of A: seed 1 of B and C covers the points 0 to 3, to which A adds 4 and 5, and seed 2 of C point 4; seed 2 of
// both covers 1 and 4, to which A adds 5, and seed 1 of B the points 0, 2 and 3.
func TestGains(t *testing.T) {
	all := []race.Runner{
		{"A", 1, race.Cover{0b110001}},
		{"B", 1, race.Cover{0b001101}},
		{"C", 1, race.Cover{0b000011}},
		{"A", 2, race.Cover{0b100000}},
		{"B", 2, nil},
		{"C", 2, race.Cover{0b010010}},
	}
	want := []race.Gain{
		{Linkage: "A", Own: 3, Adds: 1, Others: 5, Seeded: true, BySeed: (2./4 + 1./2) / 2, Control: (1./4 + 3./2) / 2},
		{Linkage: "B", Own: 3, Adds: 2, Others: 4, Seeded: true, BySeed: (2./4 + 0./3) / 2, Control: (0./4 + 1./3) / 2},
		{Linkage: "C", Own: 3, Adds: 1, Others: 5, Seeded: true, BySeed: (1./5 + 2./1) / 2, Control: (0./5 + 3./1) / 2},
	}
	if got := race.Gains(all); !slices.Equal(got, want) {
		t.Errorf("%+v\nwant %+v", got, want)
	}
}

// together is how many sample points some entries cover together.
func together(entries []race.Entry) int {
	var all race.Cover
	for _, e := range entries {
		switch {
		case e.Cover == nil:
		case all == nil:
			all = slices.Clone(e.Cover)
		default:
			all.Or(e.Cover)
		}
	}
	return all.Count()
}
