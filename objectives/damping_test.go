package objectives

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
	"forkfront/objectives/fork"
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
	"forkfront/objectives/structure"
	"forkfront/objectives/trial"
)

// damped are conditions with an unsprung mass, tyre, road and dampers.
func damped() *Conditions {
	s, q := trial.Damped()
	return NewConditions(s, structure.DefaultRules(), q)
}

// The masses of the known arm's quarter model.
const (
	armUnsprungKG = 3.5
	armSprungKG   = 170*450/1300.0 - armUnsprungKG
)

// damperRate is the known arm's wheel rate in N/m with an unsprung mass, by central differences of its wheel force: springs
// follow the load.
func (a *knownArm) damperRate(t float64) float64 {
	const h = 1e-3
	_, vz, _ := a.velocity(t)
	softer := armSprungKG * 9.80665 / armLoad
	return 1000 * softer * (8*(a.wheelForce(t+h)-a.wheelForce(t-h)) - (a.wheelForce(t+2*h) - a.wheelForce(t-2*h))) / (12 * h) / vz
}

// answersDamped are the measures of damping of the known arm with 3.5 kg of unsprung mass, in closed form from its wheel
// force and leverage. Rates come from central differences.
func (a *knownArm) answersDamped(s *Score) map[string]float64 {
	const sprung, unsprung, tyre = armSprungKG, armUnsprungKG, 140e3
	rate := a.damperRate
	rise := func(t float64) float64 { // of the wheel per compression of the shock
		_, vz, _ := a.velocity(t)
		return vz * a.leverage(t)
	}
	k := rate(25)
	c := 2 * 0.4 * math.Sqrt(k*sprung)
	least, most := extremes(8, func(t float64) float64 {
		return c * rise(25) * rise(25) / (rise(t) * rise(t)) / (2 * math.Sqrt(rate(t)*sprung))
	})
	vx, vz, _ := a.velocity(25)
	total := sprung + unsprung
	intensity := 2 * math.Pi * math.Pi * 0.01 * 256e-6 * 6 // class C at 6 m/s
	half, product := ((k+tyre)/unsprung+k/sprung)/2, k*tyre/(sprung*unsprung)
	root := math.Sqrt(half*half - product)
	perC := total*total*total*k*k/(sprung*sprung) - 2*tyre*k*unsprung*total/sprung + tyre*tyre*unsprung
	withC := total * total * tyre / (sprung * sprung)
	m := quarter.Model[float64]{SprungKG: sprung, UnsprungKG: unsprung, WheelNPerM: k, TyreNPerM: tyre, DampingNSPerM: c}
	peak, body := 0.0, math.Sqrt(half-root)/(2*math.Pi)
	for i := range 4001 {
		peak = math.Max(peak, quarter.Transmissibility(&m, body*(0.3+1.7*float64(i)/4000)))
	}
	needed := c * rise(25) * rise(25) / 2 // two shocks
	return map[string]float64{
		"axle_path_angle_at_sag_deg":     math.Atan(-vx/vz) / deg,
		"damper_coefficient_ns_per_m":    needed,
		"damper_misfit_pct":              100 * math.Max(0, math.Max(math.Max(1-needed*2/3/400, needed*2/3/900-1), math.Max(1-needed*4/3/900, needed*4/3/2000-1))),
		"damping_variation_pct":          100 * (most - least) / 0.4,
		"breakaway_static_mm":            s.Values[Index("friction_static_n")] / (vz * 140),
		"breakaway_braking_mm":           s.Values[Index("friction_braking_n")] / (vz * 140),
		"body_frequency_hz":              body,
		"wheel_hop_frequency_hz":         math.Sqrt(half+root) / (2 * math.Pi),
		"transmissibility_peak":          peak,
		"road_grip_rms_pct":              100 * math.Sqrt(intensity/2*(perC/c+withC*c)) / (total * 9.80665),
		"road_acceleration_rms_m_per_s2": math.Sqrt(intensity / 2 * (total*k*k/(c*sprung*sprung) + tyre*c/(sprung*sprung))),
		"road_travel_rms_mm":             1000 * math.Sqrt(intensity/2*total/c) / vz,
		"best_comfort_damping_ratio":     math.Sqrt(total*k*k/tyre) / (2 * math.Sqrt(k*sprung)),
		"best_grip_damping_ratio":        math.Sqrt(perC/withC) / (2 * math.Sqrt(k*sprung)),
	}
}

