package clearance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/solid"
	"forkfront/kinematics/stance"
	"forkfront/objectives/fork"
	"forkfront/objectives/trial"
)

var wishboneSpec = scheme.MechanismSpec{
	Name: "wishbone", Ground: "frame", Bodies: []string{"frame", "lower", "upper", "upright"}, Steering: []string{"lower_ball", "upper_ball"},
	Pivots: []scheme.PivotSpec{
		{Name: "lower_rear", Bodies: []string{"frame", "lower"}},
		{Name: "lower_ball", Bodies: []string{"lower", "upright"}},
		{Name: "upper_rear", Bodies: []string{"frame", "upper"}},
		{Name: "upper_ball", Bodies: []string{"upper", "upright"}},
	},
	Axle: "upright", Shock: [2]string{"frame", "lower"},
	Members: []scheme.MemberSpec{
		{Body: "lower", From: "lower_rear", To: "shock_lower"},
		{Body: "lower", From: "shock_lower", To: "lower_ball"},
		{Body: "upper", From: "upper_rear", To: "upper_ball"},
		{Body: "upright", From: "upper_ball", To: "lower_ball"},
		{Body: "upright", From: "lower_ball", To: "axle"},
	},
}

// onWishbones returns a random fork on two wishbones in front of a strut of the frame. Members are not sized, so that
// they have the radius of the package, 13.
func onWishbones(t testing.TB, r *rand.Rand, change func(*fork.Package)) (*conditions, *design) {
	t.Helper()
	m, faults := mechanism.Compile(wishboneSpec)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c := sizedConditions()
	c.rules = nil
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	d := &design{mechanism: m, layout: make([]kinematics.Vec[float64], len(m.Points)), shock: fork.Shock{Count: 1, StrokeMM: 50}, across: fork.DefaultAcross(m)}
	for name, p := range map[string]kinematics.Vec[float64]{
		"root": {Along: 25}, "axle": {Along: 408, Ahead: 38}, "lower_ball": {Along: in(100, 130)}, "upper_ball": {Along: in(-80, -40)},
		"lower_rear": {Along: in(80, 130), Ahead: in(-200, -160)}, "upper_rear": {Along: in(-80, -40), Ahead: in(-200, -160)},
		"shock_upper": {Along: in(-110, -90), Ahead: in(-120, -100)}, "shock_lower": {Along: in(85, 95), Ahead: in(-110, -90)},
	} {
		d.layout[m.Point(name)] = p
	}
	for b, name := range m.Bodies {
		d.across.HalfWidthMM[b] = map[string]float64{"frame": 30, "lower": 22, "upper": 50, "upright": 72}[name]
	}
	p := trial.Package(m)
	p.LockRad = 50 * deg
	p.Frame = []fork.Capsule{
		{Name: "strut", Ends: segment{{Along: -150, Ahead: -245}, {Along: 130, Ahead: -245}}, RadiusMM: 22, Joined: true},
	}
	change(p)
	d.across.Settle(m, &c.Chassis, c.TravelMM, d.layout, &d.shock, p)
	d.assembly = NewAssembly(p, m, d.across, &c.Chassis, &d.shock)
	return c, d
}

// onVariedWishbones returns a random fork on two wishbones in whose place, width and package little is left alone: bodies on one
// side or in the mid-plane, balls off the frame's axis, rods on the frame.
func onVariedWishbones(t testing.TB, r *rand.Rand) (*conditions, *design) {
	t.Helper()
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	c, d := onWishbones(t, r, func(*fork.Package) {})
	m := d.mechanism
	for _, name := range []string{"lower_ball", "lower_rear", "upper_ball", "upper_rear", "shock_upper", "shock_lower"} {
		d.layout[m.Point(name)].Along += in(-30, 30)
		d.layout[m.Point(name)].Ahead += in(-15, 15)
	}
	d.across = fork.DefaultAcross(m)
	for b, name := range m.Bodies {
		if r.IntN(6) > 0 {
			d.across.HalfWidthMM[b] = in(10, 110)
			d.across.OneSide[b] = name != "frame" && r.IntN(5) == 0
		}
	}
	p := trial.Package(m)
	p.LockRad, p.TyreWidthMM, p.ShockRadiusMM, p.Frame = in(20, 75)*deg, in(30, 70), in(10, 24), nil
	for range r.IntN(4) {
		p.Frame = append(p.Frame, randomRod(fmt.Sprint("rod ", len(p.Frame)), r))
	}
	d.across.Settle(m, &c.Chassis, c.TravelMM, d.layout, &d.shock, p)
	d.assembly = NewAssembly(p, m, d.across, &c.Chassis, &d.shock)
	return c, d
}

