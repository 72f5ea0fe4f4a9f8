package objectives

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/clearance"
	"forkfront/objectives/fork"
	"forkfront/objectives/trial"
)

// tangledGirder draws a girder whose points are anywhere above the wheel, so that most of its parts cross; its tubes have the
// radius of the package.
func tangledGirder(c *Conditions, m *mechanism.Mechanism, r *rand.Rand) *Design {
	layout := trial.Layout(m, r)
	for i, name := range m.Points {
		if name != scheme.PointAxle && name != scheme.PointRoot {
			layout[i] = kinematics.Vec[float64]{Along: -180 + 280*r.Float64(), Ahead: 40 + 220*r.Float64()}
		}
	}
	return packed(c, m, layout, []string{"", "upper_link"}[r.IntN(2)])
}

// packed is a girder in its package; a body named is in a lane beside the others.
func packed(c *Conditions, m *mechanism.Mechanism, layout []kinematics.Vec[float64], upper string) *Design {
	d := &Design{
		Mechanism: m, Layout: layout, Shock: fork.Shock{Count: 1, EyeToEyeMM: 165, StrokeMM: 45},
		Across: fork.DefaultAcross(m), Material: fork.MaterialNamed("7075-T6"),
	}
	if upper != "" {
		d.Across.HalfWidthMM[slices.Index(m.Bodies, upper)] = 64
	}
	p := trial.Package(m)
	d.Across.Settle(m, &c.Chassis, c.TravelMM, d.Layout, &d.Shock, p)
	d.Assembly = clearance.NewAssembly(p, m, d.Across, &c.Chassis, &d.Shock)
	return d
}

// girderUnsized are conditions without sizes, under which nearly every fork that moves has a clearance.
func girderUnsized() *Conditions {
	c := conditions()
	c.Structure = nil
	prepare(c)
	return c
}

// Depth adds to a gap without a jump, also where parts begin to cross: on a straight way from one layout to another, the step with the
// largest change of gap less depth is halved until hardly anything of it may be left. Depth is finite and 0 where there is
// clearance.
func TestCrossingIsContinuous(t *testing.T) {
	const wanted, steps = 6, 150
	c, m := girderUnsized(), trial.Girder()
	r := rand.New(rand.NewPCG(20, 7))
	sc := newScorer(c)
	begun, halved := 0, 0
	for range 25 {
		from, to := clearGirder(c, m, r), tangledGirder(c, m, r)
		d := *from
		d.Layout = make([]kinematics.Vec[float64], len(from.Layout))
		at := func(part float64) (value, depth float64, ok bool) {
			for i := range d.Layout {
				d.Layout[i] = from.Layout[i].Plus(to.Layout[i].Minus(from.Layout[i]).Times(part))
			}
			var s Score
			study := sc.Score(&s, &d)
			depth = study.Crossing(wanted)
			if !(depth >= 0) || math.IsInf(depth, 0) || s.Missing[Clearance] == "" && s.Values[Clearance] >= wanted && depth != 0 {
				t.Fatalf("depth %g with a gap of %g", depth, s.Values[Clearance])
			}
			return s.Values[Clearance] - depth, depth, s.Missing[Clearance] == ""
		}
		largest, low := 0.0, -1.0
		before, deep, had := at(0)
		for k := 1; k <= steps; k++ {
			now, depth, ok := at(float64(k) / steps)
			if ok && had {
				if change := math.Abs(now - before); change > largest {
					largest, low = change, float64(k-1)/steps
				}
				if (depth > 0) != (deep > 0) {
					begun++
				}
			}
			before, deep, had = now, depth, ok
		}
		if low < 0 {
			continue
		}
		high := low + 1./steps
		a, _, whole := at(low)
		b, _, _ := at(high)
		for range 24 {
			mid, _, ok := at((low + high) / 2)
			if whole = whole && ok; !whole {
				break // it does not move through its travel there
			}
			if math.Abs(mid-a) > math.Abs(b-mid) {
				b, high = mid, (low+high)/2
			} else {
				a, low = mid, (low+high)/2
			}
		}
		if !whole {
			continue
		}
		halved++
		if math.Abs(b-a) > 1e-2 {
			t.Fatalf("from %g to %g within %g of the way", a, b, high-low)
		}
	}
	if halved < 8 || begun < 3 {
		t.Errorf("%d ways were halved; %d times parts began or ceased to cross", halved, begun)
	}
}

