package clearance

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"forkfront/kinematics/stance"
	"forkfront/objectives/fork"
	"forkfront/objectives/trial"
)

// randomRod is a random rod of up to 200 mm around a fork, every third in the mid-plane.
func randomRod(name string, r *rand.Rand) fork.Capsule {
	in := func(half float64) float64 { return half * (2*r.Float64() - 1) }
	at := spot{Along: in(200), Ahead: in(300), Left: in(150)}
	to := spot{Along: at.Along + in(100), Ahead: at.Ahead + in(100), Left: at.Left + in(50)}
	if r.IntN(3) == 0 {
		at.Left, to.Left = 0, 0
	}
	return fork.Capsule{Name: name, Ends: segment{at, to}, RadiusMM: 5 + 10*r.Float64()}
}

// cluttered returns a girder, or an arm behind the steering axis, with random rods on frame and crown.
func cluttered(t *testing.T, r *rand.Rand, arm bool) (*scorer, *design) {
	clutter := func(p *fork.Package) {
		p.LockRad = (20 + 60*r.Float64()) * deg
		p.Frame = append(p.Frame, randomRod("box", r), randomRod("rack", r))
		p.Steered = append(p.Steered, randomRod("lamp", r), randomRod("guard", r))
	}
	if arm {
		return leadingArm(t, clutter)
	}
	c := sizedConditions()
	m := trial.Girder()
	d := spaciousDesign(c, m, r)
	p := trial.Package(m)
	clutter(p)
	d.across.Settle(m, &c.Chassis, c.TravelMM, d.layout, &d.shock, p)
	d.assembly = NewAssembly(p, m, d.across, &c.Chassis, &d.shock)
	return newScorer(c), d
}

// sampledPairs is the smallest gap of each pair of the list by plain sampling of travel and, if one of the two is on
// the frame, of steering angles, without prior knowledge of the angle.
func sampledPairs(sc *scorer, d *design, travels, angles int) []float64 {
	k, r := &sc.search.pairs, d.assembly
	var all []float64
	var st stance.State[float64]
	for i := range r.pairs {
		p := &r.pairs[i]
		least := math.Inf(1)
		for n := range travels {
			sc.motion.Solve(&st, nil, sc.conditions.TravelMM*float64(n)/float64(travels-1))
			spots := k.positionsOf(nil, &st)
			for a := range angles {
				c := contact{pair: i}
				b := r.parts[p.b].axis(spots)
				if p.frame >= 0 {
					b = r.frameAt(p, r.lock*(2*float64(a)/float64(angles-1)-1))
				} else if a > 0 {
					break
				}
				k.gap(&c, spots, &b)
				least = min(least, c.gap)
			}
		}
		if p.sameParts {
			all[len(all)-1] = min(all[len(all)-1], least)
		} else {
			all = append(all, least)
		}
	}
	return all
}

// Each pair of the list compared with plain sampling.
func TestEveryPairAgainstPlainSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 3))
	forks, steered, inner := 0, 0, 0
	for i := 0; forks < 24; i++ {
		if i > 200 {
			t.Fatalf("only %d forks", forks)
		}
		sc, d := cluttered(t, r, i%2 == 1)
		var s score
		if sc.score(&s, d); s.why != "" {
			continue
		}
		forks++
		gaps := sc.search.Gaps()
		for k, want := range sampledPairs(sc, d, 41, 41) {
			// Sampling may only be too high, and no more than its steps of 2.5 mm and up to 4 degrees let it:
			// of what is 300 mm from the axis, half a step squared by the curvature of a circle is 0.2 mm.
			got := gaps[k].GapMM
			if got > want+1e-6 || got > 0 && got < want-0.8 {
				t.Fatalf("%s: %.9g at %g mm and %g degrees, by sampling %.9g", gaps[k].Pair, got, gaps[k].TravelMM, gaps[k].SteerDeg, want)
			}
			if steer := math.Abs(gaps[k].SteerDeg); steer > 0 {
				steered++
				if steer < d.assembly.lock/deg-1e-9 {
					inner++
				}
			}
		}
	}
	if steered < 200 || inner < 50 {
		t.Errorf("only %d pairs were closest when steered, %d of them short of the lock", steered, inner)
	}
}

// Nor do they around ball joints.
func TestClearanceAroundBallJointsDoesNotDependOnEarlierForks(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 8))
	c, before := onVariedWishbones(t, r)
	sc := newScorer(c)
	seen := 0
	for range 60 {
		_, d := onVariedWishbones(t, r)
		var fresh, after score
		newScorer(c).score(&fresh, d)
		sc.score(&after, before)
		sc.score(&after, d)
		if fresh != after {
			t.Fatalf("%+v after another fork, %+v by a new scorer", after, fresh)
		}
		if before = d; fresh.why == "" {
			seen++
		}
	}
	if seen < 20 {
		t.Errorf("only %d forks", seen)
	}
}

// Earlier forks do not change a single bit of the result, nor does the order of the pairs: the smallest gap of the
// list is that of the score.
func TestClearanceDoesNotDependOnEarlierForks(t *testing.T) {
	sc, all := forks(t, 200)
	for i, d := range all {
		var fresh, after score
		newScorer(sc.conditions).score(&fresh, d)
		sc.score(&after, all[(i+17)%len(all)])
		sc.score(&after, d)
		if fresh != after {
			t.Fatalf("%+v after another fork, %+v by a new scorer", after, fresh)
		}
		least := Gap{GapMM: math.Inf(1)}
		for _, g := range sc.search.Gaps() {
			if !strings.HasPrefix(g.Pair, "hub / ") && g.GapMM < least.GapMM {
				least = g
			}
		}
		if least.GapMM != after.closest.GapMM {
			t.Fatalf("the closest of all pairs is %+v, that of the score %+v", least, after.closest)
		}
	}
}
