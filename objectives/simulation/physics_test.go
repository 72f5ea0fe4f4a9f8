package simulation

import (
	"flag"
	"math"
	"testing"

	"forkfront/kinematics/stance"
	"forkfront/objectives/ride"
)

var (
	forks = flag.Int("forks", 4, "number of random forks whose energy is checked in all events; 200 take some minutes")
	every = flag.Bool("every", false, "check the energy in all events of all these forks at a tenth of the step too (2 s for each fork), and half the step on more forks")
)

// Kinetic energy, height, springs, tyres, stops and the work that is lost add up to the same all the time: within half of the 1 J
// from which a run does not count at the usual step, and within 0.05 J at a tenth of it, in all events. A simulation without the forces that act at constant speeds
// would not.
func TestEnergyBalances(t *testing.T) {
	rs, s := cargo()
	p := NewPlan(s, &rs)
	coarse, fine := NewSimulator(), NewSimulator()
	fine.stepS = usualStepS / 10
	worst, most, far := 0.0, 0.0, 0
	for i, f := range randomGirders(t, &rs, *forks) {
		var r Results
		coarse.Run(&r, p, &f.Fork, AllEvents)
		for i := range r {
			if r[i].Missing != "" {
				t.Logf("%s: %s", Events[i].Name, r[i].Missing)
				far++
			}
		}
		worst = max(worst, coarse.offJ)
		if *every {
			fine.Run(&r, p, &f.Fork, AllEvents)
			most = max(most, fine.offJ)
			continue
		}
		if i%4 > 0 {
			continue
		}
		fine.set(&s, &f.Fork)
		fine.offJ = 0
		var o Outcome
		fine.stop(&o, p)
		fine.ripple(&o, p)
		fine.drop(&o, p)
		_ = fine.bump(&o, p.free[2], freeFootM, 6, 0)
		_ = fine.bump(&o, p.braked[2], brakeFootM, 9, p.brakingN)
		most = max(most, fine.offJ)
	}
	t.Logf("largest error %.3f J, at a tenth of the step %.4f J; %d events do not count", worst, most, far)
	if worst > 0.5 || most > 0.05 || most == 0 || far > 0 {
		t.Errorf("errors of %.3f and %.4f J; %d events do not count", worst, most, far)
	}
}

// Without friction, braking that grows slowly leads to the static rest: a ramp of 5 s and 5 s to calm down, to
// 1e-3 mm and 1e-6 rad, with and without rear suspension.
func TestSlowBrakingEndsOnTheStaticRest(t *testing.T) {
	rs, s := cargo()
	m, apart := NewSimulator(), 0.0
	for _, f := range append(randomGirders(t, &rs, 3), floating(&rs), twinLinks(&rs)) {
		f.FrictionN, f.BrakedN = 0, 0
		for _, rear := range []*RearSuspension{nil, {40, 900}} {
			s.Rear = rear
			m.set(&s, &f.Fork)
			start, ok := m.rest(0)
			want, stands := m.rest(rs.BrakingN())
			if !ok || !stands {
				continue
			}
			start.speed[forward] = 50
			m.record.begin(m, &start, window{math.Inf(-1), 0, 10})
			if why := m.run(&start, &scene{level, level, rs.BrakingN(), 5, 10}); why != "" {
				t.Fatal(why)
			}
			off := start.at[stroke] - want.at[stroke]
			apart = max(apart, math.Abs(off))
			if math.Abs(off) > 1e-6 {
				t.Errorf("travel %.6f mm, at rest %.6f", start.at[stroke]/perMM, want.at[stroke]/perMM)
			}
			if off := start.at[pitch] - want.at[pitch]; math.Abs(off) > 1e-6 {
				t.Errorf("pitch %.8f, at rest %.8f", start.at[pitch], want.at[pitch])
			}
		}
	}
	t.Logf("at most %.2g mm from the rest", apart/perMM)
}

