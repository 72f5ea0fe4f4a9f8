package objectives

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/clearance"
	"forkfront/objectives/fork"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/trial"
)

// legs is a telescopic fork with springs in its legs, as a mechanism.
func legs() *mechanism.Mechanism {
	return trial.Compile(scheme.MechanismSpec{
		Name: "legs", Ground: "crown", Bodies: []string{"crown", "lowers"}, Axle: "lowers", Shock: [2]string{"crown", "lowers"},
		Slides: []scheme.SlideSpec{{Name: "leg", Bodies: [2]string{"crown", "lowers"}, Through: [2]string{"top", "end"}}},
		Members: []scheme.MemberSpec{
			{Body: "crown", From: "root", To: "top"},
			{Body: "crown", From: "top", To: "end"},
			{Body: "crown", From: "top", To: "shock_upper"},
			{Body: "lowers", From: "shock_lower", To: "axle"},
		},
	})
}

// swinging is such a fork whose legs swing about a pin, guided by a link.
func swinging() *mechanism.Mechanism {
	return trial.Compile(scheme.MechanismSpec{
		Name: "swinging", Ground: "crown", Bodies: []string{"crown", "tubes", "lowers", "link"}, Axle: "lowers", Shock: [2]string{"tubes", "lowers"},
		Pivots: []scheme.PivotSpec{
			{Name: "head", Bodies: []string{"crown", "tubes"}}, {Name: "anchor", Bodies: []string{"crown", "link"}}, {Name: "lug", Bodies: []string{"link", "lowers"}},
		},
		Slides: []scheme.SlideSpec{{Name: "leg", Bodies: [2]string{"tubes", "lowers"}, Through: [2]string{"top", "end"}}},
		Members: []scheme.MemberSpec{
			{Body: "crown", From: "root", To: "head"},
			{Body: "crown", From: "root", To: "anchor"},
			{Body: "tubes", From: "head", To: "top"},
			{Body: "tubes", From: "top", To: "end"},
			{Body: "tubes", From: "top", To: "shock_upper"},
			{Body: "lowers", From: "lug", To: "shock_lower"},
			{Body: "lowers", From: "shock_lower", To: "axle"},
			{Body: "link", From: "anchor", To: "lug"},
		},
	})
}

// telescopicDesign is the baseline of a setting as a fork with legs: the mouth of the outer tubes 30 mm below the crown at
// full travel, and the bushes an overlap apart.
func telescopicDesign(c *Conditions, overlap float64) *Design {
	m := legs()
	x, off := &c.Chassis, c.Chassis.ForkOffsetMM
	d := slideDesign(m)
	end := 30 + c.TravelMM + overlap
	put(d, map[string][2]float64{
		"root": {5, off}, "axle": {x.AxleToCrownMM, off}, "top": {15, off}, "end": {end, off}, "shock_upper": {10, off}, "shock_lower": {x.AxleToCrownMM - 20, off},
	})
	d.Shock.EyeToEyeMM, d.Shock.StrokeMM = x.AxleToCrownMM-30, c.TravelMM*1.05
	c.Structure.Slides.OverlapMM = overlap
	return d
}

func slideDesign(m *mechanism.Mechanism) *Design {
	return &Design{
		Mechanism: m, Layout: make([]kinematics.Vec[float64], len(m.Points)), Shock: fork.Shock{Count: 2, EyeToEyeMM: 270, StrokeMM: 105},
		Across: fork.DefaultAcross(m), Material: fork.MaterialNamed("7075-T6"),
	}
}

func put(d *Design, at map[string][2]float64) {
	for name, p := range at {
		d.Layout[d.Mechanism.Point(name)] = kinematics.Vec[float64]{Along: p[0], Ahead: p[1]}
	}
}