func TestDampingOfAnArmByHand(t *testing.T) {
	arm, d := newHandArm(t)
	_, q := trial.Damped()
	arm.c.Chassis.UnsprungFrontKG, arm.c.Quarter = 3.5, q
	prepare(arm.c)
	var s Score
	newScorer(arm.c).Score(&s, d)
	checked := 0
	for name, want := range arm.answersDamped(&s) {
		i := Index(name)
		slop := 1e-6 // of stencils over samples, here and in the program
		if name == "transmissibility_peak" {
			slop = 1e-5 // of the steps in the search for the largest
		}
		if s.Missing[i] != "" || math.Abs(s.Values[i]-want) > slop*(1+math.Abs(want)) {
			t.Errorf("%s: %.12g, want %.12g; missing %q", name, s.Values[i], want, s.Missing[i])
		}
		checked++
	}
	if checked != len(dampingMeasures) {
		t.Errorf("%d of %d measures have an answer", checked, len(dampingMeasures))
	}
}

// What each of two shocks needs at every travel for a ratio of 0.4 there: 2 ζ √(k m) (dz/ds)² / 2.
func TestDampersNeededOverTheTravelByHand(t *testing.T) {
	arm, d := newHandArm(t)
	_, q := trial.Damped()
	arm.c.Chassis.UnsprungFrontKG, arm.c.Quarter = armUnsprungKG, q
	prepare(arm.c)
	var s Score
	study := newScorer(arm.c).Score(&s, d)
	got := study.Dampers()
	states := study.Ride().States
	if len(got) != len(states)-1 {
		t.Fatalf("%d values for %d samples after top-out", len(got), len(states)-1)
	}
	for i, c := range got {
		travel := states[1+i].TravelMM
		_, vz, _ := arm.velocity(travel)
		rise := vz * arm.leverage(travel)
		if want := 0.4 * math.Sqrt(arm.damperRate(travel)*armSprungKG) * rise * rise; math.Abs(c-want) > 1e-6*want {
			t.Errorf("at %.4g mm: %.9g N s/m, want %.9g", travel, c, want)
		}
	}
	if needed := s.Values[Index("damper_coefficient_ns_per_m")]; !(got[0] > 0) || needed < slices.Min(got) || needed > slices.Max(got) {
		t.Errorf("%.6g at sag is outside what is needed over the travel, %.6g to %.6g", needed, slices.Min(got), slices.Max(got))
	}
}

// dampedForks draws girders with a quarter model, pitching and level, with coils and air springs.
func dampedForks(t *testing.T, n int, use func(sc *scorer, d *Design, s *Score, r *rand.Rand)) {
	t.Helper()
	r, m := rand.New(rand.NewPCG(31, 7)), girder(t)
	for found := 0; found < n; {
		c := damped()
		c.Structure, c.Chassis.Level = nil, r.IntN(2) == 0
		prepare(c)
		d := randomDesign(m, r)
		if r.IntN(3) == 0 {
			d.Shock.Air = &fork.AirSpring{BoreMM: 38, ChamberMM: 120, Exponent: 1.3}
		}
		sc := newScorer(c)
		var s Score
		if sc.Score(&s, d); s.Missing[DampingVariation] == "" {
			found++
			use(sc, d, &s, r)
		}
	}
}

// The wheel rate at samples against the difference of the wheel force between travels solved close by.
func TestWheelRateAtSamplesAgainstDifferences(t *testing.T) {
	var off []float64
	dampedForks(t, 200, func(sc *scorer, _ *Design, _ *Score, r *rand.Rand) {
		const h = 1e-3
		f := &sc.ride
		i := f.PastSag() + r.IntN(len(f.States)-f.PastSag()-1) // the last sample has nothing beyond it
		at := &f.States[i]
		var before, after stance.State[float64]
		if !sc.motion.Solve(&before, nil, at.TravelMM-h) || !sc.motion.Solve(&after, nil, at.TravelMM+h) {
			t.Fatal("a travel between samples cannot be solved")
		}
		want := (ride.WheelForce(f, &after) - ride.WheelForce(f, &before)) / (2 * h * at.VZ)
		got := ride.WheelRateAt(f, i)
		if off = append(off, math.Abs(got/want-1)); off[len(off)-1] > 1e-3 { // forks that nearly lock at full travel
			t.Fatalf("%.10g N/mm at %g mm, by differences %.10g", got, at.TravelMM, want)
		}
	})
	if slices.Sort(off); off[len(off)/2] > 1e-7 || off[len(off)*9/10] > 1e-5 {
		t.Errorf("half of the forks are within %.2g, nine in ten within %.2g", off[len(off)/2], off[len(off)*9/10])
	}
}

// The damping ratio varies by the same amount when it is sampled three times as closely: to its resolution.
func TestDampingVariationDoesNotDependOnSamples(t *testing.T) {
	dampedForks(t, 200, func(sc *scorer, d *Design, s *Score, _ *rand.Rand) {
		c := *sc.conditions
		c.Samples = 97
		prepare(&c)
		var fine Score
		newScorer(&c).Score(&fine, d)
		if a, b := s.Values[DampingVariation], fine.Values[DampingVariation]; fine.Missing[DampingVariation] == "" && math.Abs(a-b) > 0.5*(1+0.01*b) {
			t.Fatalf("%.6g %%, with more samples %.6g", a, b)
		}
	})
}