// aboutLine rotates a point about a line in space by an angle (Rodrigues' formula): positive from ahead to left if
// the line points down the steering axis.
func aboutLine(p spot, at, along plane.Vec[float64], angle float64) spot {
	sin, cos := math.Sincos(angle)
	k := [3]float64{along.Along, along.Ahead, 0}
	v := [3]float64{p.Along - at.Along, p.Ahead - at.Ahead, p.Left}
	cross := [3]float64{k[1]*v[2] - k[2]*v[1], k[2]*v[0] - k[0]*v[2], k[0]*v[1] - k[1]*v[0]}
	dot := (k[0]*v[0] + k[1]*v[1]) * (1 - cos)
	var out [3]float64
	for i := range out {
		out[i] = v[i]*cos + cross[i]*sin + k[i]*dot
	}
	return spot{Along: out[0] + at.Along, Ahead: out[1] + at.Ahead, Left: out[2]}
}

// sampledBallGap is the smallest gap of a ball pair by plain sampling. A solid part is rotated with the wheel; for
// the wheel itself, the other part is rotated back.
func sampledBallGap(sc *scorer, d *design, i, travels, angles int) float64 {
	r := d.assembly
	p := &r.balls.pairs[i]
	least := math.Inf(1)
	var st stance.State[float64]
	for n := range travels {
		sc.motion.Solve(&st, nil, sc.conditions.TravelMM*float64(n)/float64(travels-1))
		places := mechanism.Positions(d.mechanism, nil, &st, d.layout)
		lower, upper := places[r.balls.lower], places[r.balls.upper]
		length := kinematics.Distance(lower, upper)
		down := plane.Vec[float64]{Along: (lower.Along - upper.Along) / length, Ahead: (lower.Ahead - upper.Ahead) / length}
		for a := range angles {
			steer := r.lock * (2*float64(a)/float64(angles-1) - 1)
			one, two := segmentOf(&r.parts[p.a], places), segmentOf(&r.parts[p.b], places)
			radii := radiusOf(&r.parts[p.a], sc.search.members) + radiusOf(&r.parts[p.b], sc.search.members)
			if p.wheelKind == ballSolid {
				for k := range one {
					one[k] = aboutLine(one[k], lower, down, steer)
				}
				_, _, square := solid.Closest(&one, &two)
				least = min(least, math.Sqrt(square)-radii)
				continue
			}
			for k := range two {
				two[k] = aboutLine(two[k], lower, down, -steer)
			}
			g := two.FromAxle(plane.Vec[float64]{Along: one[0].Along, Ahead: one[0].Ahead})
			on, square := r.ring.Closest(&g)
			if p.wheelKind == ballDisc {
				_, square = r.ring.ClosestOnDisc(&g, on)
				least = min(least, math.Sqrt(square)-radii-r.discHalfWidth)
			} else {
				least = min(least, math.Sqrt(square)-radii-r.tyreRadius)
			}
		}
	}
	return least
}

