package objectives

import (
	"math"
	"testing"

	"forkfront/objectives/fork"
	"forkfront/objectives/structure"
)

// Every measure of the structure for the known arm, against the calculation by hand.
func TestStructureOfAnArmByHand(t *testing.T) {
	a, d := newHandArm(t)
	a.c.Structure.ForeAftNPerMM = 0
	d.Across.Shafts[d.Mechanism.Point("pivot")] = fork.ShaftThrough // shares the brake's torque between the sides
	prepare(a.c)
	var s Score
	sc := newScorer(a.c)
	sc.Score(&s, d)
	pin := a.size()
	want := a.weigh(d, Sizes(sc.study(nil)), pin)
	for name, w := range want {
		i := Index(name)
		if s.Missing[i] != "" {
			t.Errorf("%s: missing: %s", name, s.Missing[i])
		} else if math.Abs(s.Values[i]-w) > 1e-7*w { // rounding, and a central difference for the turning
			t.Errorf("%s: %.10g, by hand %.10g", name, s.Values[i], w)
		}
	}
	if len(want) != 10 {
		t.Errorf("%d measures checked", len(want))
	}
}

// weigh is what the parts of the arm come to. The one pivot: half the pin force a side bends a hollow
// shaft of 4130 at a lever of 27 mm, from the arm at ±72 to the legs at ±45, and bears on a bush.
func (a *handArm) weigh(d *Design, z *structure.Sized[float64], pin float64) map[string]float64 {
	half := pin / 2
	shaft := math.Cbrt(half * 27 * 1.5 / 517.1 * 32 / math.Pi / (1 - 0.2401))
	bore := math.Max(shaft, math.Sqrt(half/60))
	length := 2 * (72 + 12.0) // from side to side
	steel := 7.85e-3 * math.Pi / 4 * 0.51 * length
	pivot := steel*bore*bore + 2*bore*math.Pi*((bore+1)*8e-3+2*(bore+4)*a.density)
	var tubes, moving, inertia float64
	m0, mSag := a.members(0), a.members(25)
	pivotAhead := armOffset - armReach
	parts := func(mass float64, from, to xy, width float64) { // a thin rod about the steering axis
		p, q := from[1]+pivotAhead, to[1]+pivotAhead
		inertia += mass * ((p*p+p*q+q*q)/3 + width*width)
	}
	_, turning := a.turn(25)
	for i, m := range m0 {
		area, _, _ := tube(a.diameter[i])
		mass := 2 * area * (m[0].to(m[1]).size() + a.diameter[i]) * a.density // a joint of half a diameter at each end
		tubes += mass
		parts(mass, m[0], m[1], []float64{45, 45, 72, 72}[i])
		if i > 1 { // ends at the turning times their distance
			p, q := mSag[i][0], mSag[i][1]
			moving += mass * turning * turning * (p[0]*p[0] + p[1]*p[1] + p[0]*q[0] + p[1]*q[1] + q[0]*q[0] + q[1]*q[1]) / 3
		}
	}
	eye, _ := a.length(0)
	coil := a.coil() * 55 * 55 / 2 * 1.15 * 7.85e-3 * 4 * 79e3 / 810000
	shocks := 2 * (100 + 0.9*eye + 3.5*55 + coil)
	lower := mSag[2][1]
	moving += shocks * turning * turning * (lower[0]*lower[0] + lower[1]*lower[1]) / 3
	parts(shocks, a.upper, a.lower, 72)
	parts(pivot, xy{}, xy{}, 72/math.Sqrt(3)) // spread from side to side
	parts(115, m0[3][1], m0[3][1], 0)
	velocity := turning * mSag[3][1].size()
	rest, _ := a.pins(0, armLoad)
	braking := 170 * 9.80665 * 0.5
	stop, _ := a.pins(0.7*braking, armLoad+braking*980/1300)
	leverage := a.leverage(25)
	thick := 0.0
	for _, d := range a.diameter {
		thick = math.Max(thick, d)
	}
	return map[string]float64{
		"mass_g": tubes + pivot + shocks + 685, "linkage_mass_g": tubes + pivot,
		"unsprung_mass_g":         moving/(velocity*velocity) + 115,
		"steering_inertia_kg_cm2": inertia * 1e-5, "fore_aft_stiffness_n_per_mm": a.foreAft(d, z),
		"tube_diameter_max_mm": thick, "bearing_load_max_n": pin,
		"friction_static_n":  60/leverage + 0.05*rest*bore/2*turning,
		"friction_braking_n": 60/leverage + 0.05*stop*bore/2*turning,
		"cost_index":         (90 + 2*150 + 8*6 + tubes/1000*30 + 8 + 2*2) / 400,
	}
}

// pins is the pin force at sag under a braking force and a load at the contact point.
func (a *handArm) pins(backward, load float64) (pin float64, all [4]cut) {
	all, pin = a.cuts(25, ground(-backward, load), -backward*258)
	return pin, all
}
