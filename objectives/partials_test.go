package objectives

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
)

func floating(t testing.TB) *mechanism.Mechanism {
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "leading-arm-floating-brake", Ground: "legs", Bodies: []string{"legs", "arm", "carrier", "reaction"},
		Pivots: []scheme.PivotSpec{
			{Name: "arm_pivot", Bodies: []string{"legs", "arm"}},
			{Name: "axle", Bodies: []string{"arm", "carrier"}},
			{Name: "carrier_pin", Bodies: []string{"carrier", "reaction"}},
			{Name: "reaction_anchor", Bodies: []string{"reaction", "legs"}},
		},
		Axle: "arm", Brake: "carrier", Shock: [2]string{"legs", "arm"},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return m
}

// designFloating draws a leading arm with a floating brake for the bike of conditions.
func designFloating(m *mechanism.Mechanism, r *rand.Rand) *Design {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	d := &Design{Mechanism: m, Layout: make([]kinematics.Vec[float64], len(m.Points)), Shock: fork.Shock{Count: 2, EyeToEyeMM: 165, StrokeMM: 45}}
	for name, p := range map[string]kinematics.Vec[float64]{
		"root": {Along: 25}, "axle": {Along: 408, Ahead: 38}, "arm_pivot": {Along: in(340, 420), Ahead: in(-200, -100)},
		"carrier_pin": {Along: in(300, 380), Ahead: in(0, 100)}, "reaction_anchor": {Along: in(250, 400), Ahead: in(-150, -40)},
		"shock_upper": {Along: in(140, 230), Ahead: in(-110, -60)}, "shock_lower": {Along: in(330, 390), Ahead: in(-90, -30)},
	} {
		d.Layout[m.Point(name)] = p
	}
	return d
}

// Derivatives by virtual work, shared by all directions, against the shadow along each, for every measure
// of motion, pitching and level, with coils and air.
func TestPartialsAgreeWithTheTangent(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	checked := make([]int, len(Measures))
	for _, kind := range []struct {
		m      *mechanism.Mechanism
		random func(*mechanism.Mechanism, *rand.Rand) *Design
	}{{girder(t), randomDesign}, {floating(t), designFloating}} {
		for range 150 {
			c := conditions()
			c.Structure, c.Chassis.Level, c.BrakingG = nil, r.IntN(2) == 0, 0.2+0.4*r.Float64()
			prepare(c)
			d := kind.random(kind.m, r)
			if r.IntN(3) == 0 {
				d.Shock.Air = &fork.AirSpring{BoreMM: 38, ChamberMM: 120, Exponent: 1.3}
			}
			sc := newScorer(c)
			var s Score
			if sc.Score(&s, d); s.Fault != "" {
				continue
			}
			for range 3 {
				direction := make([]kinematics.Vec[float64], len(d.Layout))
				for i := range direction {
					if r.IntN(2) == 0 {
						direction[i] = kinematics.Vec[float64]{Along: r.NormFloat64(), Ahead: r.NormFloat64()}
					}
				}
				got, want := make([]float64, len(Measures)), make([]float64, len(Measures))
				var motion []int
				for i := range Measures {
					if Measures[i].Needs < NeedStructure && !Measures[i].Slow() && !Measures[i].second {
						motion = append(motion, i)
					}
				}
				sc.study(d).Slope(got, direction, motion)
				sc.derivative.ByTangent = true
				sc.study(d).Slope(want, direction, motion)
				sc.derivative.ByTangent = false
				for _, i := range motion {
					if s.Missing[i] != "" {
						continue
					}
					if math.Abs(got[i]-want[i]) > 1e-7*(1+math.Abs(want[i])) { // what is left of sameRates near dead points
						t.Fatalf("%s of a %s: %.12g, shadow %.12g", Measures[i].Name, kind.m.Name, got[i], want[i])
					}
					checked[i]++
				}
			}
		}
	}
	for i, n := range checked {
		if Measures[i].Needs < NeedStructure && !Measures[i].Slow() && !Measures[i].second && n < 100 {
			t.Errorf("%s was checked %d times only", Measures[i].Name, n)
		}
	}
}

func TestSlopeAllocatesNothing(t *testing.T) {
	sc, d := bench(t, nil)
	which := searched()
	direction := make([]kinematics.Vec[float64], len(d.Layout))
	direction[2].Along = 1
	slopes := make([]float64, len(Measures))
	var s Score
	if n := testing.AllocsPerRun(20, func() { sc.Score(&s, d); sc.study(d).Slope(slopes, direction, which) }); n > 0 {
		t.Fatalf("%v allocations a gradient", n)
	}
}
