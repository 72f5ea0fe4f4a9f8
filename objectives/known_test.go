package objectives

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
)

// knownArm is a leading arm in closed form: the pivot level with the middle of the travel, the
// caliper on the arm, the head angle steady. Everything here is written out for an arm and shares
// nothing with the solver.
type knownArm struct {
	c      *Conditions
	radius float64    // pivot to axle
	lower  [2]float64 // shock's lower eye from the pivot at top-out
	upper  [2]float64 // shock's upper eye from the pivot
	shock  fork.Shock
}

const (
	armHalf   = 50.0  // half of the travel
	armReach  = 188.0 // pivot to axle, ahead, at top-out and at full travel
	armOffset = 38.0
)

func newKnownArm() *knownArm {
	c := conditions()
	c.Chassis.Level = true
	prepare(c)
	return &knownArm{c, math.Hypot(armHalf, armReach), [2]float64{10, 90}, [2]float64{-178, 40}, fork.Shock{Count: 2, StrokeMM: 55}}
}

// design is the same arm as the program sees it.
func (a *knownArm) design(t *testing.T) *Design {
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "arm", Ground: "legs", Bodies: []string{"legs", "arm"}, Axle: "arm", Shock: [2]string{"legs", "arm"},
		Pivots: []scheme.PivotSpec{{Name: "pivot", Bodies: []string{"legs", "arm"}}},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	d := &Design{Mechanism: m, Layout: make([]kinematics.Vec[float64], len(m.Points)), Shock: a.shock}
	along, ahead := a.c.Chassis.AxleToCrownMM-armHalf, armOffset-armReach
	put := func(name string, p [2]float64) {
		d.Layout[m.Point(name)] = kinematics.Vec[float64]{Along: along + p[0], Ahead: ahead + p[1]}
	}
	put("pivot", [2]float64{})
	put("axle", [2]float64{armHalf, armReach})
	put("shock_lower", a.lower)
	put("shock_upper", a.upper)
	return d
}

// reach is how far the axle lies ahead of the pivot at a travel.
func (a *knownArm) reach(t float64) float64 {
	return math.Sqrt(a.radius*a.radius - (armHalf-t)*(armHalf-t))
}

func (a *knownArm) ahead(t float64) float64 { return armOffset - armReach + a.reach(t) }

// turn of the arm since top-out, and its rate per mm of travel.
func (a *knownArm) turn(t float64) (angle, rate float64) {
	w := a.reach(t)
	return math.Atan2(w, armHalf-t) - math.Atan2(armReach, armHalf), 1 / w
}

// length of the shock and its compression rate.
func (a *knownArm) length(t float64) (length, rate float64) {
	angle, turning := a.turn(t)
	sin, cos := math.Sincos(angle)
	x, y := cos*a.lower[0]-sin*a.lower[1], sin*a.lower[0]+cos*a.lower[1]
	dx, dy := x-a.upper[0], y-a.upper[1]
	length = math.Hypot(dx, dy)
	return length, -(dx*-y + dy*x) * turning / length
}

func (a *knownArm) compression(t float64) float64 {
	start, _ := a.length(0)
	now, _ := a.length(t)
	return start - now
}

func (a *knownArm) leverage(t float64) float64 {
	_, rate := a.length(t)
	return 1 / rate
}

// velocity of the axle, and forward of the contact point with the wheel locked to the arm.
func (a *knownArm) velocity(t float64) (vx, vz, contact float64) {
	sin, cos := math.Sincos(a.c.Chassis.HeadAngle)
	slope := (armHalf - t) / a.reach(t)
	vx, vz = slope*sin-cos, slope*cos+sin
	return vx, vz, vx + a.c.Chassis.FrontRadiusMM/a.reach(t)
}

func (a *knownArm) antiDive(t float64) float64 {
	_, vz, contact := a.velocity(t)
	return 100 * 0.7 * contact / vz * 1300 / 980
}

func (a *knownArm) trail(t float64) float64 {
	return Trail70(a.ahead(t))
}