// The gaps between what steers about ball joints and what does not, compared with plain sampling.
func TestGapsWithBallJointsAgainstPlainSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 1))
	forks, pairs := 0, 0
	for i := range 60 {
		c, d := onWishbones(t, r, func(*fork.Package) {})
		if i%2 == 1 {
			c, d = onVariedWishbones(t, r)
		}
		sc := newScorer(c)
		var s score
		if sc.score(&s, d); s.why != "" {
			continue
		}
		forks++
		if gaps := sc.search.Gaps(); i%2 == 0 || s.clearance > 0 { // overlaps are only as exact as the samples
			checkSmallest(t, &s, gaps)
		}
		if forks > 8 {
			continue
		}
		var tyre, sampledTyre float64
		for i := range d.assembly.balls.pairs {
			p, k := &d.assembly.balls.pairs[i], &sc.search.ballSearch
			k.prepare(&sc.search.problem, &sc.search.pairs)
			k.searchPair(i)
			k.refine()
			got, want := k.best.gap, sampledBallGap(sc, d, i, 41, 41)
			switch p.wheelKind {
			case ballRing:
				tyre, sampledTyre = got, want
			case ballDisc: // the search for it ends where it is no closer than the tyre
				got, want = min(got, tyre), min(want, sampledTyre)
			}
			// Sampling may only be too high, and no more than its steps of 2.5 mm and 2.5 degrees let it.
			if got > want+1e-6 || got < want-0.8 && got > 0 {
				t.Fatalf("%s: %g, by sampling %g", p.name, got, want)
			}
			pairs++
		}
	}
	if forks < 20 || pairs < 100 {
		t.Fatalf("only %d forks and %d pairs", forks, pairs)
	}
}

// leastInCell is the smallest squared distance of a pair at the samples and steps of a cell.
func (k *ballSearch) leastInCell(i, lo, hi, from, to int) float64 {
	k.load(i)
	least := math.Inf(1)
	for sample := lo; sample <= hi; sample++ {
		for step := from; step <= to; step++ {
			square, _ := k.evaluate(sample, step)
			least = min(least, square)
		}
	}
	return least
}

// Nowhere in a cell of travel and steering is a pair closer than the bound by which the cell is ruled out, unless it is farther away
// than the limit; compared at the samples and steps within.
func TestNothingInACellIsCloserThanItsBound(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 7))
	cells, tight := 0, 0
	for cells < 6000 {
		c, d := onVariedWishbones(t, r)
		sc := newScorer(c)
		var s score
		if sc.score(&s, d); s.why != "" {
			continue
		}
		k := &sc.search.ballSearch
		k.prepare(&sc.search.problem, &sc.search.pairs)
		for range 200 {
			cells++
			i, lo, from := r.IntN(len(d.assembly.balls.pairs)), r.IntN(k.last), r.IntN(steerSteps)
			hi, to := lo+1+r.IntN(k.last-lo), from+1+r.IntN(steerSteps-from)
			k.best.gap = 200 * r.Float64()
			k.load(i)
			n := k.current
			e := k.sweep(lo, hi, from, to)
			travel, turn := e.travelCurvature(n.limitRoot), k.turnCurvature(&e)
			var at ballCorners
			for x, sample := range [2]int{lo, hi} {
				for y, step := range [2]int{from, to} {
					at.from[x][y], at.fromAxle[x][y] = k.evaluate(sample, step)
				}
			}
			k.current = n
			bound := at.from.leastWithin(travel, turn)
			separated := k.separated()
			clear := n.wheelKind != ballSolid && k.clearOfWheel(&e, &at.fromAxle)
			least := k.leastInCell(i, lo, hi, from, to)
			if clear && n.wheelKind == ballDisc { // only what is closer than the tyre counts
				gap := math.Sqrt(least) - n.radii
				if tyre := math.Sqrt(k.leastInCell(i-1, lo, hi, from, to)) - k.radii(i-1); gap >= tyre {
					continue
				}
			}
			if least < min(bound, n.limit)-1e-6 || (separated || clear) && least < n.limit-1e-6 {
				t.Fatalf("%s, samples %d to %d, steps %d to %d: %g; bound %g, limit %g, apart by their boxes %v, from the axle %v",
					n.name, lo, hi, from, to, least, bound, n.limit, separated, clear)
			}
			if bound > 0.9*least {
				tight++
			}
		}
	}
	if tight < cells/4 {
		t.Errorf("only %d of %d bounds were above nine tenths of the least", tight, cells)
	}
}