// The exact derivative against central differences along random directions; where these differ by how far they reach, another end or
// sample is about to be the one that counts.
func TestCrossingSlopesAgreeWithCentralDifferences(t *testing.T) {
	const wanted = 6
	m := trial.Girder()
	r := rand.New(rand.NewPCG(20, 8))
	for _, c := range []*Conditions{girderUnsized(), conditions()} {
		sc, other := newScorer(c), newScorer(c)
		checked, kinks, slopes := 0, 0, make([]float64, len(Measures))
		for tries := 0; checked+kinks < 60 && tries < 2000; tries++ {
			d := tangledGirder(c, m, r)
			var s Score
			study := sc.Score(&s, d)
			if s.Missing[Clearance] != "" || study.Crossing(wanted) == 0 {
				continue
			}
			direction := make([]kinematics.Vec[float64], len(d.Layout))
			for i := range direction {
				if m.Points[i] != scheme.PointAxle { // which stays where the bike has it
					direction[i] = kinematics.Vec[float64]{Along: r.NormFloat64(), Ahead: r.NormFloat64()}
				}
			}
			at := func(by float64) float64 {
				e := *d
				e.Layout = make([]kinematics.Vec[float64], len(d.Layout))
				for i := range e.Layout {
					e.Layout[i] = d.Layout[i].Plus(direction[i].Times(by))
				}
				var s Score
				return other.Score(&s, &e).Crossing(wanted)
			}
			const h = 1e-5
			got := study.CrossingSlope(direction, wanted)
			opposite := make([]kinematics.Vec[float64], len(direction))
			for i := range direction {
				opposite[i] = direction[i].Times(-1)
			}
			study.Slope(slopes, opposite, []int{Clearance})
			if after := study.CrossingSlope(direction, wanted); after != got {
				t.Fatalf("%g, after slopes along the opposite direction %g", got, after)
			}
			study.Slope(slopes, direction, []int{Clearance})
			if after := study.CrossingSlope(direction, wanted); after != got {
				t.Fatalf("%g, after slopes along the same direction %g", got, after)
			}
			near, far := (at(h)-at(-h))/(2*h), (at(2*h)-at(-2*h))/(4*h)
			if math.Abs(near-far) > 1e-4*(1+math.Abs(near)) {
				kinks++
				continue
			}
			if math.Abs(got-near) > 1e-3*(1+math.Abs(near)) {
				t.Fatalf("%g, by differences %g and %g", got, near, far)
			}
			checked++
		}
		if checked < 40 {
			t.Errorf("only %d checked, %d beside a kink", checked, kinks)
		}
	}
}

// Whatever bodies and pivots are called, parts reach as far through each other.
func TestCrossingDoesNotDependOnNames(t *testing.T) {
	c, m := girderUnsized(), trial.Girder()
	r := rand.New(rand.NewPCG(20, 9))
	sc := newScorer(c)
	crossed := 0
	for range 60 {
		spec, pivot := renamed(m.Spec, r)
		body := map[string]string{}
		for i, b := range m.Spec.Bodies {
			body[b] = spec.Bodies[i]
		}
		of := func(point string) string {
			if to, ok := pivot[point]; ok {
				return to
			}
			return point
		}
		for i, mb := range m.Spec.Members {
			x := scheme.MemberSpec{Body: body[mb.Body], From: of(mb.From), To: of(mb.To)}
			if i%2 == 0 {
				x.From, x.To = x.To, x.From
			}
			spec.Members = append([]scheme.MemberSpec{x}, spec.Members...)
		}
		n := trial.Compile(spec)
		d := tangledGirder(c, m, r)
		moved := make([]kinematics.Vec[float64], len(d.Layout))
		for i, name := range m.Points {
			moved[n.Point(of(name))] = d.Layout[i]
		}
		e := packed(c, n, moved, "")
		for i, b := range m.Bodies {
			e.Across.HalfWidthMM[slices.Index(n.Bodies, body[b])] = d.Across.HalfWidthMM[i]
		}
		e.Assembly = clearance.NewAssembly(e.Assembly.Package, n, e.Across, &c.Chassis, &e.Shock)
		var s Score
		first := sc.Score(&s, d).Crossing(6)
		second := sc.Score(&s, e).Crossing(6)
		if math.Abs(first-second) > 1e-6*(1+first) {
			t.Fatalf("%g, otherwise named %g", first, second)
		}
		if first > 0 {
			crossed++
		}
	}
	if crossed < 20 {
		t.Errorf("only %d crossed", crossed)
	}
}

// Layouts that have lost their shape still have a depth that is a number, and a slope.
func TestCrossingIsANumber(t *testing.T) {
	c, m := girderUnsized(), trial.Girder()
	r := rand.New(rand.NewPCG(20, 10))
	sc := newScorer(c)
	direction := make([]kinematics.Vec[float64], len(m.Points))
	for i := range direction {
		direction[i] = kinematics.Vec[float64]{Along: r.NormFloat64(), Ahead: r.NormFloat64()}
	}
	had := 0
	for range 300 {
		d := tangledGirder(c, m, r)
		for range 2 {
			d.Layout[r.IntN(len(d.Layout))] = d.Layout[r.IntN(len(d.Layout))] // points that coincide
		}
		var s Score
		study := sc.Score(&s, d)
		depth, slope := study.Crossing(6), study.CrossingSlope(direction, 6)
		if depth-depth != 0 || slope-slope != 0 {
			t.Fatalf("depth %g, slope %g", depth, slope)
		}
		if depth > 0 {
			had++
		}
	}
	if had < 10 {
		t.Errorf("only %d had a depth", had)
	}
}

func TestCrossingAllocatesNothing(t *testing.T) {
	c, m := girderUnsized(), trial.Girder()
	r := rand.New(rand.NewPCG(20, 11))
	sc := newScorer(c)
	var s Score
	for range 100 {
		d := tangledGirder(c, m, r)
		if sc.Score(&s, d).Crossing(6) == 0 {
			continue
		}
		study := sc.Score(&s, d)
		direction := make([]kinematics.Vec[float64], len(m.Points))
		direction[0].Along = 1
		if n := testing.AllocsPerRun(20, func() { study.CrossingSlope(direction, study.Crossing(6)) }); n > 0 {
			t.Fatalf("%v allocations", n)
		}
		return
	}
	t.Error("no parts crossed")
}
