package objectives

import (
	"math"
	"slices"
	"testing"

	"forkfront/kinematics"
	"forkfront/objectives/fork"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/fatigue"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/spaceframe"
)

// proved is a girder's proof under tests, as it is built in.
func proved(t *testing.T, joint fatigue.Joint, tests ...loads.Test) (*spaceframe.Proof, *Score) {
	t.Helper()
	var p *spaceframe.Proof
	var s Score
	sizedForks(t, 1, func(c *Conditions, d *Design) {
		c.Structure.Proof = &structure.ProofRules{Tests: tests, Joint: joint, Deviations: 2}
		st := newScorer(c).Score(&s, d)
		st.Complete(&s)
		p = st.Proof(&s)
	})
	return p, &s
}

// A force of the same size is a static test of half the margin when doubled; a pulsating and a reversed one have the
// margins that the curve gives at that stress, and their damages add up (Palmgren and Miner).
func TestProofOfAFork(t *testing.T) {
	static := loads.Test{Name: "static", Kind: loads.StaticTest, RearwardN: 800}
	twice := loads.Test{Name: "twice", Kind: loads.StaticTest, RearwardN: 1600}
	there := loads.Test{Name: "reversed", Kind: loads.ReversedTest, RearwardN: 400, Cycles: 1e5}
	half := loads.Test{Name: "pulsating", Kind: loads.PulsatingTest, RearwardN: 400, Cycles: 1e5}
	p, s := proved(t, fatigue.Notch, static, twice, there, half)
	if p.Missing != "" || len(p.Results) != 4 {
		t.Fatalf("%+v", p)
	}
	close := func(what string, got, want float64) {
		if !(math.Abs(got-want) <= 1e-9*math.Abs(want)) {
			t.Errorf("%s: %.9g, want %.9g", what, got, want)
		}
	}
	r := p.Results
	close("margin of twice the force", r[1].Margin, r[0].Margin/2)
	close("stress of half the force", r[2].StressMPa, r[0].StressMPa/2)
	curve, why := fatigue.Of(materialOfSized(t), fatigue.Notch, 0)
	if why != "" {
		t.Fatal(why)
	}
	close("reversed", r[2].Margin, curve.Stress(1e5, -1, 2)/r[2].StressMPa)
	close("pulsating", r[3].Margin, curve.Stress(1e5, 0, 2)/r[3].StressMPa)
	if r[3].Margin <= r[2].Margin {
		t.Errorf("a pulsating load has a margin of %g, a reversed one %g", r[3].Margin, r[2].Margin)
	}
	close("damage", p.Damage, 1e5/curve.Cycles(r[2].StressMPa, -1, 2)+1e5/curve.Cycles(r[3].StressMPa, 0, 2))
	close("least margin", p.Margin, min(r[0].Margin, r[1].Margin, r[2].Margin, r[3].Margin))
	close("measure", s.Values[ProofMargin], p.Margin)
	close("measure", s.Values[FatigueDamage], p.Damage)
}

func materialOfSized(t *testing.T) (name string) {
	sizedForks(t, 1, func(_ *Conditions, d *Design) { name = d.Material.Name })
	return name
}

// A harder test never has the larger margin, a better joint never the smaller one, and tests of other kinds do not
// change a margin.
func TestProofIsMonotone(t *testing.T) {
	bending := func(force, cycles float64) loads.Test {
		return loads.Test{Name: "bending", Kind: loads.ReversedTest, RearwardN: force, Cycles: cycles}
	}
	margin := func(joint fatigue.Joint, tests ...loads.Test) float64 {
		p, _ := proved(t, joint, tests...)
		return p.Results[0].Margin
	}
	base := margin(fatigue.Notch, bending(600, 1e5))
	if margin(fatigue.Notch, bending(601, 1e5)) >= base || margin(fatigue.Notch, bending(600, 2e5)) >= base || margin(fatigue.Smooth, bending(600, 1e5)) < base || margin(fatigue.Welded, bending(600, 1e5)) > base {
		t.Error("not monotone")
	}
	impact := loads.Test{Name: "impact", Kind: loads.ImpactTest, StrikerKG: 22.5, DropMM: 360}
	p, _ := proved(t, fatigue.Notch, bending(600, 1e5), impact)
	if p.Results[0].Margin != base || p.Margin != base {
		t.Errorf("an impact changes the margin from %g to %g, the least to %g", base, p.Results[0].Margin, p.Margin)
	}
}

