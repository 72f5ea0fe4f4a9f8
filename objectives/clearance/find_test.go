package clearance

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/solid"
	"forkfront/kinematics/stance"
	"forkfront/objectives/fork"
	"forkfront/objectives/trial"
)

type (
	spot    = solid.Spot[float64]
	segment = solid.Segment[float64]
)

func demoAssembly(c *conditions, d *design) *Assembly {
	d.into(c, trial.Package(d.mechanism))
	return d.assembly
}

// leadingArm is a leading arm on two legs, its axle on a circle of radius 200 about the pivot. Members are not sized,
// so that they have the radius of the package.
func leadingArm(t *testing.T, change func(*fork.Package)) (*scorer, *design) {
	t.Helper()
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "arm", Ground: "legs", Bodies: []string{"legs", "arm"}, Axle: "arm", Shock: [2]string{"legs", "arm"},
		Pivots: []scheme.PivotSpec{{Name: "pivot", Bodies: []string{"legs", "arm"}}},
		Members: []scheme.MemberSpec{
			{Body: "legs", From: "root", To: "shock_upper"},
			{Body: "legs", From: "shock_upper", To: "pivot"},
			{Body: "arm", From: "pivot", To: "shock_lower"},
			{Body: "arm", From: "shock_lower", To: "axle"},
		},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c := sizedConditions()
	c.rules = nil
	d := &design{mechanism: m, layout: make([]kinematics.Vec[float64], len(m.Points)), shock: fork.Shock{Count: 2, StrokeMM: 50}, across: fork.DefaultAcross(m)}
	for name, p := range map[string]kinematics.Vec[float64]{
		"root": {Along: 30}, "axle": {Along: 408, Ahead: 38}, "pivot": {Along: 358, Ahead: 38 - math.Sqrt(200*200-50*50)},
		"shock_upper": {Along: 180, Ahead: -110}, "shock_lower": {Along: 383, Ahead: -60},
	} {
		d.layout[m.Point(name)] = p
	}
	d.across.HalfWidthMM[0], d.across.HalfWidthMM[1] = 75, 100 // arm, legs
	p := trial.Package(m)
	change(p)
	d.across.Settle(m, &c.Chassis, c.TravelMM, d.layout, &d.shock, p)
	d.assembly = NewAssembly(p, m, d.across, &c.Chassis, &d.shock)
	return newScorer(c), d
}

func gapNamed(t *testing.T, all []Gap, name string) Gap {
	t.Helper()
	for _, g := range all {
		if g.Pair == name {
			return g
		}
	}
	t.Fatalf("no pair %q among %v", name, all)
	return Gap{}
}