// Trail70 is the trail of the bike of these tests with its head angle steady at 70 degrees.
func Trail70(ahead float64) float64 { return (258*math.Cos(70*deg) - ahead) / math.Sin(70*deg) }

func (a *knownArm) wheelbase(t float64) float64 {
	return 1300 - t*math.Cos(70*deg) + (a.ahead(t)-armOffset)*math.Sin(70*deg)
}

// load at rest on the front wheel.
const armLoad = 170 * 9.80665 * 450 / 1300

// coil is the rate of each of the two springs.
func (a *knownArm) coil() float64 {
	_, vz, _ := a.velocity(25)
	return armLoad * vz * a.leverage(25) / (2 * a.compression(25))
}

func (a *knownArm) wheelForce(t float64) float64 {
	_, vz, _ := a.velocity(t)
	return 2 * a.coil() * a.compression(t) / (a.leverage(t) * vz)
}

// dive by bisection on the work under braking at half of gravity. The fork rises with a caliper on
// the arm, for its anti-dive is well above 100 %.
func (a *knownArm) dive() float64 {
	work := func(t float64) float64 {
		_, vz, contact := a.velocity(t)
		braking := 170 * 9.80665 * 0.5
		return (armLoad+braking*980/1300)*vz - 0.7*braking*contact - 2*a.coil()*a.compression(t)/a.leverage(t)
	}
	low, high := 0.0, 25.0
	for range 100 {
		if mid := (low + high) / 2; work(mid)*work(25) > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	return low - 25
}

// extremes over the 33 samples.
func extremes(from int, of func(float64) float64) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	for i := from; i <= 32; i++ {
		x := of(100 * float64(i) / 32)
		least, most = math.Min(least, x), math.Max(most, x)
	}
	return least, most
}

// rms by the trapezium rule over the samples from one on.
func rms(from int, of func(float64) float64) float64 {
	sum := 0.0
	for i := from; i < 32; i++ {
		a, b := of(100*float64(i)/32), of(100*float64(i+1)/32)
		sum += (a*a + b*b) / 2
	}
	return math.Sqrt(sum / float64(32-from))
}

func beyond(x, low, high float64) float64 { return math.Max(0, math.Max(low-x, x-high)) }

// answers are all measures of the arm. The sag of 25 mm falls on sample 8.
func (a *knownArm) answers() map[string]float64 {
	sagitta := a.radius - armReach
	leastLR, mostLR := extremes(0, a.leverage)
	leastDive, mostDive := extremes(8, a.antiDive)
	short, long := extremes(0, a.wheelbase)
	leastTrail, _ := extremes(0, a.trail)
	_, vzSag, _ := a.velocity(25)
	const h = 1e-4
	return map[string]float64{
		"path_straightness_mm":        sagitta,
		"path_inclination_deg":        0,
		"offset_variation_mm":         sagitta,
		"trail_variation_mm":          sagitta / math.Sin(70*deg),
		"trail_at_sag_mm":             a.trail(25),
		"trail_min_mm":                leastTrail,
		"trail_vs_telescopic_mm":      sagitta / math.Sin(70*deg),
		"trail_loss_braking_mm":       a.trail(25) - a.trail(25+a.dive()),
		"wheelbase_variation_mm":      long - short,
		"leverage_start":              a.leverage(0),
		"leverage_end":                a.leverage(100),
		"leverage_min":                leastLR,
		"leverage_max":                mostLR,
		"progression_pct":             100 * (a.leverage(0) - a.leverage(100)) / a.leverage(0),
		"leverage_band_error_pct":     100 * rms(0, func(t float64) float64 { return beyond(a.leverage(t), 1.9, 2.4) }) / 2.15,
		"anti_dive_at_sag_pct":        a.antiDive(25),
		"anti_dive_min_pct":           leastDive,
		"anti_dive_max_pct":           mostDive,
		"anti_dive_band_error_pct":    rms(8, func(t float64) float64 { return beyond(a.antiDive(t), 0, 50) }),
		"brake_dive_mm":               a.dive(),
		"brake_dive_vs_telescopic_mm": a.dive() - telescopicDive(),
		"spring_rate_n_per_mm":        a.coil(),
		"wheel_rate_at_sag_n_per_mm":  (a.wheelForce(25+h) - a.wheelForce(25-h)) / (2 * h) / vzSag,
		"bottom_out_force_n":          a.wheelForce(100),
		"coil_step_error_n_per_mm":    math.Min(math.Abs(a.coil()-44), math.Min(math.Abs(a.coil()-70), math.Abs(a.coil()-114))),
		"shock_stroke_used_mm":        a.compression(100),
		"shock_stroke_used_pct":       a.compression(100) / 55 * 100,
		"shock_stroke_left_mm":        55 - a.compression(100),
	}
}