// swingingDesign draws a fork of legs that swing.
func swingingDesign(c *Conditions, r *rand.Rand) *Design {
	d := slideDesign(swinging())
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	put(d, map[string][2]float64{
		"root": {25, 0}, "axle": {408, 38}, "head": {in(-100, 0), in(60, 90)}, "anchor": {in(60, 140), in(-60, 0)}, "lug": {in(140, 220), in(-180, -100)},
		"top": {in(40, 60), in(30, 50)}, "end": {in(230, 260), in(30, 60)}, "shock_upper": {in(65, 75), in(30, 50)}, "shock_lower": {in(335, 345), in(40, 60)},
	})
	d.Across.ShockHalfWidthMM = 90
	for b, name := range d.Mechanism.Bodies {
		if d.Across.HalfWidthMM[b] = 90; name == "crown" || name == "link" {
			d.Across.HalfWidthMM[b] = 50
		}
	}
	p := trial.Package(d.Mechanism)
	p.Frame = p.Frame[:1]
	d.Across.Settle(d.Mechanism, &c.Chassis, c.TravelMM, d.Layout, &d.Shock, p)
	d.Assembly = clearance.NewAssembly(p, d.Mechanism, d.Across, &c.Chassis, &d.Shock)
	return d
}

func scored(t *testing.T, c *Conditions, d *Design, needed string) (*scorer, *Score) {
	t.Helper()
	sc, s := newScorer(c), new(Score)
	sc.Score(s, d)
	if why := s.Missing[Index(needed)]; why != "" {
		t.Fatal(why)
	}
	return sc, s
}

// A telescopic fork as a mechanism, its bushes where the baseline has them, has the baseline's friction, which is worked out
// otherwise, beside that of the springs; and it binds as much.
func TestFrictionOfSlidesIsTheTelescopicForks(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 1))
	for range 30 {
		c := conditions()
		x := &c.Chassis
		c.TravelMM = 80 + 80*r.Float64()
		x.HeadAngle, x.AxleToCrownMM, x.ForkOffsetMM = (62+12*r.Float64())*deg, 300+2*c.TravelMM*(0.5+r.Float64()/2), 50*r.Float64()
		x.CGHeightMM, c.BrakingG = 900+200*r.Float64(), 0.2+0.4*r.Float64()
		c.Structure.Replaced.BushOverlapMM = 60 + 80*r.Float64()
		c.Structure.Replaced.BushFriction, c.Structure.Slides.BushFriction = 0.08, 0.08
		prepare(c)
		d := telescopicDesign(c, c.Structure.Replaced.BushOverlapMM)
		_, s := scored(t, c, d, "friction_braking_n")
		springs := 2 * c.Structure.ShockNewton // along the legs
		for name, by := range map[string]float64{"friction_static_n": springs, "friction_braking_n": springs, "slide_binding_pct": 0} {
			got, want := s.Values[Index(name)]-by, c.Baseline.Values[Index(name)]
			if !(math.Abs(got-want) < 1e-6*(1+want)) {
				t.Errorf("%s: %.9g, of the telescopic fork %.9g", name, got, want)
			}
		}
	}
}

// uprightLegs is a telescopic fork on a vertical steering axis with one leg in the mid-plane, under a push backward.
func uprightLegs(push, overlap float64) (*Conditions, *Design) {
	c := conditions()
	c.Chassis.HeadAngle, c.Chassis.Level = 90*deg, true
	c.Structure.ForeAftNPerMM = 0
	c.Structure.Cases = []loads.Case{{Name: "push", At: loads.AtSag, RearwardN: push}}
	prepare(c)
	d := telescopicDesign(c, overlap)
	clear(d.Across.HalfWidthMM)
	d.Shock.Count = 1
	return c, d
}