// Closed forms for an arm whose axle moves on a circle about its pivot.
func TestClearanceByHand(t *testing.T) {
	toPivot := math.Sqrt(200*200 - 50*50)
	// A lamp ahead of the tyre, on the line from the pivot through the axle when that has turned half its
	// way: it is closest there, 30 from the tyre's 258 and with a radius of 20.
	half := -math.Asin(50./200) + (2*math.Asin(50./200))*0.5 // at travel 50: the arm stands square
	far := 200 + 258 + 30 + 20.
	lamp := spot{Along: 358 + far*math.Sin(half), Ahead: 38 - toPivot + far*math.Cos(half)}
	// A box on the frame at 40 degrees to the left, 200 from the steering axis; the legs' end at the pivot
	// is at the radius and the angle of (ahead, left) = (38 − toPivot, 100).
	ahead, left := 38-toPivot, 100.
	radius, angle := math.Hypot(ahead, left), math.Atan2(left, ahead)
	at := angle + 25*deg
	sc, d := leadingArm(t, func(p *fork.Package) {
		p.Steered = []fork.Capsule{{Name: "lamp", Ends: segment{lamp, lamp}, RadiusMM: 20}}
		s := spot{Along: 400, Ahead: 300 * math.Cos(at), Left: 300 * math.Sin(at)}
		out := spot{Along: 400, Ahead: 300 * math.Cos(at+60*deg), Left: 300 * math.Sin(at+60*deg)}
		p.Frame = append(p.Frame,
			fork.Capsule{Name: "box", Ends: segment{s, s}, RadiusMM: 10},
			fork.Capsule{Name: "rack", Ends: segment{out, out}, RadiusMM: 10})
	})
	var s score
	sc.score(&s, d)
	if why := s.why; why != "" {
		t.Fatal(why)
	}
	gaps := sc.search.Gaps()
	below := 400 - 358.                         // of the pivot
	turnedBy := func(degrees float64) float64 { // of the pivot and a spot 300 from the axis, so many degrees apart
		return math.Sqrt(below*below+300*300+radius*radius-2*300*radius*math.Cos(degrees*deg)) - 13 - 10
	}
	for name, want := range map[string]float64{
		"tyre / lamp": 30,
		// The arm's outer half ends 101 mm from the axle, within the tyre: it lies beside rim and spokes.
		"tyre / arm axle–shock_lower": 75 - 15 - 13,
		// The legs' end at the pivot is 200 from the axle, within the ring of 227.5: closest is the ring's
		// crossing with the leg above it, as far aside.
		"tyre / legs shock_upper–pivot": 100 - 30.5 - 13,
		"legs shock_upper–pivot / box":  turnedBy(0),
		// The rack stands 85 degrees on; the lock is 60.
		"legs shock_upper–pivot / rack": turnedBy(25),
		"tyre / crown":                  math.Hypot(308-5, 38) - 258 - 25, // at full travel
	} {
		if got := gapNamed(t, gaps, name); math.Abs(got.GapMM-want) > 1e-6 {
			t.Errorf("%s: %.7f at %.3f mm and %.2f degrees, by hand %.7f", name, got.GapMM, got.TravelMM, got.SteerDeg, want)
		}
	}
	if g := gapNamed(t, gaps, "tyre / lamp"); math.Abs(g.TravelMM-50) > 1e-3 {
		t.Errorf("the lamp is closest at %g mm", g.TravelMM)
	}
	if g := gapNamed(t, gaps, "legs shock_upper–pivot / box"); math.Abs(g.SteerDeg-25) > 1e-3 {
		t.Errorf("the box is closest at %g degrees", g.SteerDeg)
	}
	if g := gapNamed(t, gaps, "legs shock_upper–pivot / rack"); math.Abs(g.SteerDeg-60) > 1e-9 {
		t.Errorf("the rack is closest at %g degrees", g.SteerDeg)
	}
	if got, want := gapNamed(t, gaps, "hub / arm axle–shock_lower").GapMM, 75-50-13.; math.Abs(got-want) > 1e-9 {
		t.Errorf("hub and arm: %g, by hand %g", got, want)
	}
	// The shocks come nearer: their lower eyes keep their distance from the axle, past the rotor's reach of
	// 80, and their middles are 22 farther out than the hub.
	eye := math.Hypot(408-383, 38+60)
	if got, want := s.hub, math.Hypot(eye-80, 72-50)-26; math.Abs(got-want) > 1e-9 {
		t.Errorf("hub: %g, by hand %g", got, want)
	}
	checkSmallest(t, &s, gaps)
}

// Closed forms where a search is cut short: a stay on the crown behind the pivot, which the arm turns no nearer to, and a
// rail on the frame below the tyre, which it is close to along the steering axis alone.
func TestClearanceOfWhatTurnsNoNearerByHand(t *testing.T) {
	sc, d := leadingArm(t, func(p *fork.Package) {
		stay := spot{Along: 358, Ahead: 38 - math.Sqrt(200*200-50*50) - 48, Left: 75}
		rail := spot{Along: 408 + 258 + 10 + 5, Ahead: 38, Left: 10}
		p.Steered = []fork.Capsule{{Name: "stay", Ends: segment{stay, stay}, RadiusMM: 10}}
		p.Frame = append(p.Frame, fork.Capsule{Name: "rail", Ends: segment{rail, {Along: rail.Along, Ahead: rail.Ahead, Left: -10}}, RadiusMM: 10})
	})
	var s score
	sc.score(&s, d)
	if s.why != "" {
		t.Fatal(s.why)
	}
	behind := gapNamed(t, sc.search.Gaps(), "arm shock_lower–pivot / stay")
	if math.Abs(behind.GapMM-25) > 1e-6 || behind.TravelMM != 0 && behind.TravelMM != sc.conditions.TravelMM {
		t.Errorf("stay: %+v, by hand 25 mm at an end of the travel", behind)
	}
	if s.closest.Pair != "tyre / rail" || math.Abs(s.clearance-5) > 1e-6 {
		t.Errorf("rail: %g of %+v, by hand 5", s.clearance, s.closest)
	}
}

// checkSmallest compares the score with the list of all pairs.
func checkSmallest(t *testing.T, s *score, gaps []Gap) {
	t.Helper()
	least, hub := math.Inf(1), math.Inf(1)
	for _, g := range gaps {
		if strings.HasPrefix(g.Pair, "hub / ") {
			hub = min(hub, g.GapMM)
		} else {
			least = min(least, g.GapMM)
		}
	}
	if got := s.clearance; math.Abs(got-least) > 1e-3 || got != s.closest.GapMM || len(gaps) < 5 {
		t.Fatalf("clearance %g of %s, smallest of %d pairs %g", got, s.closest.Pair, len(gaps), least)
	}
	if got := s.hub; math.Abs(got-hub) > 1e-3 {
		t.Fatalf("hub clearance %g, smallest of all pairs %g", got, hub)
	}
}