// telescopicDive with a steady head angle: the spring balances the load times sin H at 25 mm; under
// braking load and transfer times sin H, and the front's braking force times cos H, push instead.
func telescopicDive() float64 {
	braking := 170 * 9.80665 * 0.5
	push := (armLoad+braking*980/1300)*math.Sin(70*deg) + 0.7*braking*math.Cos(70*deg)
	return 25*push/(armLoad*math.Sin(70*deg)) - 25
}

// answeredIn names the test that holds the known answer of a measure that an arm cannot show.
var answeredIn = map[string]string{
	"air_pressure_bar":            "TestAirPressureOfAnArm",
	"transmission_angle_min_deg":  "TestTransmissionAngleOfATextbook",
	"mass_g":                      "TestStructureOfAnArmByHand",
	"linkage_mass_g":              "TestStructureOfAnArmByHand",
	"unsprung_mass_g":             "TestStructureOfAnArmByHand",
	"steering_inertia_kg_cm2":     "TestStructureOfAnArmByHand",
	"fore_aft_stiffness_n_per_mm": "TestStructureOfAnArmByHand",
	"tube_diameter_max_mm":        "TestStructureOfAnArmByHand",
	"bearing_load_max_n":          "TestStructureOfAnArmByHand",
	"friction_static_n":           "TestStructureOfAnArmByHand",
	"friction_braking_n":          "TestStructureOfAnArmByHand",
	"slide_binding_pct":           "TestSlidesBindWhereTheOverlapShrinks",
	"clearance_mm":                "TestClearanceByHand",
	"hub_clearance_mm":            "TestClearanceByHand",
	"cost_index":                  "TestStructureOfAnArmByHand",

	"axle_path_angle_at_sag_deg":     "TestDampingOfAnArmByHand",
	"damper_coefficient_ns_per_m":    "TestDampingOfAnArmByHand",
	"damper_misfit_pct":              "TestDampingOfAnArmByHand",
	"damping_variation_pct":          "TestDampingOfAnArmByHand",
	"breakaway_static_mm":            "TestDampingOfAnArmByHand",
	"breakaway_braking_mm":           "TestDampingOfAnArmByHand",
	"body_frequency_hz":              "TestDampingOfAnArmByHand",
	"wheel_hop_frequency_hz":         "TestDampingOfAnArmByHand",
	"transmissibility_peak":          "TestDampingOfAnArmByHand",
	"road_grip_rms_pct":              "TestDampingOfAnArmByHand",
	"road_acceleration_rms_m_per_s2": "TestDampingOfAnArmByHand",
	"road_travel_rms_mm":             "TestDampingOfAnArmByHand",
	"best_comfort_damping_ratio":     "TestDampingOfAnArmByHand",
	"best_grip_damping_ratio":        "TestDampingOfAnArmByHand",

	"lateral_stiffness_n_per_mm":        "TestOutOfPlaneStiffnessOfAnArm",
	"torsional_stiffness_nm_per_deg":    "TestOutOfPlaneStiffnessOfAnArm",
	"proof_margin_min":                  "TestProofOfAFork",
	"fatigue_damage":                    "TestProofOfAFork",
	"tolerance_path_straightness_mm":    "TestTolerancesAgainstScatter",
	"tolerance_trail_variation_mm":      "TestTolerancesAgainstScatter",
	"tolerance_progression_pct":         "TestTolerancesAgainstScatter",
	"tolerance_leverage_band_error_pct": "TestTolerancesAgainstScatter",
	"tolerance_anti_dive_at_sag_pct":    "TestTolerancesAgainstScatter",
	"tolerance_brake_dive_mm":           "TestTolerancesAgainstScatter",
}