// A load that comes and goes during an event does what a test that pulsates does as often; more of it does more; at sag and at
// full travel its stress is that of the frame there. Where a tube is twisted the stresses are combined in another way, which
// gives less.
func TestHistoriesOfADuty(t *testing.T) {
	sizedForks(t, 3, func(c *Conditions, d *Design) {
		rules := &structure.ProofRules{Joint: fatigue.Welded, WeldClass: 22, Deviations: 2}
		c.Structure.Proof = rules
		var s Score
		sc := newScorer(c)
		z := Sizes(sc.Score(&s, d))
		comesAndGoes := func(travel, times float64, share float64) spaceframe.History {
			h := spaceframe.History{DutyEvent: loads.DutyEvent{Event: "event", Repeats: times}}
			for range 10 {
				h.Loads = append(h.Loads, spaceframe.AxleLoad{TravelMM: travel}, spaceframe.AxleLoad{TravelMM: travel, AheadN: -share * 700, AlongN: -share * 400})
			}
			h.Loads = append(h.Loads, spaceframe.AxleLoad{TravelMM: travel})
			return h
		}
		for at, name := range map[loads.Stance]string{loads.TopOut: "top-out", loads.AtSag: "sag", loads.FullTravel: "full travel"} {
			test := loads.Test{Name: "test", Kind: loads.PulsatingTest, RearwardN: 700, AlongN: -400, Cycles: 1e4, At: at}
			rules.Duty, rules.Events = []loads.Duty{{Case: test.AsCase(), Cycles: 1e4}}, nil
			want := spaceframe.Prove(spaceframe.Of(z), nil)
			rules.Duty = nil
			h := comesAndGoes(structure.TravelAt(z, at), 1e3, 1)
			rules.Events = []loads.DutyEvent{h.DutyEvent}
			got := spaceframe.Prove(spaceframe.Of(z), []spaceframe.History{h})
			if g, w := got.Duty[0], want.Duty[0]; g.StressMPa > w.StressMPa*(1+1e-9) || g.StressMPa < 0.99*w.StressMPa {
				t.Errorf("%s: %+v, want %+v", name, g, w)
			}
			if got.Damage > want.Damage*(1+1e-9) || got.Damage < 0.97*want.Damage {
				t.Errorf("%s: damage %g, want %g", name, got.Damage, want.Damage)
			}
			harder := spaceframe.Prove(spaceframe.Of(z), []spaceframe.History{comesAndGoes(structure.TravelAt(z, at), 1e3, 1.1)})
			longer := spaceframe.Prove(spaceframe.Of(z), []spaceframe.History{comesAndGoes(structure.TravelAt(z, at), 2e3, 1)})
			if harder.Damage <= got.Damage || math.Abs(longer.Damage-2*got.Damage) > 1e-9*got.Damage {
				t.Errorf("%s: damage %g, with 10 %% more load %g, twice as often %g", name, got.Damage, harder.Damage, longer.Damage)
			}
		}
		missing := spaceframe.Prove(spaceframe.Of(z), []spaceframe.History{{DutyEvent: rules.Events[0], Missing: "not simulated"}})
		if missing.MissingDamage != "not simulated" || missing.Damage != 0 {
			t.Errorf("%+v", missing)
		}
	})
}

