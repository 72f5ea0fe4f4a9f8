package clearance

import (
	"math"
	"testing"

	"forkfront/objectives/fork"
)

// By hand: the axle of the arm ends 100 mm above where it began, as far ahead. A lamp 150 mm above that is 77.5 mm within the ring of
// the tyre's 227.5; moved up, it comes out by as much; aside, it counts less from where 5 mm are missing to the gap wanted from the
// disc, then less deep, as it could leave the tyre inwards too, and not at all beside the tyre.
func TestCrossingOfTheWheelByHand(t *testing.T) {
	for _, x := range []struct{ above, aside, want float64 }{
		{150, 0, 77.5},
		{200, 0, 27.5},
		{228, 0, 0},
		{227, 0, 0.5},
		{150, 15 + 20 + 6 - 2.5, 77.5 / 2},
		{150, 15 + 20 + 6 - 1, 77.5 / 5},
		{150, 15 + 20 + 6, 0},
		{200, 60, 0},
	} {
		at := spot{Along: 308 - x.above, Ahead: 38, Left: x.aside}
		sc, d := leadingArm(t, func(p *fork.Package) {
			p.Steered = []fork.Capsule{{Name: "lamp", Ends: segment{at, at}, RadiusMM: 20}}
		})
		var s score
		if sc.score(&s, d); s.why != "" {
			t.Fatal(s.why)
		}
		if got := sc.search.Crossing(6); math.Abs(got-x.want) > 1e-6 {
			t.Errorf("%g mm above the axle, %g aside: %.7f, by hand %g", x.above, x.aside, got, x.want)
		}
	}
	// A bar 10 mm longer than the way to the tyre's ring, in the lane where only the tyre is in the way.
	sc, d := leadingArm(t, func(p *fork.Package) {
		bar := segment{{Along: 308 - 260, Ahead: 38, Left: 46}, {Along: 308 - 217.5, Ahead: 38, Left: 46}}
		p.Steered = []fork.Capsule{{Name: "bar", Ends: bar, RadiusMM: 20}}
	})
	var s score
	if sc.score(&s, d); s.why != "" {
		t.Fatal(s.why)
	}
	if got, want := sc.search.Crossing(6), 10.0; math.Abs(got-want) > 1e-6 {
		t.Errorf("bar: %.7f, by hand %g", got, want)
	}
}