func TestEveryMeasureHasAKnownAnswer(t *testing.T) {
	arm := newKnownArm()
	var s Score
	newScorer(arm.c).Score(&s, arm.design(t))
	known := arm.answers()
	tests := testsHere(t)
	for i := range Measures {
		name := Measures[i].Name
		want, there := known[name]
		if !there {
			if test := answeredIn[name]; !tests[test] {
				t.Errorf("%s has no known answer: neither here nor in a test named for it (%q)", name, test)
			}
			continue
		}
		// 1e-8: rounding, and the step of the central difference for the wheel rate.
		if s.Missing[i] != "" || math.Abs(s.Values[i]-want) > 1e-8*(1+math.Abs(want))*slack(name) {
			t.Errorf("%s: %.12g, want %.12g; missing %q", name, s.Values[i], want, s.Missing[i])
		}
	}
}

func slack(name string) float64 {
	if name == "wheel_rate_at_sag_n_per_mm" {
		return 100 // from a central difference
	}
	return 1
}

// testsHere are the names of the tests of this package.
func testsHere(t *testing.T) map[string]bool {
	var files []string
	for _, rooms := range []string{"*_test.go", "*/*_test.go"} {
		found, err := filepath.Glob(rooms)
		if err != nil || len(found) == 0 {
			t.Fatal(rooms, err)
		}
		files = append(files, found...)
	}
	names := map[string]bool{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`(?m)^func (Test\w+)\(`).FindAllStringSubmatch(string(text), -1) {
			names[strings.TrimSpace(m[1])] = true
		}
	}
	return names
}

// Norton, Design of Machinery, example 4-1 (value from memory, recomputed): the transmission angle
// of the four-bar 100, 40, 120, 80 at 40 degrees is 37.026997 degrees. Turned into a fork's frame,
// the crank rises by no more than a hair.
func TestTransmissionAngleOfATextbook(t *testing.T) {
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "four-bar", Ground: "ground", Bodies: []string{"ground", "crank", "coupler", "rocker"}, Axle: "coupler", Shock: [2]string{"ground", "crank"},
		Pivots: []scheme.PivotSpec{
			{Name: "o2", Bodies: []string{"ground", "crank"}},
			{Name: "a", Bodies: []string{"crank", "coupler"}},
			{Name: "b", Bodies: []string{"coupler", "rocker"}},
			{Name: "o4", Bodies: []string{"ground", "rocker"}},
		},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c := conditions()
	c.TravelMM = 1e-6
	prepare(c)
	sin, cos := math.Sincos(40 * deg)
	rocker, far := math.Sincos(57.324880 * deg)
	d := &Design{Mechanism: m, Layout: make([]kinematics.Vec[float64], len(m.Points)), Shock: fork.Shock{Count: 1, StrokeMM: 50}}
	for name, p := range map[string]kinematics.Vec[float64]{
		"o2": {}, "o4": {Along: 100}, "a": {Along: 40 * cos, Ahead: 40 * sin}, "b": {Along: 100 + 80*far, Ahead: 80 * rocker},
		"axle": {Along: 408, Ahead: 38}, "shock_upper": {Along: -100}, "shock_lower": {Along: 10, Ahead: 30},
	} {
		d.Layout[m.Point(name)] = p
	}
	var s Score
	newScorer(c).Score(&s, d)
	if got := s.Values[Index("transmission_angle_min_deg")]; math.Abs(got-37.026997) > 2e-6 {
		t.Errorf("%.6f, want 37.026997", got)
	}
}
