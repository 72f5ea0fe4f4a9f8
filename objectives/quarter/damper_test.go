package quarter

import (
	"math"
	"testing"

	"forkfront/objectives/ride"
)

// Compression and rebound have the wanted mean and ratio.
func TestDirectionsHaveMeanAndRatio(t *testing.T) {
	for _, q := range []float64{0.5, 1, 2, 3} {
		compression, rebound := Directions(900.0, q)
		if math.Abs((compression+rebound)/2-900) > 1e-9 || math.Abs(rebound/compression-q) > 1e-12 {
			t.Errorf("ratio %g: %g and %g", q, compression, rebound)
		}
	}
}

// By hand: 600 and 1200 N·s/m in dampers of several ranges.
func TestMisfitIsToTheNearerLimit(t *testing.T) {
	for _, x := range []struct {
		compression, rebound ride.Band
		want                 float64
	}{
		{ride.Band{Low: 500, High: 700}, ride.Band{Low: 1000, High: 1500}, 0},
		{ride.Band{Low: 600, High: 700}, ride.Band{Low: 1000, High: 1200}, 0}, // both ends count as inside
		{ride.Band{Low: 300, High: 500}, ride.Band{Low: 1000, High: 1500}, 20},
		{ride.Band{Low: 500, High: 700}, ride.Band{Low: 1600, High: 2000}, 25},
		{ride.Band{Low: 800, High: 900}, ride.Band{Low: 600, High: 800}, 50}, // the worse of 25 and 50
	} {
		d := Damper{Compression: x.compression, Rebound: x.rebound}
		if got := Misfit(&d, 600.0, 1200.0); math.Abs(got-x.want) > 1e-12 {
			t.Errorf("%+v: %g %%, want %g", x, got, x.want)
		}
	}
}
