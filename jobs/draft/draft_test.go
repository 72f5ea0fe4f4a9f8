package draft

import (
	"math"
	"math/rand/v2"
	"testing"
)

// ISO 5775-1 designates a tyre by its width and the bead seat diameter, in mm.
func TestWheelByItsDesignation(t *testing.T) {
	for text, want := range map[string]Wheel{
		"61-406": {264, 61, "61-406"},       // 406 / 2 + 61
		"40-622": {351, 40, "40-622"},       // 622 / 2 + 40
		"528":    {264, tyreWidthMM, "528"}, // a diameter
		"691.5":  {345.75, tyreWidthMM, "691.5"},
	} {
		if got, err := ParseWheel(text); err != nil || got != want {
			t.Errorf("%s: %+v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "20", "20x2.4", "61-40", "1e3", "-528", "406-61", "61-406 ", "1100", "NaN"} {
		if w, err := ParseWheel(text); err == nil {
			t.Errorf("%q is read as %+v", text, w)
		}
	}
}

func randomBike(r *rand.Rand) *Bike {
	b := Assumed
	b.Wheel = Wheel{RadiusMM: 200 + 180*r.Float64(), TyreWidthMM: 30 + 35*r.Float64()}
	b.TravelMM = 40 + 120*r.Float64()
	b.HeadAngleDeg, b.OffsetMM = 63+11*r.Float64(), 30+25*r.Float64()
	b.AxleToCrownMM = b.Wheel.RadiusMM + b.TravelMM + leastUnderCrownMM + 30*r.Float64()
	b.MassKG, b.WheelbaseMM = 60+140*r.Float64(), 1000+400*r.Float64()
	return &b
}

// The tyre's outline at full travel is a circle about the axle, and what is placed above it is outside it.
func TestPivotsAboveTheTyre(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	for range 300 {
		b := randomBike(r)
		axle := [2]float64{b.AxleToCrownMM - b.TravelMM, b.OffsetMM}
		for _, x := range []float64{0, 20, b.OffsetMM, 70} {
			if d := math.Hypot(b.tyreTop(x)-axle[0], x-axle[1]); math.Abs(d-b.Wheel.RadiusMM) > 1e-9 {
				t.Fatalf("%+v: %g from the axle", b, d)
			}
		}
		for _, p := range planFor("girder", b).places[:2] {
			if d := math.Hypot(p.along.high-axle[0], p.ahead.middle()-axle[1]) - b.Wheel.RadiusMM; d < clearMM {
				t.Errorf("%+v: %s is %g mm from the tyre", b, p.point, d)
			}
		}
	}
}

// A spring of the rate that the leverage ratio is chosen for balances the static load at sag: the work of the shocks
// over a small travel is that of the load.
func TestLeverageBalancesTheLoad(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 2))
	checked := 0
	for range 300 {
		b := randomBike(r)
		for count := 1; count <= 2; count++ {
			ratio := b.leverage(count)
			if ratio <= 1.3 || ratio >= 3 {
				continue
			}
			checked++
			compression := sag * b.TravelMM / ratio
			if force := float64(count) * coilNPerMM * compression / ratio; math.Abs(force-b.frontLoad()) > 1e-9*force {
				t.Errorf("%+v: %g N instead of %g", b, force, b.frontLoad())
			}
		}
		for _, s := range b.shocks(b.leverage(1)) {
			if used := b.TravelMM / b.leverage(1) / s.stroke; used < 0.8 || used > 1.13 {
				t.Errorf("%+v: a stroke of %g is used up to %g", b, s.stroke, used)
			}
		}
	}
	if checked < 100 {
		t.Errorf("only %d were checked", checked)
	}
}

// Every range is one, and there are shocks to choose from.
func TestPlansAreWhole(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 3))
	for range 300 {
		b := randomBike(r)
		if err := b.Check(); err != nil {
			t.Fatal(err)
		}
		for _, name := range Mechanisms() {
			p := planFor(name, b)
			if len(p.sizes) == 0 {
				t.Errorf("%s, %+v: no shocks", name, b)
			}
			for _, l := range p.places {
				if !(l.along.low <= l.along.high && l.ahead.low <= l.ahead.high) {
					t.Errorf("%s, %+v: %+v", name, b, l)
				}
			}
		}
	}
}
