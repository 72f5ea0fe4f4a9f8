package objectives

import (
	"math"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/loads"
)

// upright is a fork on a vertical steering axis: one leg straight down to the pivot, and a
// straight arm that lies level at sag. Its only load is a push backward.
func upright(t *testing.T, reach float64) (*Conditions, *Design) {
	t.Helper()
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "upright", Ground: "legs", Bodies: []string{"legs", "arm"}, Axle: "arm", Shock: [2]string{"legs", "arm"},
		Pivots: []scheme.PivotSpec{{Name: "pivot", Bodies: []string{"legs", "arm"}}},
		Members: []scheme.MemberSpec{
			{Body: "legs", From: "root", To: "pivot"},
			{Body: "legs", From: "root", To: "shock_upper"},
			{Body: "arm", From: "pivot", To: "shock_lower"},
			{Body: "arm", From: "shock_lower", To: "axle"},
		},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c := conditions()
	c.Chassis.HeadAngle, c.Chassis.Level = 90*deg, true
	sin := 25. / 200 // the arm of 200 mm hangs 25 mm below the pivot at top-out
	cos := math.Sqrt(1 - sin*sin)
	c.Chassis.AxleToCrownMM, c.Chassis.ForkOffsetMM = 25+reach+25, 200*cos
	c.Structure.ForeAftNPerMM = 0
	c.Structure.Cases = []loads.Case{{Name: "push", At: loads.AtSag, RearwardN: 1200}}
	prepare(c)
	d := &Design{Mechanism: m, Layout: make([]kinematics.Vec[float64], len(m.Points)), Shock: fork.Shock{Count: 1, StrokeMM: 50}, Across: fork.DefaultAcross(m), Material: fork.MaterialNamed("7075-T6")}
	clear(d.Across.HalfWidthMM) // one tube each, in the mid-plane
	for name, p := range map[string][2]float64{
		"root": {25, 0}, "pivot": {25 + reach, 0}, "axle": {25 + reach + 25, 200 * cos},
		"shock_upper": {25, 100}, "shock_lower": {25 + reach + 12.5, 100 * cos},
	} {
		d.Layout[m.Point(name)] = kinematics.Vec[float64]{Along: p[0], Ahead: p[1]}
	}
	return c, d
}

// A push along the arm passes the pivot without a moment, so the shock bears nothing and each leg is a
// cantilever: Z = M / (yield / 1.5), and the axle yields by L³/(3 E I) of the leg and b/(E A) of the arm (closed form).
func TestForkThatIsACantilever(t *testing.T) {
	for _, reach := range []float64{200, 300, 400} {
		c, d := upright(t, reach)
		sc := newScorer(c)
		var s Score
		sc.Score(&s, d)
		i := Index("fore_aft_stiffness_n_per_mm")
		if s.Missing[i] != "" {
			t.Fatal(s.Missing[i])
		}
		give := 0.0
		for k, mb := range d.Mechanism.Members() {
			tube := Sizes(sc.study(nil)).Members[k]
			inside := tube.DiameterMM - 2*tube.WallMM
			area := math.Pi / 4 * (tube.DiameterMM*tube.DiameterMM - inside*inside)
			inertia := math.Pi / 64 * (math.Pow(tube.DiameterMM, 4) - math.Pow(inside, 4))
			switch body, to := d.Mechanism.Bodies[mb.Body], d.Mechanism.Points[mb.To]; {
			case body == "legs" && to == "pivot":
				give += reach * reach * reach / (3 * 71020 * inertia)
				stress := 1200 * reach * tube.DiameterMM / 2 / inertia
				if tube.Governs != structure.Strength || math.Abs(stress-482.6/1.5) > 1e-6 {
					t.Errorf("leg of %g: ⌀%g bears %g MPa, governed by %s", reach, tube.DiameterMM, stress, tube.Governs)
				}
			case body == "legs":
				if tube.Governs != structure.Gauge {
					t.Errorf("what carries nothing is governed by %s", tube.Governs)
				}
			default: // half of the arm each
				give += 100 / (71020 * area)
			}
		}
		if got := s.Values[i]; math.Abs(got-1/give) > 1e-9*got {
			t.Errorf("leg of %g: %.10g N/mm, closed form %.10g", reach, got, 1/give)
		}
		if pin := s.Values[Index("bearing_load_max_n")]; math.Abs(pin-1200) > 1e-6 {
			t.Errorf("the pivot bears %.9g N of 1200", pin)
		}
	}
}

// The upper link of a girder is only pulled or compressed, between two pins. Where buckling governs it, each
// of its tubes stands 1.5 times half the pin force between its ends by Euler: I = 1.5 F L² / (π² E). Its
// gauge is thin and its yield out of reach here, so that it comes to that.
func TestLinkOfAGirderInBuckling(t *testing.T) {
	buckled := 0
	sizedForks(t, 200, func(c *Conditions, d *Design) {
		c.Structure.Tubes.MinWallMM, c.Structure.Tubes.WallShare, c.Structure.Tubes.MinDiameterMM = 0.05, 0.03, 4
		c.Structure.ForeAftNPerMM = 0
		c.Structure.Cases = []loads.Case{{Name: "pull forward", At: loads.TopOut, RearwardN: -1200}} // presses it
		d.Material = &fork.Material{Name: "as stiff as 7075, and stronger than any", YoungMPa: 71020, DensityKGM3: 2795.7, YieldMPa: 1e5}
		sc := newScorer(c)
		var s Score
		sc.Score(&s, d)
		z := Sizes(sc.study(nil))
		m := d.Mechanism
		for k, mb := range m.Members() {
			tube := z.Members[k]
			if m.Bodies[mb.Body] != "upper_link" || tube.Governs != structure.Buckling {
				continue
			}
			buckled++
			length := kinematics.Distance(d.Layout[m.Point("upper_rear")], d.Layout[m.Point("upper_front")])
			pin := 0.0
			for j := range m.Joints() {
				if _, _, point := m.Joint(j); m.Points[point] == "upper_front" {
					pin = z.Pivots[j].LoadN
				}
			}
			inside := tube.DiameterMM - 2*tube.WallMM
			inertia := math.Pi / 64 * (math.Pow(tube.DiameterMM, 4) - math.Pow(inside, 4))
			if want := 1.5 * pin / 2 * length * length / (math.Pi * math.Pi * 71020); math.Abs(inertia-want) > 1e-7*want {
				t.Errorf("%g N on %g mm: I %.9g, by Euler %.9g", pin, length, inertia, want)
			}
		}
	})
	if buckled < 10 {
		t.Errorf("only %d links were governed by buckling", buckled)
	}
}

// Materials of MIL-HDBK-5J (2003), published: E in GPa, density in kg/m³, yield in MPa.
func TestMaterials(t *testing.T) {
	published := map[string][3]float64{
		"6061-T6": {68.26, 2712.6, 241.3}, "7075-T6": {71.02, 2795.7, 482.6}, "2024-T3": {72.39, 2768.0, 324.1},
		"Ti-6Al-4V": {110.32, 4428.8, 868.7}, "4130": {199.95, 7833.4, 517.1},
	}
	for name, want := range published {
		m := fork.MaterialNamed(name)
		if m == nil || m.YoungMPa != want[0]*1e3 || m.DensityKGM3 != want[1] || m.YieldMPa != want[2] {
			t.Errorf("%s: %+v, want %v", name, m, want)
		}
	}
	if fork.MaterialNamed("unobtainium") != nil {
		t.Error("a material that is none is on hand")
	}
}