// Twice the size, with the same masses: springs and tyre half as stiff, so that every frequency is lower by √2; ratios, the
// variation and the transmissibility stay; the damper's coefficient falls with the square root of the rate.
func TestDampingScalesWithSize(t *testing.T) {
	dampedForks(t, 200, func(sc *scorer, d *Design, s *Score, _ *rand.Rand) {
		c := *sc.conditions
		ch := &c.Chassis
		for _, x := range []*float64{
			&ch.WheelbaseMM, &ch.FrontRadiusMM, &ch.RearRadiusMM, &ch.AxleToCrownMM, &ch.ForkOffsetMM, &ch.CGHeightMM, &ch.CGToFrontAxleMM, &c.TravelMM,
		} {
			*x *= 2
		}
		q := *c.Quarter
		q.TyreNPerMM /= 2
		c.Quarter = &q
		prepare(&c)
		e := *d
		e.Layout = nil
		for _, p := range d.Layout {
			e.Layout = append(e.Layout, kinematics.Vec[float64]{Along: 2 * p.Along, Ahead: 2 * p.Ahead})
		}
		if air := d.Shock.Air; air != nil {
			e.Shock.Air = &fork.AirSpring{BoreMM: air.BoreMM * 1000, ChamberMM: 2 * air.ChamberMM, Exponent: air.Exponent} // so wide that the atmosphere would carry the bike
			return
		}
		var twice Score
		newScorer(&c).Score(&twice, &e)
		for name, factor := range map[string]float64{
			"damping_variation_pct": 1, "transmissibility_peak": 1, "axle_path_angle_at_sag_deg": 1, "best_grip_damping_ratio": 1, "best_comfort_damping_ratio": 1,
			"body_frequency_hz": 1 / math.Sqrt2, "wheel_hop_frequency_hz": 1 / math.Sqrt2, "damper_coefficient_ns_per_m": 1 / math.Sqrt2,
		} {
			i := Index(name)
			if a, b := s.Values[i]*factor, twice.Values[i]; math.Abs(a-b) > 1e-6*(1+math.Abs(a)) {
				t.Fatalf("%s: %.10g, twice the size %.10g (%q)", name, a, b, twice.Missing[i])
			}
		}
	})
}

// On an upright steering axis that stays upright, a fork mirrored front to back needs the same damper, and its axle's path is
// inclined the other way.
func TestMirroredForksNeedTheSameDamper(t *testing.T) {
	r, m := rand.New(rand.NewPCG(41, 2)), girder(t)
	for found := 0; found < 100; {
		c := damped()
		c.Structure, c.Chassis.Level, c.Chassis.HeadAngle = nil, true, 90*deg
		prepare(c)
		d := randomDesign(m, r)
		var s, mirrored Score
		if newScorer(c).Score(&s, d); s.Missing[DampingVariation] != "" {
			continue
		}
		found++
		c.Chassis.ForkOffsetMM *= -1
		prepare(c)
		e := *d
		e.Layout = nil
		for _, p := range d.Layout {
			e.Layout = append(e.Layout, kinematics.Vec[float64]{Along: p.Along, Ahead: -p.Ahead})
		}
		newScorer(c).Score(&mirrored, &e)
		for i := range dampingMeasures {
			i := Index(dampingMeasures[i].Name)
			want := s.Values[i]
			if Measures[i].Name == "axle_path_angle_at_sag_deg" {
				want = -want
			}
			if s.Missing[i] == "" && math.Abs(mirrored.Values[i]-want) > 1e-7*(1+math.Abs(want)) {
				t.Fatalf("%s: %.10g, mirrored %.10g (%q)", Measures[i].Name, want, mirrored.Values[i], mirrored.Missing[i])
			}
		}
	}
}

