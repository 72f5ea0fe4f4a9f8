package simulation

import (
	"math/rand/v2"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
	"forkfront/objectives/trial"
)

// cargo is an invented cargo bike.
func cargo() (ride.Setting, Setting) {
	s, _ := trial.Damped()
	return s, Setting{
		FrontTyreNPerMM: 140, RearTyreNPerMM: 160, UnsprungRearKG: 5, PitchInertia: 0.12, HandsMM: kinematics.Vec[float64]{Along: -260, Ahead: -150},
		StopMPerS: 10, DropMM: 150, Bump: Bump{HeightMM: 30, RampMM: 20, TopMM: 120, FreeMPerS: 5, BrakedMPerS: 8}, RoadClass: 'C', RoadMPerS: 6,
	}
}

// made is a fork with what it was made of.
type made struct {
	Fork
	mechanism *mechanism.Mechanism
	layout    []kinematics.Vec[float64]
	motion    kinematics.Motion
	ride      ride.Ride[float64]
	shock     fork.Shock
}

// newMade builds a fork with the damper that it needs; nil where it has no rest at sag.
func newMade(s *ride.Setting, m *mechanism.Mechanism, layout []kinematics.Vec[float64], shock fork.Shock) *made {
	f := &made{mechanism: m, layout: layout, shock: shock}
	f.motion.Sweep(m, &s.Chassis, layout, s.TravelMM, s.Samples)
	ride.Study(&f.ride, s, ride.NewBaseline(s), &f.shock, &f.motion, m)
	if f.ride.Missing[ride.NeedDive] != "" {
		return nil
	}
	f.Fork = damped(&f.ride, &f.motion)
	f.FrictionN, f.BrakedN = 15, 50
	return f
}

func damped(r *ride.Ride[float64], by Solver) Fork {
	var q quarter.Quarter[float64]
	quarter.Study(&q, &quarter.Setting{TyreNPerMM: 140, DampingRatio: 0.4, ReboundPerCompression: 2}, r)
	compression, rebound := quarter.Directions(quarter.DamperCoefficient(&q), 2)
	return Fork{Ride: r, Motion: by, Adjustment: quarter.Adjustment{CompressionNS: compression, ReboundNS: rebound}}
}

// telescopic is the baseline.
func telescopic(s *ride.Setting) *Fork {
	b := ride.NewBaseline(s)
	f := damped(b.Ride, b)
	f.FrictionN, f.BrakedN = 30, 120
	return &f
}

// randomGirders are girders that have a rest at sag and in a hard stop.
func randomGirders(t testing.TB, s *ride.Setting, n int) (all []*made) {
	t.Helper()
	g, r := trial.Girder(), rand.New(rand.NewPCG(1, 2))
	for range 50 * n {
		if f := newMade(s, g, trial.Layout(g, r), fork.Shock{Count: 1, StrokeMM: 60}); f != nil {
			if all = append(all, f); len(all) == n {
				return all
			}
		}
	}
	t.Fatal("too few girders work")
	return nil
}

// floating is a leading arm whose caliper sits on a carrier with a reaction link, and twinLinks a carrier on two short links.
func floating(s *ride.Setting) *made {
	m := trial.Compile(scheme.MechanismSpec{
		Name: "floating", Ground: "legs", Bodies: []string{"legs", "arm", "carrier", "reaction"}, Axle: "arm", Brake: "carrier",
		Pivots: []scheme.PivotSpec{
			{Name: "arm_pivot", Bodies: []string{"legs", "arm"}},
			{Name: "axle", Bodies: []string{"arm", "carrier"}},
			{Name: "carrier_pin", Bodies: []string{"carrier", "reaction"}},
			{Name: "reaction_anchor", Bodies: []string{"reaction", "legs"}},
		},
		Shock: [2]string{"legs", "arm"},
	})
	return newMade(s, m, placed(m, map[string][2]float64{
		"arm_pivot": {399.8, -200}, "carrier_pin": {302.2, 30.2}, "reaction_anchor": {318.6, -128.2}, "axle": {408, 38},
		"shock_lower": {439.6, -95.6}, "shock_upper": {229.8, -105.8},
	}), fork.Shock{Count: 2, StrokeMM: 50})
}

func twinLinks(s *ride.Setting) *made {
	m := trial.Compile(scheme.MechanismSpec{
		Name: "links", Ground: "legs", Bodies: []string{"legs", "lower", "upper", "carrier"}, Axle: "carrier",
		Pivots: []scheme.PivotSpec{
			{Name: "lower_leg", Bodies: []string{"legs", "lower"}},
			{Name: "lower_carrier", Bodies: []string{"lower", "carrier"}},
			{Name: "upper_leg", Bodies: []string{"legs", "upper"}},
			{Name: "upper_carrier", Bodies: []string{"upper", "carrier"}},
		},
		Shock: [2]string{"legs", "lower"},
	})
	return newMade(s, m, placed(m, map[string][2]float64{
		"lower_carrier": {416.1, 59.7}, "lower_leg": {396.4, -149.9}, "shock_lower": {406.8, -59.5}, "shock_upper": {202.8, -109.3},
		"upper_carrier": {272.8, 50}, "upper_leg": {305.6, -143.7}, "axle": {408, 38},
	}), fork.Shock{Count: 2, StrokeMM: 50, Air: &fork.AirSpring{BoreMM: 28, ChamberMM: 75, Exponent: 1.3}})
}

func placed(m *mechanism.Mechanism, at map[string][2]float64) []kinematics.Vec[float64] {
	layout := make([]kinematics.Vec[float64], len(m.Points))
	for i, name := range m.Points {
		layout[i] = kinematics.Vec[float64]{Along: at[name][0], Ahead: at[name][1]}
	}
	return layout
}

// each visits the quantities that an event has of a fork.
func each(r *Results, visit func(event, quantity int, value float64)) {
	for i := range Events {
		for _, q := range Events[i].Has {
			if r[i].Known(q) == "" {
				visit(i, q, r[i].Values[q])
			}
		}
	}
}