// A leg in closed form: a cantilever of two tubes with a bush at the mouth of the outer one and one at the end of the
// inner one, an overlap b apart. A push F at the axle, A and B below them, presses on them with F A/b and F B/b. The inner
// tube is stressed most at its top, by F times its distance to the axle, and the axle gives way by the integrals of
// M²/(E I): along the inner tube M grows from 0 at its end to F A at the mouth, along the outer one from 0
// at the mouth to F B at the end.
func TestLegThatIsACantileverWithTwoBushes(t *testing.T) {
	for _, overlap := range []float64{60, 110, 160} {
		const push = 900.0
		c, d := uprightLegs(push, overlap)
		sc, s := scored(t, c, d, "fore_aft_stiffness_n_per_mm")
		z := Sizes(sc.study(nil))
		axle, sag := c.Chassis.AxleToCrownMM-25, 25.0
		mouth, end := 30+c.TravelMM-sag, 30+c.TravelMM+overlap
		b, above, below := end-mouth, axle-mouth, axle-end
		forces := structure.Forces(z)[0].PinsN
		for name, want := range map[string]float64{"leg end": push * above / b, "leg mouth": push * below / b} {
			if got := forces[name]; !(math.Abs(got-want) < 1e-9*want) {
				t.Errorf("overlap %g: the bush at %s bears %.9g N, want %.9g", overlap, name, got, want)
			}
		}
		tubes := map[string]structure.Item{}
		for _, it := range structure.Parts(z) {
			tubes[it.Part] = it
		}
		inner, outer := tubes["crown top–end"], tubes["lowers leg foot–leg mouth"]
		wall := c.Structure.Tubes.WallShare
		inertia := func(diameter float64) float64 {
			return math.Pi / 64 * math.Pow(diameter, 4) * (1 - math.Pow(1-2*wall, 4))
		}
		if got, want := push*(axle-15)/(inertia(inner.DiameterMM)/(inner.DiameterMM/2)), d.Material.YieldMPa/1.5; !(math.Abs(got-want) < 1e-6*want) {
			t.Errorf("overlap %g: the inner tube bears %.6g MPa at its top, want %.6g", overlap, got, want)
		}
		if bore, want := outer.DiameterMM-2*outer.WallMM, 1.06*inner.DiameterMM; !(math.Abs(bore-want) < 1e-9*want) {
			t.Errorf("overlap %g: bore %.6g mm, want %.6g with bushes of 3 %%", overlap, bore, want)
		}
		// Each of the two tubes has one joint of half a diameter.
		for name, want := range map[string]float64{"crown top–end": end - 15, "lowers leg foot–leg mouth": overlap + c.TravelMM + 10} {
			it := tubes[name]
			mass := (want + it.DiameterMM/2) * d.Material.GramsPerMM3() * math.Pi * it.WallMM * (it.DiameterMM - it.WallMM)
			if !(math.Abs(it.LengthMM-want) < 1e-9*want) || !(math.Abs(it.MassG-mass) < 1e-9*mass) {
				t.Errorf("overlap %g: %s is %.6g mm long and weighs %.6g g, want %.6g and %.6g", overlap, name, it.LengthMM, it.MassG, want, mass)
			}
		}
		// Distances from the axle along which the moment is their own: of the crown, the inner tube above the mouth, the lowers.
		cubes := func(from, to, diameter float64) float64 {
			return (math.Pow(to, 3) - math.Pow(from, 3)) / 3 / inertia(diameter)
		}
		give := cubes(axle-15, axle-5, tubes["crown root–top"].DiameterMM) + cubes(above, axle-15, inner.DiameterMM)
		give += above*above*b/3/inertia(inner.DiameterMM) + below*below*b/3/inertia(outer.DiameterMM)
		foot := c.Chassis.AxleToCrownMM - (end + c.TravelMM + 10) // above the axle
		give += cubes(0, 20, tubes["lowers axle–shock_lower"].DiameterMM) + cubes(foot, below, outer.DiameterMM)
		if foot > 20 {
			give += cubes(20, foot, tubes["lowers shock_lower–leg foot"].DiameterMM)
		} else { // the tube ends below the eye: it leads back
			give += cubes(foot, 20, tubes["lowers shock_lower–leg foot"].DiameterMM)
		}
		want := d.Material.YoungMPa / give
		if got := s.Values[ForeAftStiffness]; !(math.Abs(got-want) < 1e-6*want) {
			t.Errorf("overlap %g: %.9g N/mm, want %.9g", overlap, got, want)
		}
	}
}

// Longer overlaps: less friction, smaller forces on the bushes, less binding, down to the limits of bushes infinitely far
// apart, of which the one at the end bears the whole push.
func TestLongerOverlapsBindLess(t *testing.T) {
	var before *Score
	c := conditions()
	c.Chassis.AxleToCrownMM = 2000
	for overlap := 20.0; overlap < 1500; overlap *= 1.4 {
		d := telescopicDesign(c, 110)
		end := 1700.0
		put(d, map[string][2]float64{"end": {end, c.Chassis.ForkOffsetMM}, "top": {5 - end, c.Chassis.ForkOffsetMM}, "root": {0 - end, c.Chassis.ForkOffsetMM}})
		c.Structure.Slides.OverlapMM = overlap
		_, s := scored(t, c, d, "slide_binding_pct")
		for _, name := range []string{"friction_static_n", "friction_braking_n", "slide_binding_pct", "bearing_load_max_n"} {
			i := Index(name)
			if before != nil && !(s.Values[i] < before.Values[i]) {
				t.Errorf("overlap %g: %s rises from %g to %g", overlap, name, before.Values[i], s.Values[i])
			}
		}
		before = s
	}
	// The rearward push of 1200 N, 300 mm below the end.
	if got := before.Values[Index("bearing_load_max_n")]; got < 1200 || got > 1200*(1+300./1000) {
		t.Errorf("%g N", got)
	}
}

