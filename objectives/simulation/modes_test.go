package simulation

import (
	"math"
	"math/cmplx"
	"sort"
	"testing"

	"gonum.org/v1/gonum/mat"

	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
)

// upright is a bike with a telescopic fork that moves straight up, so that it does what textbooks calculate: masses and rates
// by wheel, no friction. The centre of gravity lies a behind the front axle and b ahead of the rear one, in m, and at rest, where
// it has come down by drop, at the height of the axles, so that weight does not help to turn the bike. Long bikes hardly pitch.
func upright(a, b, drop, massKG, inertia, frontRate, frontLoss float64) (ride.Setting, Setting, *Fork) {
	rs, s := cargo()
	c := &rs.Chassis
	c.HeadAngle, c.WheelbaseMM, c.CGToFrontAxleMM, c.MassKG, c.Level = math.Pi/2, (a+b)*1e3, a*1e3, massKG, true
	c.CGHeightMM, c.UnsprungFrontKG, c.ForkOffsetMM = c.FrontRadiusMM+drop*1e3, 0.01, 0
	rs.SagPct = 40
	rs.TravelMM = rs.StaticLoadN() / frontRate / 0.4 * 1e3
	s.UnsprungRearKG, s.FrontTyreNPerMM, s.RearTyreNPerMM = 0.01, 1e4, 1e4
	s.PitchInertia = inertia / (massKG * (a + b) * (a + b))
	base := ride.NewBaseline(&rs)
	return rs, s, &Fork{Ride: base.Ride, Motion: base, Adjustment: quarter.Adjustment{CompressionNS: frontLoss, ReboundNS: frontLoss}}
}

// modes are the undamped angular frequencies of small motions about rest, in rad/s, slowest first: square roots of the
// eigenvalues of the accelerations by the coordinates.
func modes(t *testing.T, m *Simulator) (all []float64) {
	t.Helper()
	at, ok := m.rest(0)
	if !ok {
		t.Fatal("no rest")
	}
	free := []int{up, pitch, stroke}
	if m.sprungRear {
		free = append(free, rearStroke)
	}
	n := len(free)
	stiff := mat.NewDense(n, n, nil)
	for k, c := range free {
		const h = 1e-7
		var lower, upper sample
		probe := at
		probe.at[c] -= h
		m.forces(&lower, &probe, &m.wheels, 0)
		probe.at[c] += 2 * h
		m.forces(&upper, &probe, &m.wheels, 0)
		for i, r := range free {
			stiff.Set(i, k, -(upper.accel[r]-lower.accel[r])/(2*h))
		}
	}
	var e mat.Eigen
	if !e.Factorize(stiff, mat.EigenNone) {
		t.Fatal("no eigenvalues")
	}
	for _, v := range e.Values(nil) {
		all = append(all, real(cmplx.Sqrt(v)))
	}
	sort.Float64s(all)
	return all
}

// Half a car: 100 kg, 1000 kg m², springs of 2000 N/m at 6 and 4 m: 6.13 and 10.31 rad/s
// (math.utah.edu/~gustafso/s2013/2250, FAQ 7.4-24; unrounded 6.13113 and 10.31549).
func TestHalfCar(t *testing.T) {
	const weight = 100 * ride.Gravity
	_, s, f := upright(6, 4, (0.4*weight*4+0.6*weight*6)/2000/10, 100, 1000, 2000, 0)
	s.Rear = &RearSuspension{RateNPerMM: 2}
	m := NewSimulator()
	m.set(&s, f)
	got := modes(t, m)
	for i, want := range []float64{6.13113, 10.31549} { // 2e-4: stiff tyres in series with the springs
		if math.Abs(got[i]/want-1) > 3e-4 {
			t.Errorf("mode %d: %.5f rad/s, want %.5f", i, got[i], want)
		}
	}
}