// On stiff tyres the static rest is where virtual work balances on the chassis as it pitches, with the same spring: the contact
// point moves with the caliper's body, the rider with the frame, and the load on the front wheel follows from the moments about
// the rear contact point. With the centre of gravity left where it is given, and without the force that slows the wheel's own
// mass, the same balance is the measure brake_dive_mm: these two are all in which they differ.
func TestRestOnStiffTyresBalancesVirtualWork(t *testing.T) {
	rs, s := cargo()
	s.FrontTyreNPerMM, s.RearTyreNPerMM = 1e5, 1e5
	m, tried, apart := NewSimulator(), 0, 0.0
	rider, wheel, most := 0.0, 0.0, 0.0
	for _, f := range append(randomGirders(t, &rs, 30), floating(&rs), twinLinks(&rs)) {
		m.set(&s, &f.Fork)
		at, ok := m.rest(rs.BrakingN())
		still, stands := m.rest(0)
		rest := at.at[stroke] / perMM
		if !ok || !stands || rest < 1 || rest > rs.TravelMM-1 {
			continue
		}
		tried++
		balance := func(by pitched) float64 {
			travel, slope := rest, pitchedWork(m, f, &at, rest+0.5, by)-pitchedWork(m, f, &at, rest-0.5, by)
			for range 12 {
				travel -= pitchedWork(m, f, &at, travel, by) / slope
			}
			return travel
		}
		apart = max(apart, math.Abs(rest-balance(pitched{true, true})))
		if off := rest - balance(pitched{true, true}); math.Abs(off) > 0.004 {
			t.Errorf("rest at %.5f mm, balance of work %.5f", rest, balance(pitched{true, true}))
		}
		dive := ride.BrakeDive(&f.ride)
		plain := balance(pitched{}) - rs.SagMM()
		if math.Abs(plain-dive) > 1e-3 {
			t.Errorf("with the loads of the measure the balance is %.5f mm past sag, brake dive %.5f", plain, dive)
		}
		byRider, byWheel := balance(pitched{rider: true})-rs.SagMM()-dive, balance(pitched{wheel: true})-rs.SagMM()-dive
		rider, wheel = max(rider, math.Abs(byRider)), max(wheel, math.Abs(byWheel))
		// A rigid rider comes forward as the nose goes down: more load, so more dive and less rise, than the measure says.
		more := (at.at[stroke]-still.at[stroke])/perMM - dive
		most = max(most, math.Abs(more))
		if dive > 5 && byRider < 0 || math.Abs(more) > 0.5+0.07*math.Abs(dive) {
			t.Errorf("brake dive %.3f mm, from rest to rest %.3f more, %.3f by the rider alone", dive, more, byRider)
		}
	}
	t.Logf("%d forks, at most %.2g mm from the balance; brake dive differs by up to %.2f mm by the rider, %.2f by the wheel, %.2f from rest to rest", tried, apart, rider, wheel, most)
	if tried < 12 || rider < 1 || wheel < 0.1 {
		t.Errorf("%d forks rest between their stops; the rider is worth %g mm, the wheel %g", tried, rider, wheel)
	}
}

// pitched is what a balance of work takes into account beyond the measure: that the rider moves with the frame, and that the
// wheel's own mass is slowed.
type pitched struct{ rider, wheel bool }

// pitchedWork is the virtual work per mm of travel in a hard stop, the round tyres of the pitched chassis on the ground.
func pitchedWork(m *Simulator, f *made, near *state, travel float64, by pitched) float64 {
	rs := f.ride.Setting
	c := &rs.Chassis
	var st stance.State[float64]
	f.motion.Solve(&st, nil, travel)
	load, slowed := rs.FrontLoadN()+rs.BrakingN()*c.CGHeightMM/c.WheelbaseMM, 0.0
	if by.rider {
		look, x := *near, sample{}
		look.at[stroke] = travel * perMM
		m.reach(&x, &look)
		m.stand(&look, &x, c.FrontRadiusMM*perMM, c.RearRadiusMM*perMM)
		a := &x.arms
		ahead := (m.front*(a.rx-a.qx) - m.body*a.qx) / m.total // centre of gravity of all from the rear contact point
		height := look.at[up] + (m.front*a.rz+m.rear*a.qz)/m.total
		load = (rs.BrakingN()*height + m.total*ride.Gravity*ahead) / (a.rx - a.qx)
	}
	if by.wheel {
		slowed = m.front * rs.BrakingN() / m.total
	}
	return ride.SpringForce(&f.ride, f.motion.States[0].ShockMM-st.ShockMM)*st.ShockRate - (load-m.front*ride.Gravity)*st.VZ +
		c.FrontBrakeShare*rs.BrakingN()*(st.VX+st.BrakeRate*c.FrontRadiusMM) - slowed*st.VX
}

// Anti-dive read off rests under braking on stiff tyres is that of the measure at the same travel. Of the braking force at the
// front wheel, the springs do not feel what the caliper's body takes up: N v_z − F s', with the load N on the tyre, the springs'
// force F and what the wheel's own mass needs.
func TestAntiDiveReadOffTheSimulation(t *testing.T) {
	rs, s := cargo()
	s.FrontTyreNPerMM, s.RearTyreNPerMM = 1e4, 1e4
	m, tried, apart := NewSimulator(), 0, 0.0
	for _, f := range append(randomGirders(t, &rs, 8), floating(&rs), twinLinks(&rs)) {
		m.set(&s, &f.Fork)
		for _, braking := range []float64{50, 300, rs.BrakingN()} {
			at, ok := m.rest(braking)
			if !ok || at.at[stroke] < 0 || at.at[stroke] > m.travel {
				continue
			}
			tried++
			var x sample
			m.forces(&x, &at, &m.wheels, braking)
			var st stance.State[float64]
			f.motion.Solve(&st, nil, at.at[stroke]/perMM)
			vz, front := x.arms.wz, rs.Chassis.FrontBrakeShare*braking
			felt := (x.load[0]-m.front*ride.Gravity)*vz + m.front*braking/m.total*x.arms.wx -
				ride.SpringForce(&f.ride, x.place.shock/perMM)*x.place.shockRate
			c := &rs.Chassis
			got := 100 * c.FrontBrakeShare * felt / front / vz * c.WheelbaseMM / c.CGHeightMM
			apart = max(apart, math.Abs(got-ride.AntiDive(c, &st)))
			if want := ride.AntiDive(c, &st); math.Abs(got-want) > 0.05+0.002*math.Abs(want) {
				t.Errorf("at %.3f mm: %.4f %%, the measure %.4f", at.at[stroke]/perMM, got, want)
			}
		}
	}
	t.Logf("%d rests, anti-dive at most %.2g %% off", tried, apart)
	if tried < 20 {
		t.Errorf("only %d rests", tried)
	}
}