// Tubes with very thin walls are sized for the stress at which the wall buckles, and static tests allow no more.
func TestThinWalls(t *testing.T) {
	sizedForks(t, 1, func(c *Conditions, d *Design) {
		c.Structure.ForeAftNPerMM = 0
		c.Structure.Proof = &structure.ProofRules{Tests: []loads.Test{{Name: "static", Kind: loads.StaticTest, RearwardN: 800}}, Joint: fatigue.Notch}
		var s Score
		usual := structure.AllowedMPa(Sizes(newScorer(c).Score(&s, d)))
		r := &c.Structure.Tubes
		r.WallShare, r.MinWallMM, r.MaxDiameterMM = 0.0025, 0.01, 500
		st := newScorer(c).Score(&s, d)
		thin := Sizes(st)
		if thin == nil {
			t.Fatal("no sizes")
		}
		allowed := structure.AllowedMPa(thin)
		if allowed > 0.9*usual {
			t.Fatalf("%g MPa allowed, with thick walls %g", allowed, usual)
		}
		for _, part := range st.BillOfMaterials() {
			if part.Part == "crown root–upper_rear" && !(math.Abs(part.Stress-1) < 0.05) {
				t.Errorf("%s: the stress is %g of the allowed one", part.Part, part.Stress)
			}
		}
		result := st.Proof(&s).Results[0]
		if got, want := result.AllowedMPa, allowed*r.Safety; math.Abs(got-want) > 1e-9*want || result.AllowedBy == "yield" {
			t.Errorf("a static test allows %g MPa by %s, want %g", got, result.AllowedBy, want)
		}
	})
}

// Of the known arm half of the pin force by hand is on each side. On stub shafts that tilt freely each is a cantilever of
// 27 mm, from the arm at ±72 to the legs at ±45; its margins follow from yield and, where the test reverses, from the
// curve of its steel. Over the duty its bearings turn by twice the swing of the arm in each cycle.
func TestPivotOfAnArmByHand(t *testing.T) {
	a, d := newHandArm(t)
	d.Across.Shafts[d.Mechanism.Point("pivot")] = fork.ShaftStub
	rules := a.c.Structure
	rules.Pivots.Tilt, rules.Pivots.BushNPerMM2 = parts.TiltFree, 1 // so that bearings are the lighter
	tests := []loads.Test{
		{Name: "static", Kind: loads.StaticTest, RearwardN: 900},
		{Name: "reversed", Kind: loads.ReversedTest, RearwardN: 300, Cycles: 1e5},
	}
	landing := rules.Cases[0]
	rules.Proof = &structure.ProofRules{
		Tests: tests, Joint: fatigue.Notch, Deviations: 2,
		Duty: []loads.Duty{{Case: landing, Cycles: 3e4}, {Case: tests[1].AsCase(), Cycles: 2e4}, {Case: landing, Cycles: 1e4}},
	}
	prepare(a.c)
	var s Score
	sc := newScorer(a.c)
	p := sc.Score(&s, d).Proof(&s)
	if p.Missing != "" || len(p.Pivots) != 1 {
		t.Fatalf("%+v", p)
	}
	size, r := &Sizes(sc.study(nil)).Pivots[0], &p.Pivots[0]
	if !size.Rolling {
		t.Fatal("no rolling bearing")
	}
	close := func(what string, got, want float64) {
		if !(math.Abs(got-want) <= 1e-6*math.Abs(want)) {
			t.Errorf("%s: %.9g, by hand %.9g", what, got, want)
		}
	}
	_, pin := a.cuts(0, xy{0, -900}, 0)
	modulus := math.Pi / 32 * math.Pow(size.ShaftMM, 3) * (1 - math.Pow(0.7, 4))
	stress := func(pin float64) float64 { return pin / 2 * 27 / modulus }
	close("force", r.ForceN, pin/2)
	close("margin of the bearing", r.BearingMargin, size.BearingMM.StaticN/(pin/2))
	curve, _ := fatigue.Of("4130", fatigue.Smooth, 0)
	static, reversed := 517.1/stress(pin), curve.Stress(1e5, -1, 2)/stress(pin/3)
	close("margin of the shaft", r.ShaftMargin, min(static, reversed))

	full := structure.TravelAt(Sizes(sc.study(nil)), loads.FullTravel)
	swing, _ := a.turn(full)
	_, pin = a.cuts(full, ground(0, 3*a.c.FrontLoadN()), 0)
	share := pin / 2 / size.BearingMM.DynamicN
	close("life", r.LifeUsed, 4e4*2*math.Abs(swing)/(2*math.Pi)/1e6*share*share*share)
	if len(p.Duty) != 3 || p.Duty[0].Damage != 3*p.Duty[2].Damage {
		t.Errorf("%+v", p.Duty)
	}
	tubes, _ := fatigue.Of(d.Material.Name, fatigue.Notch, 0)
	close("damage of a test", p.Duty[1].Damage, 2e4/tubes.Cycles(p.Results[1].StressMPa, -1, 2))
	if !(p.Damage >= p.Duty[0].Damage && p.Damage <= p.Duty[0].Damage+p.Duty[1].Damage+p.Duty[2].Damage) {
		t.Errorf("damage %g of %+v", p.Damage, p.Duty)
	}
}

