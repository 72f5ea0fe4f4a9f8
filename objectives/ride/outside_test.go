package ride

import (
	"math"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
	"forkfront/objectives/fork"
)

// carrierBike stands upright in its own frame: a steering axis at 90 degrees makes along the way
// down and ahead the way forward, so that ground coordinates go in as they are.
func carrierBike() *stance.Chassis {
	return &stance.Chassis{
		HeadAngle: math.Pi / 2, WheelbaseMM: 1250, FrontRadiusMM: 372, RearRadiusMM: 372, AxleToCrownMM: 428, CGHeightMM: 1100,
		CGToFrontAxleMM: 600, MassKG: 100, FrontBrakeShare: 1, Level: true,
	}
}

// Two four-bar carriers, by the construction with the instant centre and by virtual work, computed
// independently of this project: anti-dive with the caliper on the carrier and on the chassis.
func TestAntiDiveOfFourBarCarriers(t *testing.T) {
	for _, x := range []struct {
		a, b, c, d      [2]float64 // x forward, z up; the contact point at (0, 0)
		carrier, ground float64
	}{
		{[2]float64{-150, 640}, [2]float64{-60, 470}, [2]float64{-60, 655}, [2]float64{25, 455}, 107.1878, 36.6324},
		{[2]float64{-170, 700}, [2]float64{-110, 560}, [2]float64{-50, 690}, [2]float64{10, 530}, 94.1823, 48.2337},
	} {
		m, faults := mechanism.Compile(scheme.MechanismSpec{
			Name: "carrier", Ground: "chassis", Bodies: []string{"chassis", "upper", "lower", "carrier"}, Axle: "carrier",
			Pivots: []scheme.PivotSpec{
				{Name: "a", Bodies: []string{"chassis", "upper"}},
				{Name: "b", Bodies: []string{"chassis", "lower"}},
				{Name: "c", Bodies: []string{"upper", "carrier"}},
				{Name: "d", Bodies: []string{"lower", "carrier"}},
			},
		})
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		bike := carrierBike()
		layout := make([]kinematics.Vec[float64], len(m.Points))
		for name, p := range map[string][2]float64{"a": x.a, "b": x.b, "c": x.c, "d": x.d, "axle": {0, 372}} {
			layout[m.Point(name)] = kinematics.Vec[float64]{Along: 800 - p[1], Ahead: p[0]}
		}
		var mo kinematics.Motion
		mo.Sweep(m, bike, layout, 10, 3)
		if mo.Fault != "" {
			t.Fatal(mo.Fault)
		}
		s := mo.States[0]
		if got := AntiDive(bike, &s); math.Abs(got-x.carrier) > 5e-5 { // the last printed digit
			t.Errorf("caliper on the carrier: %.4f, want %.4f", got, x.carrier)
		}
		s.ContactVX = s.VX // a caliper on the chassis keeps the wheel from turning against it
		if got := AntiDive(bike, &s); math.Abs(got-x.ground) > 5e-5 {
			t.Errorf("caliper on the chassis: %.4f, want %.4f", got, x.ground)
		}
	}
}

// Telescopic forks, exact: −β (L/h) cot H.
func TestAntiDiveOfTelescopicForks(t *testing.T) {
	for _, x := range [][3]float64{{64, 1250, -55.42}, {67, 1180, -45.53}} {
		c := &stance.Chassis{
			HeadAngle: x[0] * math.Pi / 180, WheelbaseMM: x[1], FrontRadiusMM: 372, RearRadiusMM: 372, AxleToCrownMM: 570, ForkOffsetMM: 44,
			CGHeightMM: 1100, FrontBrakeShare: 1,
		}
		var s stance.State[float64]
		c.Telescopic(&s, nil, 0)
		if got := AntiDive(c, &s); math.Abs(got-x[2]) > 0.005 {
			t.Errorf("H %g: %.4f, want %.2f", x[0], got, x[2])
		}
	}
}

// Pitch-over limits from published masses and mass centres: the benchmark bicycle with rider
// (Meijaard et al. 2007) and row 3 of the BicycleParameters data set with a 72 kg rider.
func TestPitchOver(t *testing.T) {
	for _, x := range [][4]float64{{1020, 342.1, 861.2, 0.787}, {1121, 318.4, 990.2, 0.811}} {
		c := &stance.Chassis{CGToFrontAxleMM: x[0] - x[1], CGHeightMM: x[2]}
		if got := PitchOverG(c); math.Abs(got-x[3]) > 0.0005 {
			t.Errorf("%.4f, want %g", got, x[3])
		}
	}
}

// An arm with its wheel at radius 400 and a coil of 50 N/mm under 2000 N at radius 200, the other
// end at (100, 300) from the pivot; computed independently: 11.2500 from the rate, 0.6325 from the
// geometry.
func TestWheelRateHasAGeometricTerm(t *testing.T) {
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "arm", Ground: "frame", Bodies: []string{"frame", "arm"}, Axle: "arm", Shock: [2]string{"frame", "arm"},
		Pivots: []scheme.PivotSpec{{Name: "pivot", Bodies: []string{"frame", "arm"}}},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	bike := carrierBike()
	layout := make([]kinematics.Vec[float64], len(m.Points))
	// The arm is level at 30 mm of travel; top-out is found by turning it down by that much.
	turn := math.Asin(30.0 / 400)
	sin, cos := math.Sincos(turn)
	bike.AxleToCrownMM, bike.ForkOffsetMM = 430, 400*cos
	put := func(name string, along, ahead float64) {
		layout[m.Point(name)] = kinematics.Vec[float64]{Along: along, Ahead: ahead}
	}
	put("pivot", 400, 0)
	put("axle", 430, 400*cos)
	put("shock_upper", 400-300, 100)
	put("shock_lower", 400+200*sin, 200*cos)
	var mo kinematics.Motion
	mo.Sweep(m, bike, layout, 60, 33)
	if mo.Fault != "" {
		t.Fatal(mo.Fault)
	}
	s := &Ride[float64]{Setting: &Setting{Chassis: *bike}, Shock: &fork.Shock{Count: 1}, States: mo.States}
	if !mo.Solve(&s.Sag, &s.sagSecond, 30) {
		t.Fatal("the arm does not get level")
	}
	s.Shock.PreloadMM = 2000.0/50 - s.Compression(&s.Sag)
	s.spring = newSpring[float64](s.Shock)
	s.spring.strength = 50
	if got := WheelRate(s); math.Abs(got-11.8825) > 5e-5 {
		t.Errorf("wheel rate %.4f, want 11.8825", got)
	}
}

// An air spring of 32 mm bore and a 300 mm chamber at 700 kPa: force isothermal and at exponent 1.4,
// and the rates, computed independently.
func TestAirSpring(t *testing.T) {
	for _, x := range [][3]float64{{1, 797.3, 3.995}, {1.4, 913.4, 6.331}} {
		s := newSpring[float64](&fork.Shock{Air: &fork.AirSpring{BoreMM: 32, ChamberMM: 300, Exponent: x[0]}})
		s.strength = 0.7 + fork.AtmosphereMPa
		force, rate := s.force(80)
		if math.Abs(force-x[1]) > 0.05 || math.Abs(rate-x[2]) > 0.0005 {
			t.Errorf("exponent %g: %.2f N and %.4f N/mm, want %g and %g", x[0], force, rate, x[1], x[2])
		}
	}
}