// A stiffer tyre breaks away sooner and hops faster; more damping needs a firmer damper and lowers the peak; a heavier wheel
// hops slower.
func TestDampingIsMonotone(t *testing.T) {
	compared := 0
	sizedForks(t, 30, func(c *Conditions, d *Design) {
		base := damped()
		var s Score
		newScorer(base).Score(&s, d)
		change := func(by func(c *Conditions, q *quarter.Setting)) *Score {
			c, q := *base, *base.Quarter
			c.Quarter = &q
			by(&c, &q)
			prepare(&c)
			var out Score
			newScorer(&c).Score(&out, d)
			return &out
		}
		tyre := change(func(_ *Conditions, q *quarter.Setting) { q.TyreNPerMM *= 1.5 })
		firm := change(func(_ *Conditions, q *quarter.Setting) { q.DampingRatio *= 1.5 })
		fast := change(func(_ *Conditions, q *quarter.Setting) { q.Road.SpeedMPerS *= 2 })
		wheel := change(func(c *Conditions, _ *quarter.Setting) { c.Chassis.UnsprungFrontKG *= 1.5 })
		for _, x := range []struct {
			name   string
			than   *Score
			higher bool
		}{
			{"breakaway_static_mm", tyre, false},
			{"breakaway_braking_mm", tyre, false},
			{"wheel_hop_frequency_hz", tyre, true},
			{"body_frequency_hz", tyre, true},
			{"damper_coefficient_ns_per_m", firm, true},
			{"transmissibility_peak", firm, false},
			{"road_travel_rms_mm", firm, false},
			{"road_grip_rms_pct", fast, true},
			{"road_acceleration_rms_m_per_s2", fast, true},
			{"wheel_hop_frequency_hz", wheel, false},
		} {
			i := Index(x.name)
			if s.Missing[i] != "" || x.than.Missing[i] != "" {
				continue
			}
			compared++
			if x.than.Values[i] > s.Values[i] != x.higher {
				t.Fatalf("%s: %g, then %g", x.name, s.Values[i], x.than.Values[i])
			}
		}
	})
	if compared < 250 {
		t.Errorf("%d values were compared", compared)
	}
}

// Without a ride section, without dampers and where the wheel rate falls below 0, the reason is given; the telescopic fork has
// all but the misfit of a shock's damper.
func TestMeasuresOfDampingAreUnavailable(t *testing.T) {
	sc, d := bench(t, nil)
	var s Score
	sc.Score(&s, d)
	bare := damped()
	bare.Quarter.Dampers = nil
	var without Score
	newScorer(bare).Score(&without, d)
	base := damped().Baseline
	for k := range dampingMeasures {
		i := Index(dampingMeasures[k].Name)
		always := Measures[i].given == always
		if (s.Missing[i] == "") != always || !always && s.Missing[i] != NoRide && Measures[i].Needs < NeedStructure {
			t.Errorf("%s without a ride section: %q", Measures[i].Name, s.Missing[i])
		}
		if sold := Measures[i].given == givenDampers; sold != (without.Missing[i] == noDampers) {
			t.Errorf("%s without dampers: %q", Measures[i].Name, without.Missing[i])
		}
		if (base.Missing[i] != "") != Measures[i].OfLinkage {
			t.Errorf("%s of the telescopic fork: %g, %q", Measures[i].Name, base.Values[i], base.Missing[i])
		}
		given := Given{Ride: true, Dampers: true}
		if Measures[i].Unavailable(d.Mechanism, nil, given) != "" || (Measures[i].Unavailable(d.Mechanism, nil, Given{}) == "") != always {
			t.Errorf("%s: available with %+v or without", Measures[i].Name, given)
		}
	}
}

// The derivative of the variation against differences over a distance at which the noise of stencils does not matter.
func TestSlopeOfDampingVariation(t *testing.T) {
	checked := 0
	dampedForks(t, 300, func(sc *scorer, d *Design, s *Score, r *rand.Rand) {
		direction := make([]kinematics.Vec[float64], len(d.Layout))
		for i := range direction {
			if d.Mechanism.Points[i] != scheme.PointAxle {
				direction[i] = kinematics.Vec[float64]{Along: r.NormFloat64(), Ahead: r.NormFloat64()}
			}
		}
		slopes := make([]float64, len(Measures))
		sc.study(d).Slope(slopes, direction, []int{DampingVariation})
		at := func(by float64) float64 {
			e := *d
			e.Layout = nil
			for i, p := range d.Layout {
				e.Layout = append(e.Layout, kinematics.Vec[float64]{Along: p.Along + by*direction[i].Along, Ahead: p.Ahead + by*direction[i].Ahead})
			}
			var moved Score
			newScorer(sc.conditions).Score(&moved, &e)
			return moved.Values[DampingVariation]
		}
		const h = 1e-3
		left, right, want := (s.Values[DampingVariation]-at(-h))/h, (at(h)-s.Values[DampingVariation])/h, (at(h)-at(-h))/(2*h)
		// Where another sample becomes the largest or smallest within h, the slope is that of one side.
		if got := slopes[DampingVariation]; math.Abs(got-want) > 1e-3*(1+math.Abs(want))+0.6*math.Abs(left-right) {
			t.Fatalf("%.9g, by differences %.9g, %.9g and %.9g", got, want, left, right)
		}
		if math.Abs(left-right) < 0.01*(1+math.Abs(want)) {
			checked++
		}
	})
	if checked < 150 {
		t.Errorf("%d were checked", checked)
	}
}