// Where the inertia is m a b, front and rear do not feel each other, and the front is the quarter model.
func TestModesOfTheQuarterModel(t *testing.T) {
	const a, b, mass, unsprung = 7.0, 5.0, 90.0, 3.5
	const load = mass * ride.Gravity * b / (a + b)
	rs, s, _ := upright(a, b, load/8000*b/(a+b), mass, mass*a*b, 8000, 0)
	rs.Chassis.UnsprungFrontKG, s.UnsprungRearKG, s.FrontTyreNPerMM, s.RearTyreNPerMM = unsprung, 0.01, 120, 1e5
	// the centre of gravity is that of all, the inertia that of the sprung mass about its own centre
	sprung := mass - unsprung
	ahead := (mass*b - unsprung*(a+b)) / sprung // of the sprung centre from the rear axle
	s.PitchInertia = (a + b - ahead) * ahead / ((a + b) * (a + b))
	base := ride.NewBaseline(&rs)
	m := NewSimulator()
	m.set(&s, &Fork{Ride: base.Ride, Motion: base})
	q := quarter.Model[float64]{
		SprungKG: sprung * ahead / (a + b), UnsprungKG: unsprung, WheelNPerM: base.SpringNPerMM * 1e3, TyreNPerM: s.FrontTyreNPerMM * 1e3, DampingNSPerM: 1,
	}
	got := modes(t, m)
	find := func(want float64) {
		for _, g := range got {
			if math.Abs(g/want-1) < 1e-4 {
				return
			}
		}
		t.Errorf("no mode of %.5f rad/s among %v", want, got)
	}
	find(2 * math.Pi * quarter.BodyFrequency(&q))
	find(2 * math.Pi * quarter.HopFrequency(&q))
}

// A system of the second order let go: with ζ = 0.5 and ω = 10 rad/s it overshoots by 16.3 % at 0.36 s, and is within 2 % after 4/(ζ ω)
// = 0.8 s, an estimate by its envelope (ecexplain.in, time response notes). The bike turns about its rear axle on the
// front spring.
func TestSecondOrderOvershoot(t *testing.T) {
	const a, b, mass, omega, ratio = 6.0, 6.0, 80.0, 10.0, 0.5
	const inertia = 1000.0
	atFront := (inertia + mass*b*b) / ((a + b) * (a + b)) // mass that the front spring feels
	const load = mass * ride.Gravity / 2
	_, s, f := upright(a, b, load/(atFront*omega*omega)/2, mass, inertia, atFront*omega*omega, 2*ratio*omega*atFront)
	m := NewSimulator()
	m.stepS = 1e-5 // for wheels of 10 g on stiff tyres
	m.set(&s, f)
	over, when, settled := 0.0, 0.0, 0.0
	letGo(t, m, 1.2, func(time, moved float64) {
		if -moved > over {
			over, when = -moved, time
		}
		if math.Abs(moved) > 0.02 {
			settled = time
		}
	})
	if math.Abs(over-0.163) > 0.001 || math.Abs(when-0.3628) > 0.003 || math.Abs(settled-0.8) > 0.02 {
		t.Errorf("overshoot %.4f at %.4f s, within 2 %% after %.4f s", over, when, settled)
	}
}

// restDepth is how deep a tyre is at rest.
func restDepth(m *Simulator, wheel int) float64 {
	at, _ := m.rest(0)
	var x sample
	m.forces(&x, &at, &m.wheels, 0)
	return x.depth[wheel]
}

// letGo compresses the fork of a bike at rest by 1 mm, tyres at rest, lets go and shows how far it is from rest after each step,
// in mm.
func letGo(t *testing.T, m *Simulator, lasts float64, see func(time, moved float64)) {
	t.Helper()
	at, ok := m.rest(0)
	if !ok {
		t.Fatal("no rest")
	}
	rest := at.at[stroke]
	at.at[stroke] += perMM
	var x sample
	m.reach(&x, &at)
	m.stand(&at, &x, m.radius[0]-restDepth(m, 0), m.radius[1]-restDepth(m, 1))
	in := &scene{level, level, 0, 0, 2}
	for i := range int(lasts / m.stepS) {
		time := float64(i) * m.stepS
		m.forces(&x, &at, &m.wheels, 0)
		see(time, (at.at[stroke]-rest)/perMM)
		m.step(&at, &x, in, time)
	}
}
