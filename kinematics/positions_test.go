package kinematics

import (
	"math"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
)

// The pins of a four-bar stay at the lengths of its links (they are rigid), whichever body they are
// read from, and the axle is where the state says.
func TestPlacementKeepsLengths(t *testing.T) {
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "four-bar", Ground: "g", Bodies: []string{"g", "a", "b", "c"}, Axle: "b", Shock: [2]string{"g", "a"},
		Pivots: []scheme.PivotSpec{{Name: "o1", Bodies: []string{"g", "a"}}, {Name: "p1", Bodies: []string{"a", "b"}}, {Name: "p2", Bodies: []string{"b", "c"}}, {Name: "o2", Bodies: []string{"g", "c"}}},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	// The cargo girder of the examples, invented.
	named := map[string]plane.Vec[float64]{
		"o1": {Along: 27.9, Ahead: 50}, "p1": {Along: 107.6, Ahead: 195.2}, "p2": {Along: -90.6, Ahead: 190.5}, "o2": {Along: -156.5, Ahead: 90}, "axle": {Along: 408, Ahead: 38}, "root": {Along: 25, Ahead: 0},
		"shock_upper": {Along: -150.2, Ahead: 137.9}, "shock_lower": {Along: 59, Ahead: 119.1},
	}
	layout := make([]plane.Vec[float64], len(m.Points))
	for i, name := range m.Points {
		layout[i] = named[name]
	}
	c := stance.Chassis{HeadAngle: 70 * math.Pi / 180, WheelbaseMM: 1300, FrontRadiusMM: 258, RearRadiusMM: 258, AxleToCrownMM: 408, ForkOffsetMM: 38}
	var mo Motion
	mo.Sweep(m, &c, layout, 100, 5)
	if mo.Fault != "" {
		t.Fatal(mo.Fault)
	}
	links := [][2]string{{"o1", "p1"}, {"p1", "p2"}, {"p2", "o2"}, {"p2", "axle"}, {"o1", "shock_lower"}}
	for i := range mo.States {
		s := &mo.States[i]
		at := mechanism.Positions(m, nil, s, layout)
		for _, l := range links {
			want := plane.Distance(named[l[0]], named[l[1]])
			if got := plane.Distance(at[m.Point(l[0])], at[m.Point(l[1])]); math.Abs(got-want) > 1e-9 {
				t.Errorf("travel %g: %s to %s %g, a rigid link keeps %g", s.TravelMM, l[0], l[1], got, want)
			}
		}
		if axle := at[m.Point("axle")]; math.Hypot(axle.Along-s.Along, axle.Ahead-s.Ahead) > 1e-9 {
			t.Errorf("axle at %v, the state says %g, %g", axle, s.Along, s.Ahead)
		}
		if eyes := plane.Distance(at[m.Point("shock_upper")], at[m.Point("shock_lower")]); math.Abs(eyes-s.ShockMM) > 1e-9 {
			t.Errorf("eyes %g apart, the state says %g", eyes, s.ShockMM)
		}
	}
	// Level wheels of one radius at 70 degrees: the rear axle is the wheelbase behind the front one,
	// along the ground: (408 − 1300 cos 70°, 38 − 1300 sin 70°), closed form.
	rear := c.RearAxle()
	if math.Abs(rear.Along-(408-1300*math.Cos(c.HeadAngle))) > 1e-9 || math.Abs(rear.Ahead-(38-1300*math.Sin(c.HeadAngle))) > 1e-9 {
		t.Errorf("rear axle %v", rear)
	}
}
