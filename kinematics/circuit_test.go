package kinematics

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"forkfront/kinematics/plane"
)

// toggles are the travels at which a girder's blade and upper link stand in line, from the triangle
// of ground, lower link and the two in line: the angle of the lower link by the law of cosines, on
// both sides of the ground, the two stretched or folded.
func toggles(at map[string][2]float64, c *Chassis) []float64 {
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

// A four-bar that passes its toggle could go on only with blade and upper link on the other side
// of their line. Its path can be drawn there, and the design still does not work.
func TestAFourBarStopsAtItsToggle(t *testing.T) {
	c := cargo()
	m := mustCompile(t, girderSpec)
	r := rand.New(rand.NewPCG(21, 5))
	var mo Motion
	stopped, drawn := 0, 0
	for range 1500 {
		at := randomGirder(r)
		// Short upper links, so that many come to their toggle.
		at["upper_front"] = [2]float64{at["upper_rear"][0] + 40*r.Float64() - 20, at["upper_rear"][1] + 20 + 40*r.Float64()}
		layout := laidOut(m, c, at)
		mo.Sweep(m, c, layout, 100, 33)
		if !strings.HasPrefix(mo.Fault, "blade and upper_link cannot close") {
			continue
		}
		stopped++
		off := math.Inf(1)
		for _, want := range toggles(at, c) {
			off = math.Min(off, math.Abs(mo.ReachedMM-want))
		}
		if !(off < 1e-4) { // the end is found to a creeping step
			t.Fatalf("stops at %.6f mm, the toggles are at %.6f: %v", mo.ReachedMM, toggles(at, c), at)
		}
		// From the stop, blade and link turned past their line by as much as they lacked: Newton
		// on all pins finds the fork higher up, on the other branch.
		mo.link.keep()
		for _, b := range []string{"blade", "upper_link"} {
			p := &mo.link.kept[index(m.Bodies, b)]
			by := mo.link.rate[index(m.Bodies, b)].Turn * mo.perMM()
			p.Rotate(math.Copysign(0.02, by))
		}
		if pose, ok := newton(m, layout, c.AxleToCrownMM-mo.ReachedMM-0.05, mo.link.kept); ok {
			tip := func(b string) plane.Vec[float64] {
				i := index(m.Bodies, b)
				return pose[i].Turned(layout[m.Point("upper_front")].Minus(layout[m.anchor[i]]))
			}
			if side := tip("blade").Cross(tip("upper_link")); side*mo.link.dyads[1].side < 0 {
				drawn++
			}
		}
	}
	t.Logf("%d stopped, %d of them drawn beyond", stopped, drawn)
	if stopped < 100 || drawn < stopped/2 {
		t.Fatalf("%d girders stopped at their toggle, %d of them can be drawn beyond", stopped, drawn)
	}
}

// gapped is a floating brake whose carrier and link lack reach from travel a little before the arm
// stands in line with the anchor to a little after: their lengths add up to the distance of the
// held pivots at the travel given, plus slack.
func gapped(c *Chassis, inLine, cut float64) map[string][2]float64 {
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

// Travel over the way of a slide with a fold within one step: t = w + k sin 2πw / 2π, of which both
// ends look alike.
func TestAnAxleThatTurnsBackBetweenTwoSamples(t *testing.T) {
	m := mustCompile(t, telescopicSpec)
	for _, x := range []struct {
		k     float64
		plain bool
	}{{0, true}, {0.2, true}, {1.5, false}, {-0.9, true}, {3, false}} {
		var mo Motion
		mo.link.m = m
		mo.link.slide = plane.Vec[float64]{Along: -1, Ahead: 0}
		ends := [2]State[float64]{}
		for i := range ends {
			ends[i].TravelMM, ends[i].Drive.Way = float64(i), float64(i)
			ends[i].Rate = make([]plane.Rate[float64], len(m.Bodies))
			ends[i].Rate[m.wheel].At = plane.Vec[float64]{Along: -1 / (1 + x.k), Ahead: 0}
		}
		if got := mo.forward(&ends[0], &ends[1]); got != x.plain {
			t.Errorf("k %g: forward is %v", x.k, got)
		}
	}
}

func TestLeastOfACubic(t *testing.T) {
	// Exact: (x − 1/2)² + c on 0..1, a cubic with its least inside, and two without.
	for _, x := range [][5]float64{
		{0.25, 0.25, -1, 1, 0},
		{0.3, 0.3, -1, 1, 0.05},
		{0, 1, 1, 1, 0},
		{2, 1, -1, -1, 1},
		{0, 0, -1, 1, -0.25},
		{0, 0, -1, -1, -math.Sqrt(3) / 18}, // 2x³ − 3x² ... mirrored: −x + 3x² − 2x³
	} {
		if got := least(x[0], x[1], x[2], x[3]); math.Abs(got-x[4]) > 1e-12 {
			t.Errorf("%v: %.12g", x[:4], got)
		}
	}
}
