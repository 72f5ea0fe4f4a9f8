package simulation

import (
	"math"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/stance"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
)

// Between nodes the tables agree with the solved motion: 2e-9 m for places, 2e-6 for rates. Beyond full travel and below
// top-out they agree with the same fork laid out elsewhere on its travel; one of these girders has a dead point close below
// top-out, where the tables are good for a micrometre.
func TestTablesFollowTheMotion(t *testing.T) {
	rs, s := cargo()
	for _, f := range append(randomGirders(t, &rs, 5), floating(&rs), twinLinks(&rs)) {
		var b bike
		b.set(&s, &f.Fork)
		within := 2e-9
		check := func(motion *kinematics.Motion, from, travel float64) {
			t.Helper()
			var st stance.State[float64]
			var d stance.Second[float64]
			if !motion.Solve(&st, &d, travel-from) {
				return
			}
			var p position
			b.linkage.at(&p, travel*perMM)
			for what, off := range map[string]float64{
				"ahead": p.ahead - st.Ahead*perMM, "shock": p.shock - (f.motion.States[0].ShockMM-st.ShockMM)*perMM,
				"ahead's rate": (p.aheadRate - st.AheadRate) * 1e-3, "shock's rate": (p.shockRate - st.ShockRate) * 1e-3,
				"brake's rate": (p.brakeRate*perMM - st.BrakeRate) * 1e-3, "ahead's bend": (p.aheadBend*perMM - d.Ahead) * 1e-5,
			} {
				if math.Abs(off) > within {
					t.Errorf("at %g mm: %s is off by %g", travel, what, off)
				}
			}
		}
		for travel := 0.0; travel <= rs.TravelMM; travel += 1.7 {
			check(&f.motion, 0, travel)
		}
		at := f.motion.States[8] // further up its travel: 25 mm
		up := rs
		up.Chassis.AxleToCrownMM, up.Chassis.ForkOffsetMM = at.Along, at.Ahead
		up.TravelMM -= at.TravelMM
		later := swept(&up, f, mechanism.Positions(f.mechanism, nil, &at, f.layout))
		for _, travel := range []float64{103, 108, 114} {
			check(later, at.TravelMM, travel)
		}
		down := rs
		var low stance.State[float64]
		if !f.motion.Solve(&low, nil, -12) {
			t.Fatal("the motion does not continue below top-out")
		}
		down.Chassis.AxleToCrownMM, down.Chassis.ForkOffsetMM = low.Along, low.Ahead
		earlier := swept(&down, f, mechanism.Positions(f.mechanism, nil, &low, f.layout))
		within = 1e-6
		for _, travel := range []float64{-9, -5, -1} {
			check(earlier, -12, travel)
		}
	}
}

// swept sweeps a fork from another layout.
func swept(s *ride.Setting, f *made, layout []kinematics.Vec[float64]) *kinematics.Motion {
	var mo kinematics.Motion
	mo.Sweep(f.mechanism, &s.Chassis, layout, s.TravelMM, s.Samples)
	return &mo
}

// The energy of springs is the integral of their force: Simpson's rule, coil with preload and air.
func TestSpringEnergyIsTheWorkOfTheForce(t *testing.T) {
	rs, _ := cargo()
	g := randomGirders(t, &rs, 1)[0]
	coil := newMade(&rs, g.mechanism, g.layout, fork.Shock{Count: 1, StrokeMM: 60, PreloadMM: 3})
	for name, f := range map[string]*made{"coil": coil, "air": twinLinks(&rs)} {
		const n = 2000
		work, end := 0.0, 40.0
		for i := range n {
			a, h := end*float64(i)/n, end/n
			work += h / 6 * (ride.SpringForce(&f.ride, a) + 4*ride.SpringForce(&f.ride, a+h/2) + ride.SpringForce(&f.ride, a+h))
		}
		if got := ride.SpringEnergy(&f.ride, end); math.Abs(got/work-1) > 1e-9 {
			t.Errorf("%s: %.12g, want %.12g", name, got, work)
		}
	}
}
