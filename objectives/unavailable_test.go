package objectives

import (
	"math"
	"strings"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
)

// airArm is the known arm on two air springs of a bore, scored.
func airArm(t *testing.T, bore float64) (*knownArm, *Score) {
	arm := newKnownArm()
	arm.shock.Air = &fork.AirSpring{BoreMM: bore, ChamberMM: 120, Exponent: 1.3}
	var s Score
	newScorer(arm.c).Score(&s, arm.design(t))
	return arm, &s
}

// The gauge pressure at top-out from the force that each spring has to bear at sag, in closed form:
// p0 = (F/A + p_atm) (1 − s/L)^1.3 − p_atm, 1 MPa = 10 bar.
func TestAirPressureOfAnArm(t *testing.T) {
	const atmosphere = 0.101325 // MPa, ISO 2533
	arm, s := airArm(t, 38)
	_, vz, _ := arm.velocity(25)
	force := armLoad * vz * arm.leverage(25) / 2
	want := 10 * ((force/(math.Pi/4*38*38)+atmosphere)*math.Pow(1-arm.compression(25)/120, 1.3) - atmosphere)
	i := Index("air_pressure_bar")
	if s.Missing[i] != "" || math.Abs(s.Values[i]-want) > 1e-8*want {
		t.Errorf("%.10g bar, want %.10g; missing %q", s.Values[i], want, s.Missing[i])
	}
}

// Each kind of spring lacks what the other has, with the reason.
func TestMeasuresOfTheOtherSpringAreUnavailable(t *testing.T) {
	coil, air := Index("coil_step_error_n_per_mm"), Index("air_pressure_bar")
	if _, s := airArm(t, 38); s.Missing[coil] != noCoil || s.Missing[air] != "" {
		t.Errorf("air: %q and %q", s.Missing[coil], s.Missing[air])
	}
	arm := newKnownArm()
	var s Score
	newScorer(arm.c).Score(&s, arm.design(t))
	if s.Missing[air] != noAir || s.Missing[coil] != "" {
		t.Errorf("coil: %q and %q", s.Missing[air], s.Missing[coil])
	}
}

// A bore so large that air thinner than the atmosphere's would carry the load is no spring.
func TestAnAirSpringIsAboveTheAtmosphere(t *testing.T) {
	_, s := airArm(t, 300)
	for _, name := range []string{"air_pressure_bar", "spring_rate_n_per_mm", "brake_dive_mm"} {
		if why := s.Missing[Index(name)]; !strings.Contains(why, "too large for its load") {
			t.Errorf("%s: %q", name, why)
		}
	}
}

// A fork without a shock has no stroke, rather than one of 0, and keeps what needs none.
func TestWithoutAShockThereIsNoStroke(t *testing.T) {
	m, d := shockless(t)
	var s Score
	sc := newScorer(conditions())
	sc.Score(&s, d)
	sc.study(d).Complete(&s)
	kept := 0
	for i := range Measures {
		never := Measures[i].Unavailable(m, nil, Given{})
		if (s.Missing[i] != "") != (never != "") {
			t.Errorf("%s: missing %q, never %q", Measures[i].Name, s.Missing[i], never)
		}
		if never == "" {
			kept++
		}
	}
	for _, name := range []string{"shock_stroke_used_mm", "shock_stroke_used_pct", "shock_stroke_left_mm"} {
		if s.Missing[Index(name)] != ride.Undriven {
			t.Errorf("%s: %g, missing %q", name, s.Values[Index(name)], s.Missing[Index(name)])
		}
	}
	if _, why := ReadCurve(nil, curveNamed(t, "shock_stroke_mm"), sc.study(nil).Ride()); why != ride.Undriven {
		t.Errorf("the curve of the stroke: %q", why)
	}
	if kept < 10 {
		t.Errorf("%d measures are left", kept)
	}
}

// shockless is an arm that drives nothing, with all that sizes and clearance would need.
func shockless(t *testing.T) (*mechanism.Mechanism, *Design) {
	t.Helper()
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "bare", Ground: "legs", Bodies: []string{"legs", "arm"}, Axle: "arm",
		Pivots: []scheme.PivotSpec{{Name: "pivot", Bodies: []string{"legs", "arm"}}},
		Members: []scheme.MemberSpec{
			{Body: "legs", From: "root", To: "pivot"}, {Body: "arm", From: "pivot", To: "axle"},
		},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	d := &Design{
		Mechanism: m, Layout: make([]kinematics.Vec[float64], len(m.Points)), Shock: fork.Shock{Count: 1},
		Across: fork.DefaultAcross(m), Material: fork.MaterialNamed("7075-T6"),
	}
	d.Layout[m.Point("root")] = kinematics.Vec[float64]{Along: 25}
	d.Layout[m.Point("pivot")] = kinematics.Vec[float64]{Along: 358, Ahead: -150}
	d.Layout[m.Point("axle")] = kinematics.Vec[float64]{Along: 408, Ahead: 38}
	return m, d
}

func curveNamed(t *testing.T, name string) *Curve {
	t.Helper()
	for i := range Curves {
		if Curves[i].Name == name {
			return &Curves[i]
		}
	}
	t.Fatalf("no curve %s", name)
	return nil
}
