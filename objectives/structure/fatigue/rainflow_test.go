package fatigue

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// byRange adds up counts by range, largest last.
func byRange(cycles []Cycle) (ranges, counts []float64) {
	total := map[float64]float64{}
	for _, c := range cycles {
		total[math.Round((c.LargestMPa-c.SmallestMPa)*1e9)/1e9] += c.Count
	}
	for r := range total {
		ranges = append(ranges, r)
	}
	slices.Sort(ranges)
	for _, r := range ranges {
		counts = append(counts, total[r])
	}
	return ranges, counts
}

// The worked history of ASTM E1049 figure 6: ranges of 3, 4, 6, 8 and 9 count ½, 1½, ½, 1 and ½ (read in copies).
func TestRainflowOfTheStandard(t *testing.T) {
	ranges, counts := byRange(new(Rainflow).Count([]float64{-2, 1, -3, 5, -1, 3, -4, 4, -2}))
	if !slices.Equal(ranges, []float64{3, 4, 6, 8, 9}) || !slices.Equal(counts, []float64{0.5, 1.5, 0.5, 1, 0.5}) {
		t.Errorf("ranges %v count %v", ranges, counts)
	}
}

// The example in the documentation of the Python package rainflow 3.0 (PyPI): a sum of sines sampled 201 times, whose ranges
// and counts were printed there.
func TestRainflowOfAnotherImplementation(t *testing.T) {
	var history []float64
	for i := range 201 {
		at := 4.0 * float64(i) / 200
		history = append(history, 0.2+0.5*math.Sin(at)+0.2*math.Cos(10*at)+0.2*math.Sin(4*at))
	}
	want := [][2]float64{
		{0.04258965150708488, 0.5},
		{0.10973439445727551, 1.0},
		{0.11294628078612906, 0.5},
		{0.2057106991158965, 1.0},
		{0.21467990941625242, 1.0},
		{0.4388985979776988, 1.0},
		{0.48305748051348263, 0.5},
		{0.5286423866535466, 0.5},
		{0.7809330293159786, 0.5},
		{1.4343610172143002, 0.5},
	}
	ranges, counts := byRange(new(Rainflow).Count(history))
	if len(ranges) != len(want) {
		t.Fatalf("ranges %v", ranges)
	}
	for i, w := range want {
		close(t, "range", ranges[i], w[0], 1e-9)
		close(t, "count", counts[i], w[1], 0)
	}
}

// Every turning point opens or closes one range, so halves add up to the number of ranges; the largest range is that of the
// history; samples on the way between turning points change nothing, and neither does the sign of all.
func TestRainflowProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 3))
	for range 200 {
		var turns, dense, mirrored []float64
		for i := range 2 + r.IntN(40) {
			v := math.Abs(r.NormFloat64())
			if i%2 == 1 {
				v = -v
			}
			if i > 0 {
				for k := 1; k < 3; k++ {
					dense = append(dense, turns[i-1]+(v-turns[i-1])*float64(k)/3)
				}
			}
			turns, dense, mirrored = append(turns, v), append(dense, v, v), append(mirrored, -v)
		}
		cycles := slices.Clone(new(Rainflow).Count(turns))
		halves, largest := 0.0, 0.0
		for _, c := range cycles {
			halves += 2 * c.Count
			largest = max(largest, c.LargestMPa-c.SmallestMPa)
		}
		close(t, "half cycles", halves, float64(len(turns)-1), 0)
		close(t, "largest range", largest, slices.Max(turns)-slices.Min(turns), 1e-12)
		if !slices.Equal(cycles, new(Rainflow).Count(dense)) {
			t.Fatalf("more samples of %v change the cycles", turns)
		}
		a, b := byRange(cycles)
		c, d := byRange(new(Rainflow).Count(mirrored))
		if !slices.Equal(a, c) || !slices.Equal(b, d) {
			t.Fatalf("%v mirrored has other ranges", turns)
		}
	}
	if cycles := new(Rainflow).Count([]float64{3, 3, 3}); len(cycles) != 0 {
		t.Errorf("a constant stress has cycles: %v", cycles)
	}
}

// A constant amplitude does the damage of as many equal cycles, and a compressive mean is no better than none.
func TestHistoryDamage(t *testing.T) {
	c := curve(t, "7075-T6", Notch)
	var history []float64
	for range 50 {
		history = append(history, 0, 150)
	}
	history = append(history, 0)
	cycles := slices.Clone(new(Rainflow).Count(history))
	close(t, "pulsating", HistoryDamage(c, 2, 20, cycles), Damage(c, 2, Block{150, 0, 1000}), 1e-12)
	for i := range history {
		history[i] -= 100 // between −100 and 50
	}
	cycles = new(Rainflow).Count(history)
	close(t, "compressive mean", HistoryDamage(c, 2, 20, cycles), Damage(c, 2, Block{75, -1, 1000}), 1e-12)
}

func ExampleRainflow() {
	var r Rainflow
	for _, c := range r.Count([]float64{0, 100, 40, 80, 0}) {
		fmt.Printf("%g to %g MPa: %g\n", c.SmallestMPa, c.LargestMPa, c.Count)
	}
	// Output:
	// 40 to 80 MPa: 1
	// 0 to 100 MPa: 0.5
	// 0 to 100 MPa: 0.5
}
