package kinematics

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
)

// sweptScaled sweeps a fork whose chassis and coordinates are those of c and layout times scale.
func sweptScaled(t *testing.T, m *mechanism.Mechanism, c stance.Chassis, layout []plane.Vec[float64], scale float64) *Motion {
	t.Helper()
	c.WheelbaseMM *= scale
	c.FrontRadiusMM *= scale
	c.RearRadiusMM *= scale
	c.AxleToCrownMM *= scale
	c.ForkOffsetMM *= scale
	grown := make([]plane.Vec[float64], len(layout))
	for i, p := range layout {
		grown[i] = p.Times(scale)
	}
	var mo Motion
	mo.Sweep(m, &c, grown, 100*scale, 33)
	return &mo
}

// Twice the size gives twice the lengths and the same ratios and angles.
func TestAForkOfTwiceTheSize(t *testing.T) {
	c := cargo()
	checked := 0
	for _, kind := range []struct {
		spec scheme.MechanismSpec
		draw func(*rand.Rand) map[string][2]float64
	}{{girderSpec, randomGirder}, {floatingSpec, randomFloating}} {
		m := mustCompile(t, kind.spec)
		r := rand.New(rand.NewPCG(11, 3))
		for range 200 {
			layout := laidOut(m, c, kind.draw(r))
			one, two := sweptScaled(t, m, *c, layout, 1), sweptScaled(t, m, *c, layout, 2)
			if one.Fault != "" || two.Fault != "" {
				if one.Fault != two.Fault || math.Abs(2*one.ReachedMM-two.ReachedMM) > 1e-4 {
					t.Fatalf("%q at %g against %q at %g", one.Fault, one.ReachedMM, two.Fault, two.ReachedMM)
				}
				continue
			}
			for i := range one.States {
				a, b := &one.States[i], &two.States[i]
				for _, pair := range [][2]float64{
					{2 * a.Ahead, b.Ahead},
					{2 * a.TrailMM, b.TrailMM},
					{2 * a.WheelbaseMM, b.WheelbaseMM},
					{2 * a.ShockMM, b.ShockMM},
					{a.ShockRate, b.ShockRate},
					{a.AheadRate, b.AheadRate},
					{a.BrakeRate, 2 * b.BrakeRate},
					{a.ContactVX, b.ContactVX},
					{a.SineMin, b.SineMin},
				} {
					if math.Abs(pair[0]-pair[1]) > 1e-9*(1+math.Abs(pair[0])) {
						t.Fatalf("%s at sample %d: %v", m.Name, i, pair)
					}
				}
			}
			checked++
		}
	}
	if checked < 150 {
		t.Fatalf("only %d forks were checked", checked)
	}
}

// A linkage moved along the steering axis as a whole, the axle with it, keeps its path, shock and
// angular rates; only trail and wheelbase know where the wheel is.
func TestAForkMovedAlongItsAxis(t *testing.T) {
	c := cargo()
	m := mustCompile(t, girderSpec)
	r := rand.New(rand.NewPCG(12, 3))
	checked := 0
	for range 200 {
		layout := laidOut(m, c, randomGirder(r))
		longer := *c
		longer.AxleToCrownMM += 35
		shifted := make([]plane.Vec[float64], len(layout))
		for i, p := range layout {
			shifted[i] = p.Plus(plane.Vec[float64]{Along: 35})
		}
		var a, b Motion
		a.Sweep(m, c, layout, 100, 33)
		b.Sweep(m, &longer, shifted, 100, 33)
		if a.Fault != b.Fault {
			t.Fatalf("%q against %q", a.Fault, b.Fault)
		}
		if a.Fault != "" {
			continue
		}
		for i := range a.States {
			x, y := &a.States[i], &b.States[i]
			for _, pair := range [][2]float64{{x.Ahead, y.Ahead}, {x.ShockMM, y.ShockMM}, {x.ShockRate, y.ShockRate}, {x.BrakeRate, y.BrakeRate}} {
				if math.Abs(pair[0]-pair[1]) > 1e-9*(1+math.Abs(pair[0])) {
					t.Fatalf("sample %d: %v", i, pair)
				}
			}
		}
		checked++
	}
	if checked < 100 {
		t.Fatalf("only %d forks were checked", checked)
	}
}