// sampledClearance is the smallest gap by plain sampling, of travel and of steering, without any culling.
func sampledClearance(sc *scorer, d *design, travels, angles int) float64 {
	var st stance.State[float64]
	least := math.Inf(1)
	k := &sc.search.pairs
	for i := range travels {
		sc.motion.Solve(&st, nil, sc.conditions.TravelMM*float64(i)/float64(travels-1))
		spots := k.positionsOf(nil, &st)
		for j := range d.assembly.pairs {
			p := &d.assembly.pairs[j]
			if p.kind == hubPair {
				continue
			}
			n := angles
			if p.frame < 0 {
				n = 1
			}
			for a := range n {
				c := contact{pair: j}
				b := d.assembly.parts[p.b].axis(spots)
				if p.frame >= 0 {
					b = d.assembly.frameAt(p, d.assembly.lock*(2*float64(a)/float64(angles-1)-1))
				}
				k.gap(&c, spots, &b)
				least = min(least, c.gap)
			}
		}
	}
	return least
}

// The clearance found by bisecting cells compared with plain sampling.
func TestClearanceAgainstPlainSampling(t *testing.T) {
	c := sizedConditions()
	m := trial.Girder()
	r := rand.New(rand.NewPCG(2, 9))
	sc := newScorer(c)
	seen := 0
	for range 60 {
		d := randomDesign(m, trial.Layout(m, r))
		d.assembly = demoAssembly(c, d)
		var s score
		if sc.score(&s, d); s.why != "" {
			continue
		}
		seen++
		checkSmallest(t, &s, sc.search.Gaps())
		want := sampledClearance(sc, d, 81, 61)
		// Sampling may only be too high, and no more than its steps of 1.25 mm and 2 degrees let it.
		if got := s.clearance; got > want+1e-6 || got < want-0.3 && got > 0 {
			t.Fatalf("%s: %g, by sampling %g", s.closest.Pair, got, want)
		}
	}
	if seen < 20 {
		t.Fatalf("only %d forks", seen)
	}
}

// Twice as many samples change no positive clearance by more than 0.1 mm.
func TestHalvingTheStepsKeepsClearance(t *testing.T) {
	c, fine := sizedConditions(), sizedConditions()
	fine.Samples = 65
	m := trial.Girder()
	r := rand.New(rand.NewPCG(12, 9))
	one, two := newScorer(c), newScorer(fine)
	worst, seen := 0.0, 0
	for range 1500 {
		d := spaciousDesign(c, m, r)
		var a, b score
		one.score(&a, d)
		two.score(&b, d)
		if a.why != "" || b.why != "" || a.clearance < 0 {
			continue
		}
		seen++
		if off := math.Abs(a.clearance - b.clearance); off > worst {
			worst = off
			if off > 0.1 {
				t.Fatalf("%s %g, with half the steps %s %g", a.closest.Pair, a.clearance, b.closest.Pair, b.clearance)
			}
		}
	}
	if seen < 50 {
		t.Fatalf("only %d forks have clearance", seen)
	}
	t.Logf("%d forks, largest change %.2g mm", seen, worst)
}

// A larger tyre, thicker parts or a larger steering lock never increase the clearance.
func TestClearanceFallsWithLargerParts(t *testing.T) {
	c := sizedConditions()
	m := trial.Girder()
	r := rand.New(rand.NewPCG(4, 6))
	sc := newScorer(c)
	seen, clear := 0, 0
	for tries := range 200 {
		d := randomDesign(m, trial.Layout(m, r))
		if d.assembly = demoAssembly(c, d); tries%2 == 1 {
			d = spaciousDesign(c, m, r)
		}
		var before, after score
		if sc.score(&before, d); before.why != "" {
			continue
		}
		if seen++; before.clearance > 0 {
			clear++
		}
		for name, change := range map[string]func(*fork.Package){
			"tyre": func(p *fork.Package) { p.TyreWidthMM += 6 }, "shock": func(p *fork.Package) { p.ShockRadiusMM++ },
			"lock": func(p *fork.Package) { p.LockRad *= 1.2 }, "crown": func(p *fork.Package) { p.CrownRadiusMM += 3 },
			"down tube": func(p *fork.Package) { p.Frame[1].RadiusMM += 4 },
		} {
			p := trial.Package(m)
			p.LockRad = d.assembly.lock
			change(p)
			e := *d
			e.assembly = NewAssembly(p, m, d.across, &c.Chassis, &d.shock)
			slop := 1e-9
			if before.clearance < 0 {
				slop = 1e-3 // overlaps are only as exact as the samples
			}
			if sc.score(&after, &e); after.clearance > before.clearance+slop {
				t.Fatalf("more %s: %g after %g", name, after.clearance, before.clearance)
			}
		}
	}
	if seen < 40 || clear < 10 {
		t.Fatalf("only %d forks, %d of them with clearance", seen, clear)
	}
}