// Closed forms: a post on the frame, perpendicular to the mid-plane, that the upright's blade passes when it is
// steered.
func TestAPostBesideAnUpright(t *testing.T) {
	// At top-out the axis through the balls is the fork frame's. The blade's ends at the balls are 72 from
	// it, straight to the side; the post is a ball of radius 10 there, 40 degrees ahead of the left blade
	// at the upper ball, 120 from the axis. Top-out is where it is closest: it stands above the upper ball.
	c, d := onWishbones(t, rand.New(rand.NewPCG(6, 2)), func(*fork.Package) {})
	upper := d.layout[d.mechanism.Point("upper_ball")]
	for _, x := range []struct{ ahead, want float64 }{{40, 0}, {70, 20}} {
		turn := 90*deg - x.ahead*deg // from straight ahead to the left
		post := spot{Along: upper.Along, Ahead: 120 * math.Cos(turn), Left: 120 * math.Sin(turn)}
		_, e := onWishbones(t, rand.New(rand.NewPCG(6, 2)), func(p *fork.Package) {
			p.Frame = append(p.Frame, fork.Capsule{Name: "post", Ends: segment{post, post}, RadiusMM: 10})
		})
		sc := newScorer(c)
		var s score
		sc.score(&s, e)
		gap := gapNamed(t, sc.search.Gaps(), "upright lower_ball–upper_ball / post")
		want := math.Sqrt(120*120+72*72-2*120*72*math.Cos(x.want*deg)) - 13 - 10
		if gap.TravelMM != 0 || math.Abs(gap.GapMM-want) > 1e-9 {
			t.Errorf("%g degrees ahead: %g at %g mm, steered by %g; by hand %g", x.ahead, gap.GapMM, gap.TravelMM, gap.SteerDeg, want)
		}
	}
}

func TestClearanceWithBallJointsFallsWithLock(t *testing.T) {
	seen, less := 0, 0
	for seed := range uint64(40) {
		var values [2]float64
		missing := ""
		for k, lock := range [2]float64{40, 65} {
			c, d := onWishbones(t, rand.New(rand.NewPCG(seed, 3)), func(p *fork.Package) { p.LockRad = lock * deg })
			var s score
			newScorer(c).score(&s, d)
			values[k], missing = s.clearance, missing+s.why
		}
		if missing != "" {
			continue
		}
		seen++
		if values[1] < values[0] {
			less++
		}
		if values[1] > values[0]+1e-3 { // overlaps are only as exact as the samples
			t.Fatalf("seed %d: %g with more lock, %g with less", seed, values[1], values[0])
		}
	}
	if seen < 10 || less < 5 {
		t.Fatalf("only %d forks, %d with less clearance", seen, less)
	}
}

// Assemblies that a fork on ball joints cannot have.
func TestImpossibleAssembliesWithBallJoints(t *testing.T) {
	_, d := onWishbones(t, rand.New(rand.NewPCG(6, 3)), func(p *fork.Package) { p.Steered = []fork.Capsule{{Name: "lamp", RadiusMM: 20}} })
	if !strings.Contains(d.assembly.Missing, "no crown") {
		t.Errorf("a lamp: %q", d.assembly.Missing)
	}
	twisted := wishboneSpec
	twisted.Shock = [2]string{"frame", "upright"}
	twisted.Members = twisted.Members[2:]
	twisted.Members = append([]scheme.MemberSpec{{Body: "lower", From: "lower_rear", To: "lower_ball"}, {Body: "upright", From: "lower_ball", To: "shock_lower"}}, twisted.Members...)
	m, faults := mechanism.Compile(twisted)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c := sizedConditions()
	x := fork.DefaultAcross(m)
	if why := NewAssembly(trial.Package(m), m, x, &c.Chassis, &fork.Shock{Count: 1}).Missing; !strings.Contains(why, "twist") {
		t.Errorf("a shock to the upright: %q", why)
	}
}

func TestScoresWithBallJointsAllocateNothing(t *testing.T) {
	c, d := onWishbones(t, rand.New(rand.NewPCG(6, 4)), func(*fork.Package) {})
	sc := newScorer(c)
	var s score
	sc.score(&s, d)
	if s.why != "" {
		t.Fatal(s.why)
	}
	if n := testing.AllocsPerRun(20, func() { sc.score(&s, d) }); n > 0 {
		t.Fatalf("%v allocations per design", n)
	}
}
