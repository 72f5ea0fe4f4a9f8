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

const deg = math.Pi / 180

// Invented forks, as mechanisms and coordinates; the cargo bike is that of the demo.
var (
	girderSpec = scheme.MechanismSpec{
		Name: "girder", Ground: "crown", Bodies: []string{"crown", "lower_link", "upper_link", "blade"},
		Pivots: []scheme.PivotSpec{
			{Name: "lower_rear", Bodies: []string{"crown", "lower_link"}},
			{Name: "lower_front", Bodies: []string{"lower_link", "blade"}},
			{Name: "upper_rear", Bodies: []string{"crown", "upper_link"}},
			{Name: "upper_front", Bodies: []string{"upper_link", "blade"}},
		},
		Axle: "blade", Brake: "blade", Shock: [2]string{"crown", "lower_link"},
	}
	floatingSpec = scheme.MechanismSpec{
		Name: "leading-arm-floating-brake", Ground: "legs", Bodies: []string{"legs", "arm", "carrier", "reaction"},
		Pivots: []scheme.PivotSpec{
			{Name: "arm_pivot", Bodies: []string{"legs", "arm"}},
			{Name: "axle", Bodies: []string{"arm", "carrier"}},
			{Name: "carrier_pin", Bodies: []string{"carrier", "reaction"}},
			{Name: "reaction_anchor", Bodies: []string{"reaction", "legs"}},
		},
		Axle: "arm", Brake: "carrier", Shock: [2]string{"legs", "arm"},
	}
	telescopicSpec = scheme.MechanismSpec{
		Name: "telescopic", Ground: "crown", Bodies: []string{"crown", "lowers"},
		Slides: []scheme.SlideSpec{{Name: "tube", Bodies: [2]string{"crown", "lowers"}, Through: [2]string{"upper_bush", "lower_bush"}}},
		Axle:   "lowers", Shock: [2]string{"crown", "lowers"},
	}
)

func cargo() *stance.Chassis {
	return &stance.Chassis{
		HeadAngle: 70 * deg, WheelbaseMM: 1300, FrontRadiusMM: 258, RearRadiusMM: 258, AxleToCrownMM: 408, ForkOffsetMM: 38,
		CGHeightMM: 980, CGToFrontAxleMM: 850, MassKG: 170, FrontBrakeShare: 0.7,
	}
}

func mustCompile(t *testing.T, s scheme.MechanismSpec) *mechanism.Mechanism {
	t.Helper()
	m, faults := mechanism.Compile(s)
	if len(faults) > 0 {
		t.Fatalf("%s: %v", s.Name, faults)
	}
	return m
}

// laidOut puts named coordinates into a mechanism's order.
func laidOut(m *mechanism.Mechanism, c *stance.Chassis, at map[string][2]float64) []plane.Vec[float64] {
	layout := make([]plane.Vec[float64], len(m.Points))
	for name, p := range at {
		layout[m.Point(name)] = plane.Vec[float64]{Along: p[0], Ahead: p[1]}
	}
	layout[m.Axle()] = plane.Vec[float64]{Along: c.AxleToCrownMM, Ahead: c.ForkOffsetMM}
	return layout
}

// randomGirder draws a girder within the demo's bounds.
func randomGirder(r *rand.Rand) map[string][2]float64 {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	return map[string][2]float64{
		"lower_rear": {in(5, 30), in(50, 90)}, "lower_front": {in(0, 110), in(170, 255)},
		"upper_rear": {in(-170, -80), in(45, 90)}, "upper_front": {in(-130, -20), in(150, 255)},
		"shock_upper": {in(-230, -100), in(70, 140)}, "shock_lower": {in(-20, 20), in(100, 160)}, "root": {25, 0},
	}
}

func randomFloating(r *rand.Rand) map[string][2]float64 {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	return map[string][2]float64{
		"arm_pivot": {in(340, 420), in(-200, -100)}, "carrier_pin": {in(300, 380), in(0, 100)},
		"reaction_anchor": {in(250, 400), in(-150, -40)}, "shock_upper": {in(140, 230), in(-110, -60)}, "shock_lower": {in(330, 390), in(-90, -30)},
	}
}
