package kinematics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
)

// renamed is a mechanism whose bodies and pivots are all called otherwise, and the new name of each point.
func renamed(s scheme.MechanismSpec, r *rand.Rand) (scheme.MechanismSpec, map[string]string) {
	order := r.Perm(100)
	next := func() string {
		name := fmt.Sprintf("n%02d", order[0])
		order = order[1:]
		return name
	}
	body, point := map[string]string{}, map[string]string{scheme.PointAxle: scheme.PointAxle, scheme.PointRoot: scheme.PointRoot, scheme.PointShockUpper: scheme.PointShockUpper, scheme.PointShockLower: scheme.PointShockLower}
	for _, b := range s.Bodies {
		body[b] = next()
	}
	named := func(p string) string {
		if point[p] == "" {
			point[p] = next()
		}
		return point[p]
	}
	t := scheme.MechanismSpec{Name: s.Name, Ground: body[s.Ground], Axle: body[s.Axle], Brake: body[s.Brake]}
	if s.Shock != [2]string{} {
		t.Shock = [2]string{body[s.Shock[0]], body[s.Shock[1]]}
	}
	for _, b := range s.Bodies {
		t.Bodies = append(t.Bodies, body[b])
	}
	for _, p := range s.Pivots {
		q := scheme.PivotSpec{Name: named(p.Name)}
		for _, b := range p.Bodies {
			q.Bodies = append(q.Bodies, body[b])
		}
		t.Pivots = append(t.Pivots, q)
	}
	for _, sl := range s.Slides {
		t.Slides = append(t.Slides, scheme.SlideSpec{Name: next(), Bodies: [2]string{body[sl.Bodies[0]], body[sl.Bodies[1]]}, Through: [2]string{named(sl.Through[0]), named(sl.Through[1])}})
	}
	for _, p := range s.Steering {
		t.Steering = append(t.Steering, named(p))
	}
	return t, point
}

// numbersOf are all numbers of a state but its poses, lengths in mm.
func numbersOf(s *stance.State[float64], d *stance.Second[float64]) []float64 {
	return []float64{
		s.Along, s.Ahead, s.AheadRate, s.SinHead, s.CosHead, s.SinSteer, s.CosSteer, s.OffsetMM, s.TrailMM, s.WheelbaseMM, s.VX, s.VZ, s.BrakeRate,
		s.ContactVX, s.ShockMM, s.ShockRate, s.SineMin, d.Ahead, d.VZ, d.ShockMM, d.HeadTurn, d.ContactVX,
	}
}

// Nothing depends on names: 500 random forks, each with all its bodies and pivots renamed at random.
func TestNamesDoNotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(500, 12))
	c := cargo()
	whole, stopped, otherDriver := 0, 0, 0
	list := slices.Clone(builtIn)
	for i := range kinds {
		list = append(list, builtInFork{kinds[i].spec, kinds[i].at})
	}
	// No body on the ground carries a shock end, so either link is tried as the driver.
	for _, shock := range [][2]string{{"crown", "blade"}, {}} {
		g := list[0]
		g.spec.Name, g.spec.Shock = "girder, shock elsewhere", shock
		list = append(list, g)
	}
	for i := range 500 {
		k := &list[i%len(list)]
		other, point := renamed(k.spec, r)
		a, b := mustCompile(t, k.spec), mustCompile(t, other)
		at := scattered(r, k.at, a.Points, []float64{5, 30, 60}[r.IntN(3)])
		moved := map[string][2]float64{}
		for name, p := range at {
			moved[point[name]] = p
		}
		la, lb := laidOut(a, c, at), laidOut(b, c, moved)
		travel := 60 + 60*r.Float64()
		var x, y Motion
		x.Sweep(a, c, la, travel, 33)
		y.Sweep(b, c, lb, travel, 33)
		if math.Abs(x.ReachedMM-y.ReachedMM) > 1e-9*travel || (x.Fault == "") != (y.Fault == "") {
			t.Errorf("%s: reaches %.12g, %q; renamed %.12g, %q", a.Name, x.ReachedMM, x.Fault, y.ReachedMM, y.Fault)
			continue
		}
		if x.Fault != "" {
			stopped++
			continue
		}
		whole++
		if x.batch.plain != y.batch.plain {
			otherDriver++
		}
		for n := range 34 {
			var s, u stance.State[float64]
			var ds, du stance.Second[float64]
			at := travel * r.Float64()
			if n < 33 {
				at = x.States[n].TravelMM
			}
			if !x.Solve(&s, &ds, at) || !y.Solve(&u, &du, at) {
				t.Fatalf("%s: no state at %g mm", a.Name, at)
			}
			// Rates beyond 1 belong to forks close to a dead point, where both lose as many digits.
			scale := 1 + math.Max(math.Abs(s.ContactVX), math.Max(math.Abs(s.ShockRate), math.Abs(s.AheadRate)))
			scale *= scale * scale
			want, got := numbersOf(&s, &ds), numbersOf(&u, &du)
			for i := range want {
				if math.Abs(want[i]-got[i]) > 1e-9*scale*math.Max(1, math.Abs(want[i])) {
					t.Fatalf("%s: number %d at %g mm is %.13g, renamed %.13g (%v)", a.Name, i, at, want[i], got[i], k.spec)
				}
			}
			pa, pb := mechanism.Positions(a, nil, &s, la), mechanism.Positions(b, nil, &u, lb)
			for i, name := range a.Points {
				if name == scheme.PointRoot {
					continue
				}
				if d := plane.Distance(pa[i], pb[b.Point(point[name])]); d > 1e-9*scale {
					t.Fatalf("%s: %s at %g mm is %g mm off when renamed", a.Name, name, at, d)
				}
			}
		}
	}
	t.Logf("%d whole, %d stop short, %d solved by other steps", whole, stopped, otherDriver)
	if whole < 200 || stopped < 20 {
		t.Errorf("%d whole, %d stop short", whole, stopped)
	}
}