// Bodies and pivots listed in another order give the same numbers to the bit.
func TestTheOrderInAFileDoesNotMatter(t *testing.T) {
	c := cargo()
	turned := girderSpec
	turned.Bodies = []string{"blade", "upper_link", "crown", "lower_link"}
	turned.Pivots = []scheme.PivotSpec{
		{Name: "upper_front", Bodies: []string{"blade", "upper_link"}},
		{Name: "upper_rear", Bodies: []string{"upper_link", "crown"}},
		{Name: "lower_front", Bodies: []string{"blade", "lower_link"}},
		{Name: "lower_rear", Bodies: []string{"lower_link", "crown"}},
	}
	one, two := mustCompile(t, girderSpec), mustCompile(t, turned)
	r := rand.New(rand.NewPCG(13, 3))
	for range 100 {
		at := randomGirder(r)
		var a, b Motion
		a.Sweep(one, c, laidOut(one, c, at), 100, 33)
		b.Sweep(two, c, laidOut(two, c, at), 100, 33)
		if a.Fault != b.Fault {
			t.Fatal("one moves and the other does not")
		}
		for i := range a.States {
			if a.Fault == "" && (a.States[i].TrailMM != b.States[i].TrailMM || a.States[i].ShockRate != b.States[i].ShockRate) {
				t.Fatal("the order of a file changed a number")
			}
		}
	}
}

// The telescopic fork in closed form is the telescopic mechanism solved like any other.
func TestTheBaselineIsTheTelescopicMechanism(t *testing.T) {
	for _, level := range []bool{false, true} {
		c := cargo()
		c.Level = level
		c.RearRadiusMM = 300
		m := mustCompile(t, telescopicSpec)
		var mo Motion
		mo.Sweep(m, c, laidOut(m, c, map[string][2]float64{"upper_bush": {150, 38}, "lower_bush": {350, 38}, "shock_upper": {100, 38}, "shock_lower": {380, 38}}), 100, 33)
		for i := range mo.States {
			var plain, solved stance.State[float64]
			var a, b stance.Second[float64]
			c.Telescopic(&plain, &a, mo.States[i].TravelMM)
			if !mo.Solve(&solved, &b, mo.States[i].TravelMM) {
				t.Fatal(mo.Fault)
			}
			for _, pair := range [][2]float64{
				{plain.TrailMM, solved.TrailMM},
				{plain.WheelbaseMM, solved.WheelbaseMM},
				{plain.VZ, solved.VZ},
				{plain.ContactVX, solved.ContactVX},
				{plain.ShockRate, solved.ShockRate},
				{a.VZ, b.VZ},
				{a.ContactVX, b.ContactVX},
				{a.HeadTurn, b.HeadTurn},
			} {
				if math.Abs(pair[0]-pair[1]) > 1e-10*(1+math.Abs(pair[0])) {
					t.Fatalf("at %g mm: %v", mo.States[i].TravelMM, pair)
				}
			}
		}
	}
}

// With wheels of different size both stay on level ground: the axles' heights differ by the radii.
func TestUnequalWheelsStayOnTheGround(t *testing.T) {
	c := cargo()
	c.RearRadiusMM = 340
	rear := c.RearAxle()
	for _, travel := range []float64{0, 30, 100} {
		var s stance.State[float64]
		c.Telescopic(&s, nil, travel)
		dx, dz := s.CosHead, -s.SinHead
		along, ahead := s.Along-rear.Along, s.Ahead-rear.Ahead
		x, z := along*dx+ahead*s.SinHead, along*dz+ahead*s.CosHead
		if math.Abs(z-(258-340)) > 1e-9 || math.Abs(x-s.WheelbaseMM) > 1e-9 {
			t.Errorf("at %g mm the front axle stands %g above the rear one and %g ahead; wheelbase %g", travel, z, x, s.WheelbaseMM)
		}
	}
	var s stance.State[float64]
	if c.Telescopic(&s, nil, 0); math.Abs(s.WheelbaseMM-1300) > 1e-9 || math.Abs(s.HeadAngle()-70*deg) > 1e-12 {
		t.Errorf("at top-out: %g mm, %g", s.WheelbaseMM, s.HeadAngle()/deg)
	}
}