// A vertical force of 1 N at the contact point passes the axle, 1 N cos H of it square to the legs: with the bush at the
// end of the inner tube a above the axle they bear cos H (2 a/b + 1), and sin H drives the fork up. So the fork
// locks itself at the overlap b = 2 a / (tan H / μ − 1).
func TestSlidesBindWhereTheOverlapShrinks(t *testing.T) {
	c := conditions()
	c.Chassis.HeadAngle = 58 * deg
	c.Structure.Slides.BushFriction = 0.12
	prepare(c)
	locks := func(overlap float64) float64 {
		d := telescopicDesign(c, overlap)
		put(d, map[string][2]float64{"end": {240, c.Chassis.ForkOffsetMM}})
		_, s := scored(t, c, d, "slide_binding_pct")
		return s.Values[Index("slide_binding_pct")]
	}
	at := 2 * (408 - 240.) / (math.Tan(58*deg)/0.12 - 1)
	if at < 15 || at > 100 {
		t.Fatal("no overlap at which it locks")
	}
	if got := locks(at); !(math.Abs(got-100) < 1e-6) {
		t.Errorf("%.9g %% at the overlap at which it locks", got)
	}
	for _, by := range []float64{0.8, 1.25} {
		want := 100 * 0.12 / math.Tan(58*deg) * (2*(408-240)/(by*at) + 1)
		if got := locks(by * at); !(math.Abs(got-want) < 1e-6*want) {
			t.Errorf("%.9g %% at %g times the overlap, want %.9g", got, by, want)
		}
	}
}

// A slide laid out the other way round moves apart with the travel; so does one with too little overlap come apart. No fork has
// sizes then, and the reason says which slide, where and by how much.
func TestTubesThatComeApart(t *testing.T) {
	c := conditions()
	d := telescopicDesign(c, 100)
	put(d, map[string][2]float64{"end": {20, 38}, "top": {240, 38}})
	var s Score
	newScorer(c).Score(&s, d)
	if why := s.Missing[Index("mass_g")]; !strings.Contains(why, `slide "leg"`) || !strings.Contains(why, "at least 10 are needed") {
		t.Errorf("%q", why)
	}
	put(d, map[string][2]float64{"end": {115, 38}, "top": {15, 38}})
	newScorer(c).Score(&s, d)
	if why := s.Missing[Index("mass_g")]; !strings.Contains(why, `slide "leg"`) || !strings.Contains(why, "at a travel of 0.0 mm") {
		t.Errorf("%q", why)
	}
	d = telescopicDesign(c, 110)
	d.Across.HalfWidthMM[d.Mechanism.Ground()] = 40
	newScorer(c).Score(&s, d)
	if why := s.Missing[Index("mass_g")]; !strings.Contains(why, "40 and 72 mm from the mid-plane") {
		t.Errorf("%q", why)
	}
}

// A harder load never gives a lighter fork, except by stiffer shafts where stiffness governs.
func TestSlidesUnderHarderLoads(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 2))
	tried := 0
	for range 40 {
		c := conditions()
		c.Structure.ForeAftNPerMM = []float64{0, 60, 100}[r.IntN(3)]
		d := swingingDesign(c, r)
		mass, shafts := 0.0, 0.0
		for by := 0.7; by < 3; by *= 1.1 {
			c.Structure.Cases = loads.DefaultCases()
			for i := range c.Structure.Cases {
				l := &c.Structure.Cases[i]
				l.VerticalStatic, l.RearwardN, l.SideStatic = l.VerticalStatic*by, l.RearwardN*by, l.SideStatic*by
			}
			sc, s := newScorer(c), new(Score)
			sc.Score(s, d)
			if s.Missing[Index("linkage_mass_g")] != "" {
				break
			}
			lighter, softer := mass, shafts
			mass, shafts = s.Values[Index("linkage_mass_g")], ofShafts(Sizes(sc.study(nil)))
			if tried++; mass < lighter-1e-6 && !(c.Structure.ForeAftNPerMM > 0 && shafts < softer) {
				t.Errorf("wanted %g N/mm, loads × %.2f: %.9g g after %.9g g", c.Structure.ForeAftNPerMM, by, mass, lighter)
			}
		}
	}
	if tried < 200 {
		t.Errorf("%d tried", tried)
	}
}