// Without tests, without a curve, or without sizes the measures say why.
func TestProofThatIsMissing(t *testing.T) {
	_, s := proved(t, fatigue.Notch)
	if s.Missing[ProofMargin] != "no test loads are given" || s.Values[ProofMargin] != 0 {
		t.Errorf("%g, %q", s.Values[ProofMargin], s.Missing[ProofMargin])
	}
	titanium := *fork.MaterialNamed("Ti-6Al-4V")
	sizedForks(t, 1, func(c *Conditions, d *Design) {
		d.Material = &titanium
		c.Structure.Proof = &structure.ProofRules{Joint: fatigue.Notch, Tests: []loads.Test{
			{Name: "static", Kind: loads.StaticTest, RearwardN: 800},
			{Name: "fatigue", Kind: loads.ReversedTest, RearwardN: 400, Cycles: 1e5},
		}}
		var s Score
		st := newScorer(c).Score(&s, d)
		st.Complete(&s)
		const why = "no fatigue curve of Ti-6Al-4V with a notch joint is known"
		if p := st.Proof(&s); s.Missing[ProofMargin] != why || p.Results[0].Margin == 0 || p.Results[1].Margin != 0 || p.Results[1].Missing != why {
			t.Errorf("%q, %+v", s.Missing[ProofMargin], p)
		}
	})
}

// The derivative of the mass of tubes that are sized for tests is that of differences, and a scored fork allocates
// nothing for it.
func TestMassSizedForTestsHasADerivative(t *testing.T) {
	mass, checked := Index("mass_g"), 0
	sizedForks(t, 20, func(c *Conditions, d *Design) {
		c.Structure.Proof = &structure.ProofRules{Joint: fatigue.Notch, Deviations: 2, Tests: loads.TestPresets["iso-4210-6-mountain"]}
		c.Structure.SizeForTests()
		sc := newScorer(c)
		var s Score
		direction := make([]kinematics.Vec[float64], len(d.Layout))
		moved := d.Mechanism.Point("upper_front")
		direction[moved] = kinematics.Vec[float64]{Along: 0.6, Ahead: 0.8}
		slopes := make([]float64, len(Measures))
		sc.Score(&s, d).Slope(slopes, direction, nil)
		at := func(by float64) (float64, bool) {
			e := *d
			e.Layout = slices.Clone(d.Layout)
			e.Layout[moved].Along += 0.6 * by
			e.Layout[moved].Ahead += 0.8 * by
			var s Score
			sc.Score(&s, &e)
			return s.Values[mass], s.Missing[mass] == ""
		}
		const h = 1e-4
		up, ok := at(h)
		down, too := at(-h)
		if !ok || !too {
			return
		}
		here, _ := at(0)
		if kink := math.Abs(up-2*here+down) / h; kink > 1e-3 {
			return // another case or bearing governs on one side
		}
		checked++
		if want := (up - down) / (2 * h); !(math.Abs(slopes[mass]-want) <= 1e-5*math.Max(1, math.Abs(want))) {
			t.Errorf("slope %.9g, by differences %.9g", slopes[mass], want)
		}
		if n := testing.AllocsPerRun(5, func() { sc.Score(&s, d) }); n > 0 {
			t.Errorf("%g allocations per score", n)
		}
	})
	if checked < 10 {
		t.Errorf("only %d slopes were checked", checked)
	}
}
