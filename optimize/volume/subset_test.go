package volume

import (
	"math"
	"testing"
)

// The most that 100 points can have of BNH's front, from 40,001 of the exact curve: f1 = 8x², f2 = 2(x−5)²
// up to x = 3, then f1 = 4x² + 36, f2 = (x−5)² + 4. The volume is 1.21 less the integral of f2 over f1, both
// normalised, 1154.667/6256, integrated by hand. A share above it in a table speaks of another volume.
func TestBestHypervolumeOfAHundredPointsOnBNH(t *testing.T) {
	const n = 40000
	points := make([][]float64, n+1)
	for i := range points {
		x := 5 * float64(i) / n
		y := min(x, 3)
		points[i] = []float64{4 * (x*x + y*y) / 136, ((x-5)*(x-5) + (y-5)*(y-5) - 4) / 46}
	}
	var best [][]float64
	for _, i := range BestSubset(points, 100) {
		best = append(best, points[i])
	}
	const whole = 1.21 - (1080+224.0/3)/6256
	share := Hypervolume(best, []float64{1.1, 1.1}) / whole
	if math.Abs(share-0.99674) > 1e-6 {
		t.Errorf("%.6f", share)
	}
}