// Measures of forks with slides have exact derivatives, those of the mass, the gaps and the binding too.
func TestSlopesOfSlides(t *testing.T) {
	c := conditions()
	r := rand.New(rand.NewPCG(18, 3))
	checked := make([]int, len(Measures))
	sc, other := newScorer(c), newScorer(c)
	for k := range 150 {
		c.Structure.Slides.OverlapMM = []float64{60, 300}[k%2] // as wanted, and as the tubes leave room for
		d := swingingDesign(c, r)
		var s Score
		sc.Score(&s, d)
		if s.Missing[Index("brake_dive_mm")] != "" || s.Missing[Index("mass_g")] != "" {
			continue
		}
		direction := make([]kinematics.Vec[float64], len(d.Layout))
		for i := range direction {
			if name := d.Mechanism.Points[i]; name != "axle" {
				direction[i] = kinematics.Vec[float64]{Along: r.NormFloat64(), Ahead: r.NormFloat64()}
			}
		}
		slopes := make([]float64, len(Measures))
		sc.study(d).Slope(slopes, direction, nil)
		const h = 3e-3 // sizes by stiff bushes have rounding of 1e-7 g
		moved := func(by float64) (out Score) {
			e := *d
			e.Layout = append([]kinematics.Vec[float64](nil), d.Layout...)
			for i := range direction {
				e.Layout[i].Along += by * direction[i].Along
				e.Layout[i].Ahead += by * direction[i].Ahead
			}
			other.Score(&out, &e)
			return out
		}
		high, low := moved(h), moved(-h)
		for i := range Measures {
			if m := &Measures[i]; high.Missing[i] != "" || low.Missing[i] != "" || m.Needs < NeedStructure || i == Clearance && s.Values[i] < 0 {
				continue
			}
			central := (high.Values[i] - low.Values[i]) / (2 * h)
			left, right := (s.Values[i]-low.Values[i])/h, (high.Values[i]-s.Values[i])/h
			if math.Abs(left-right) > 1e-3*(1+math.Abs(central)) {
				continue // a kink lies within the difference
			}
			if math.Abs(central-slopes[i]) > 1e-5*(1+math.Abs(central)) {
				t.Fatalf("%s: exact slope %g, central difference %g; closest %s", Measures[i].Name, slopes[i], central, s.Closest.Pair)
			}
			checked[i]++
		}
	}
	for _, name := range []string{"mass_g", "unsprung_mass_g", "steering_inertia_kg_cm2", "fore_aft_stiffness_n_per_mm", "friction_braking_n", "slide_binding_pct", "clearance_mm", "hub_clearance_mm", "cost_index"} {
		if n := checked[Index(name)]; n < 20 {
			t.Errorf("%s was checked %d times only", name, n)
		}
	}
}

// Scoring a fork with slides, and a gradient of it, allocate nothing.
func TestSlidesAllocateNothing(t *testing.T) {
	c := conditions()
	r := rand.New(rand.NewPCG(18, 4))
	sc := newScorer(c)
	var s Score
	d := swingingDesign(c, r)
	for sc.Score(&s, d); s.Missing[Index("brake_dive_mm")] != "" || s.Missing[Index("mass_g")] != ""; sc.Score(&s, d) {
		d = swingingDesign(c, r)
	}
	which := searched()
	direction := make([]kinematics.Vec[float64], len(d.Layout))
	direction[2].Along = 1
	slopes := make([]float64, len(Measures))
	if n := testing.AllocsPerRun(20, func() { sc.Score(&s, d); sc.study(d).Slope(slopes, direction, which) }); n > 0 {
		t.Errorf("%v allocations", n)
	}
}