// The transmission angle of the cargo girder of the examples is that of the upper link and the blade, since the
// shock is on the lower link: 53.35 degrees, whatever the pivots are called. With the upper link driving it would
// be 56.90 degrees.
func TestTransmissionAngleOfARenamedGirder(t *testing.T) {
	c := cargo()
	for _, name := range []string{"lower_rear", "z_lower_rear"} {
		s := girderSpec
		s.Pivots = append([]scheme.PivotSpec(nil), s.Pivots...)
		s.Pivots[0].Name = name
		at := map[string][2]float64{
			name: {27.9, 58.8}, "lower_front": {63.1, 206.2}, "upper_rear": {-104.6, 51.1}, "upper_front": {-72, 157.9},
			"shock_upper": {-187.9, 89.8}, "shock_lower": {18.5, 128.4}, "root": {36, 20},
		}
		m := mustCompile(t, s)
		var mo Motion
		mo.Sweep(m, c, laidOut(m, c, at), 100, 33)
		least := 1.0
		for i := range mo.States {
			least = math.Min(least, mo.States[i].SineMin)
		}
		if angle := math.Asin(least) / deg; math.Abs(angle-53.35) > 0.005 {
			t.Errorf("with %s: %.4f degrees", name, angle)
		}
	}
}

// The reaction link of this floating brake turns back at 40.8 mm of travel. With the arm's pivot called
// swing_pivot, that link used to come first by name and to drive, and the motion to be reported as ended there.
func TestAFloatingBrakeWhoseLinkTurnsBack(t *testing.T) {
	c := cargo()
	for _, name := range []string{"arm_pivot", "swing_pivot"} {
		s := floatingSpec
		s.Pivots = append([]scheme.PivotSpec(nil), s.Pivots...)
		s.Pivots[0].Name = name
		at := map[string][2]float64{
			name: {408.8, -179.8}, "carrier_pin": {377.9, 61.8}, "reaction_anchor": {257.9, -136}, "shock_upper": {179.5, -85}, "shock_lower": {387.5, -38}, "root": {25, 0},
		}
		m := mustCompile(t, s)
		var mo Motion
		mo.Sweep(m, c, laidOut(m, c, at), 44.2, 33)
		if mo.Fault != "" || mo.ReachedMM != 44.2 {
			t.Fatalf("with %s: %q at %.2f mm", name, mo.Fault, mo.ReachedMM)
		}
		link := m.Spec.Bodies[3]
		b := slices.Index(m.Bodies, link)
		if first, last := mo.States[0].Rate[b].Turn, mo.States[32].Rate[b].Turn; !(first*last < 0) {
			t.Errorf("the link does not turn back: %g, %g rad/mm", first, last)
		}
	}
}
