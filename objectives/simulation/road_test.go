package simulation

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The contact against trying all segments, on rough roads and over bumps, wherever the wheel touches.
func TestContactIsWithTheNearestPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	met := 0
	for _, road := range []*Road{Rough('F', 0.5, 20, 1), Rough('C', 0.5, 20, 2), Trapezoid(10, 0.06, 0.02, 0.1), level} {
		on := wheelOn{road: road}
		for range 3000 {
			x := 20 * r.Float64()
			on.radius = 0.15 + 0.4*r.Float64()
			bottom := 0.0
			for i := range road.x {
				if math.Abs(road.x[i]-x) < on.radius {
					bottom = math.Max(bottom, road.z[i])
				}
			}
			z := bottom + on.radius*(0.8+0.25*r.Float64())
			got := on.meet(x, z)
			depth, nx, nz := bruteForce(road, x, z, on.radius)
			if depth <= 0 && got.depth <= 0 {
				continue
			}
			met++
			if math.Abs(got.depth-depth) > 1e-12 || math.Hypot(got.nx-nx, got.nz-nz) > 1e-7 {
				t.Fatalf("at %g, %g: %+v, want %g %g %g", x, z, got, depth, nx, nz)
			}
		}
	}
	if met < 5000 {
		t.Errorf("only %d contacts", met)
	}
}

// SplitMix64 from state 1234567 begins with these numbers (the sequence that is commonly used to check implementations).
func TestSplitMix64(t *testing.T) {
	state := uint64(1234567)
	for _, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423} {
		if got := splitMix(&state); got != float64(want>>11)/(1<<53) {
			t.Errorf("%v, want %v", got, float64(want>>11)/(1<<53))
		}
	}
}

// The variance of a rough road in its bands is the integral of its spectral density G n0²/n² (ISO 8608, waviness 2):
// G n0² (1/0.05 − 1/5). A class doubles the heights of the one before. The mean over seeds is within its spread.
func TestRoughRoadHasTheVarianceOfItsClass(t *testing.T) {
	want := 256e-6 * 0.01 * (1/0.05 - 1/5.0)
	sum, n := 0.0, 0.0
	for seed := range uint64(20) {
		road, rougher := Rough('C', 0, 400, seed), Rough('D', 0, 400, seed)
		for i := range road.x[1 : len(road.x)-1] {
			if x := road.x[i+1]; x > roughEaseM {
				sum, n = sum+road.z[i+1]*road.z[i+1], n+1
			}
			if math.Abs(rougher.z[i+1]-2*road.z[i+1]) > 1e-12 {
				t.Fatal("class D is not twice class C")
			}
		}
	}
	if got := sum / n; math.Abs(got/want-1) > 0.1 { // 8 km, most of the variance in waves of up to 20 m
		t.Errorf("variance %g m², want %g", got, want)
	}
}

// A road written out by its definition, one cosine at a time.
func TestRoughRoadByItsDefinition(t *testing.T) {
	road := Rough('B', 0.5, 30, 3)
	state := uint64(3)
	var phase [96]float64
	for i := range phase {
		phase[i] = 2 * math.Pi * splitMix(&state)
	}
	for k := 250; k < 3000; k += 100 {
		x, z := 0.01*float64(k), 0.0
		for i := range phase {
			low, high := 0.05*math.Pow(100, float64(i)/96), 0.05*math.Pow(100, float64(i+1)/96)
			z += math.Sqrt(2*64e-6*0.01*(1/low-1/high)) * math.Cos(2*math.Pi*math.Sqrt(low*high)*x+phase[i])
		}
		if math.Abs(road.x[k+1]-0.5-x) > 1e-9 || math.Abs(road.z[k+1]-z) > 1e-9 {
			t.Fatalf("at %g m: %g, %g, want %g", x, road.x[k+1]-0.5, road.z[k+1], z)
		}
	}
}
