package kinematics

import (
	"math"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
)

// At every travel the outer tube of a leg that swings lies on the line of the inner one, both keep their lengths, and the
// overlap grows by as much as the tubes moved; at full travel each reaches the reserve beyond the other's end. The tube
// follows the lowers' members, from the point where most of them meet.
func TestSlidingTubesStayInLine(t *testing.T) {
	spec := scheme.MechanismSpec{
		Name: "swinging", Ground: "crown", Bodies: []string{"crown", "tubes", "lowers", "link"}, Axle: "lowers", Shock: [2]string{"tubes", "lowers"},
		Pivots: []scheme.PivotSpec{{Name: "head", Bodies: []string{"crown", "tubes"}}, {Name: "anchor", Bodies: []string{"crown", "link"}}, {Name: "lug", Bodies: []string{"link", "lowers"}}},
		Slides: []scheme.SlideSpec{{Name: "leg", Bodies: [2]string{"tubes", "lowers"}, Through: [2]string{"upper_bush", "lower_bush"}}},
	}
	spec.Members = []scheme.MemberSpec{
		{Body: "crown", From: "root", To: "head"},
		{Body: "crown", From: "root", To: "anchor"},
		{Body: "tubes", From: "head", To: "upper_bush"},
		{Body: "tubes", From: "lower_bush", To: "upper_bush"},
		{Body: "tubes", From: "upper_bush", To: "shock_upper"},
		{Body: "lowers", From: "lug", To: "shock_lower"},
		{Body: "lowers", From: "shock_lower", To: "axle"},
		{Body: "link", From: "anchor", To: "lug"},
	}
	m, c := mustCompile(t, spec), cargo()
	if m.Unsized() != "" || len(m.Slides()) != 1 || len(m.Tubes()) != len(spec.Members)+2 {
		t.Fatalf("%q, %d slides, %d tubes", m.Unsized(), len(m.Slides()), len(m.Tubes()))
	}
	s := &m.Slides()[0]
	if at := m.PointName(s.Start); at != "shock_lower" || m.PointName(s.Mouth) != m.SlideName(s)+" mouth" || m.PointName(s.Foot) != m.SlideName(s)+" foot" {
		t.Errorf("the tube starts at %s", at)
	}
	last := m.Tubes()[0].Body
	for _, mb := range m.Tubes() {
		if mb.Body < last {
			t.Error("the tubes of a body are not together")
		}
		last = mb.Body
	}
	layout := laidOut(m, c, map[string][2]float64{
		"anchor": {159.9, 60}, "head": {-99.7, 10.2}, "lower_bush": {239.4, 60}, "lug": {213.3, -200}, "shock_lower": {345, 82.5}, "shock_upper": {77.2, 47.9}, "upper_bush": {58.8, 21.4},
	})
	var mo Motion
	mo.Sweep(m, c, layout, 100, 9)
	if mo.Fault != "" {
		t.Fatal(mo.Fault)
	}
	for _, wanted := range []float64{40, 500} { // as wanted, and as much as there is room for
		whole := mechanism.ExtendLayout(m, nil, layout, &mo.States[8], wanted)
		for i := range mo.States {
			st := &mo.States[i]
			at := mechanism.Positions(m, nil, st, whole)
			top, end, mouth, foot := at[s.Through[0]], at[s.Through[1]], at[s.Mouth], at[s.Foot]
			slid := mechanism.Slid(m, s, st, layout)
			line := top.Minus(end)
			unit := line.Times(1 / math.Sqrt(line.Dot(line)))
			overlap := mouth.Minus(end).Dot(unit)
			want := min(wanted, math.Sqrt(line.Dot(line))-mechanism.Slid(m, s, &mo.States[8], layout)-10) + slid
			reach := end.Minus(foot).Dot(unit)
			for what, off := range map[string]float64{
				"mouth off the line": unit.Cross(mouth.Minus(end)), "foot off the line": unit.Cross(foot.Minus(end)), "overlap": overlap - want,
				"end above the foot": reach - 10 - mechanism.Slid(m, s, &mo.States[8], layout) + slid,
			} {
				if math.Abs(off) > 1e-8 {
					t.Errorf("%g wanted, sample %d: %s by %g mm", wanted, i, what, off)
				}
			}
			if i == 8 && wanted == 500 && math.Abs(Distance(top, mouth)-10) > 1e-8 {
				t.Errorf("at full travel the mouth is %g mm from the top", Distance(top, mouth))
			}
		}
	}
}
