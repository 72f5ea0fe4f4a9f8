package kinematics

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// toggles are the travels at which a girder's blade and upper link stand in line, from the triangle
// of ground, lower link and the two in line: the angle of the lower link by the law of cosines, on
// both sides of the ground, the two stretched or folded.
func toggles(at map[string][2]float64, c *stance.Chassis) []float64 {
	v := func(name string) complex128 { return complex(at[name][0], at[name][1]) }
	abs := func(z complex128) float64 { return math.Hypot(real(z), imag(z)) }
	lr, lf, ur, uf := v("lower_rear"), v("lower_front"), v("upper_rear"), v("upper_front")
	axle := complex(c.AxleToCrownMM, c.ForkOffsetMM)
	lower, blade, upper, ground := abs(lf-lr), abs(uf-lf), abs(uf-ur), ur-lr
	var all []float64
	for _, stretch := range []float64{blade + upper, math.Abs(blade - upper)} {
		cos := (lower*lower + abs(ground)*abs(ground) - stretch*stretch) / (2 * lower * abs(ground))
		if math.Abs(cos) > 1 {
			continue
		}
		for _, side := range []float64{1, -1} {
			turn := complex(cos, side*math.Sqrt(1-cos*cos)) * ground / complex(abs(ground), 0)
			pin := lr + turn*complex(lower, 0)
			line := (ur - pin) / complex(abs(ur-pin), 0)
			if stretch != blade+upper && blade < upper {
				line = -line
			}
			now := (axle - lf) / (uf - lf) * line * complex(blade, 0)
			all = append(all, c.AxleToCrownMM-real(pin+now))
		}
	}
	return all
}

// Where blade and upper link of a girder come into line, the lower link turns back and the axle continues: it is
// no end of the motion. The sine of the transmission angle goes through 0 there.
func TestAGirderMovesThroughTheToggleOfItsLowerLink(t *testing.T) {
	c := cargo()
	m := mustCompile(t, girderSpec)
	r := rand.New(rand.NewPCG(21, 5))
	var mo Motion
	through := 0
	for range 4000 {
		at := randomGirder(r)
		// Short upper links, so that many come to their toggle.
		at["upper_front"] = [2]float64{at["upper_rear"][0] + 40*r.Float64() - 20, at["upper_rear"][1] + 20 + 40*r.Float64()}
		if mo.Sweep(m, c, laidOut(m, c, at), 100, 33); mo.Fault != "" {
			continue
		}
		var s stance.State[float64]
		for _, travel := range toggles(at, c) {
			if travel <= 0.1 || travel >= 99.9 || !mo.Solve(&s, nil, travel) {
				continue
			}
			if s.SineMin > 1e-6 {
				continue // the toggle of the other assembly, which has the axle there at another turn
			}
			through++
			var before, after stance.State[float64]
			mo.Solve(&before, nil, travel-0.1)
			mo.Solve(&after, nil, travel+0.1)
			lower := slices.Index(m.Bodies, "lower_link")
			if turn := before.Rate[lower].Turn * after.Rate[lower].Turn; turn >= 0 {
				t.Fatalf("the lower link does not turn back at %.6f mm: %g", travel, turn)
			}
		}
	}
	t.Logf("%d went through", through)
	if through < 100 {
		t.Errorf("%d girders only went through a toggle", through)
	}
}

// gapped is a floating brake whose carrier and link lack reach from travel a little before the arm
// stands in line with the anchor to a little after: their lengths add up to the distance of the
// held pivots at the travel given, plus slack.
func gapped(c *stance.Chassis, inLine, cut float64) map[string][2]float64 {
	axle := plane.Vec[float64]{Along: c.AxleToCrownMM, Ahead: c.ForkOffsetMM}
	pivot := plane.Vec[float64]{Along: 370, Ahead: -130}
	radius := plane.Distance(axle, pivot)
	up := func(travel float64) plane.Vec[float64] { // the axle at a travel
		along := axle.Along - travel - pivot.Along
		return plane.Vec[float64]{Along: pivot.Along + along, Ahead: pivot.Ahead + math.Sqrt(radius*radius-along*along)}
	}
	mid := up(inLine)
	anchor := pivot.Minus(mid.Minus(pivot).Times(0.6))
	sum := plane.Distance(up(cut), anchor)
	// The pin of carrier and link on the ellipse about both held pivots, in a direction from the axle.
	e := plane.Vec[float64]{Along: -0.8, Ahead: -0.6}
	w := axle.Minus(anchor)
	carrier := (sum*sum - w.Dot(w)) / (2 * (sum + w.Dot(e)))
	at := axle.Plus(e.Times(carrier))
	return map[string][2]float64{
		"arm_pivot": {pivot.Along, pivot.Ahead}, "reaction_anchor": {anchor.Along, anchor.Ahead}, "carrier_pin": {at.Along, at.Ahead},
		"shock_upper": {200, -80}, "shock_lower": {370, -40},
	}
}

// A gap shorter than a step lies between two samples, both of which close on the same side.
func TestAGapBetweenTwoSamples(t *testing.T) {
	c := cargo()
	m := mustCompile(t, floatingSpec)
	for _, cut := range []float64{51.3, 51.5, 51.55} { // the samples are at 50 and 53.125 mm
		at := gapped(c, 51.6, cut)
		layout := laidOut(m, c, at)
		for _, travel := range []float64{50, 53.125} {
			var mo Motion
			if mo.Sweep(m, c, layout, 50, 3); mo.Fault != "" {
				t.Fatalf("the lower part does not move: %s", mo.Fault)
			}
			pose := append([]plane.Pose[float64](nil), mo.States[2].Pose...)
			if _, ok := newton(m, layout, c.AxleToCrownMM-travel, pose); !ok {
				t.Errorf("the position at %g mm cannot be drawn", travel)
			}
		}
		var mo Motion
		mo.Sweep(m, c, layout, 100, 33)
		if math.Abs(mo.ReachedMM-cut) > 2e-3 || !strings.Contains(mo.Fault, "carrier and reaction cannot close") {
			t.Errorf("gap from %g mm: stops at %.5f: %q", cut, mo.ReachedMM, mo.Fault)
		}
	}
}

// Links that just reach are no gap.
func TestLinksThatJustReach(t *testing.T) {
	c := cargo()
	m := mustCompile(t, floatingSpec)
	at := gapped(c, 51.6, 51.6)
	// A hair longer than the held pivots are ever apart.
	axle := plane.Vec[float64]{Along: c.AxleToCrownMM, Ahead: c.ForkOffsetMM}
	pin := plane.Vec[float64]{Along: at["carrier_pin"][0], Ahead: at["carrier_pin"][1]}
	for _, by := range []float64{1.0001, 1.01} {
		longer := axle.Plus(pin.Minus(axle).Times(by))
		at["carrier_pin"] = [2]float64{longer.Along, longer.Ahead}
		var mo Motion
		if mo.Sweep(m, c, laidOut(m, c, at), 100, 33); mo.Fault != "" {
			t.Errorf("longer by %g: stops at %g: %s", by, mo.ReachedMM, mo.Fault)
		}
	}
}
