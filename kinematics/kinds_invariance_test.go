package kinematics

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
)

// same fails where a number of two motions differs by more than rounding. want tells what the
// second motion's number is from the first's.
func same(t *testing.T, a, b *Motion, what string, number, want func(*stance.State[float64]) float64) {
	t.Helper()
	for i := range a.States {
		x, y := want(&a.States[i]), number(&b.States[i])
		// Rounding, times how ill the positions are told by a group that is hardly held.
		if !(math.Abs(x-y) < 1e-8*(1+math.Abs(x))) {
			t.Fatalf("%s at sample %d: %.12g, want %.12g", what, i, y, x)
		}
	}
}

// A fork moved in its own plane, the axle with it, keeps all that is relative.
func TestEveryKindMovedAsAWhole(t *testing.T) {
	every(t, 20, func(t *testing.T, m *mechanism.Mechanism, c *stance.Chassis, layout []plane.Vec[float64], mo *Motion) {
		by := plane.Vec[float64]{Along: 35, Ahead: -12}
		moved := *c
		moved.AxleToCrownMM += by.Along
		moved.ForkOffsetMM += by.Ahead
		shifted := make([]plane.Vec[float64], len(layout))
		for i, p := range layout {
			shifted[i] = p.Plus(by)
		}
		var b Motion
		if b.Sweep(m, &moved, shifted, kindTravel, 33); b.Fault != "" {
			t.Fatal(b.Fault)
		}
		ahead := func(s *stance.State[float64]) float64 { return s.Ahead }
		same(t, mo, &b, "ahead", ahead, func(s *stance.State[float64]) float64 { return s.Ahead + by.Ahead })
		for _, x := range relative {
			same(t, mo, &b, x.what, x.of, x.of)
		}
	})
}

var relative = []struct {
	what string
	of   func(*stance.State[float64]) float64
}{
	{"shock", func(s *stance.State[float64]) float64 { return s.ShockMM }},
	{"shock rate", func(s *stance.State[float64]) float64 { return s.ShockRate }},
	{"brake rate", func(s *stance.State[float64]) float64 { return s.BrakeRate }},
	{"ahead rate", func(s *stance.State[float64]) float64 { return s.AheadRate }},
	{"sine", func(s *stance.State[float64]) float64 { return s.SineMin }},
}

// Mirrored about the steering axis, path and turns change sides and the shock does not notice.
func TestEveryKindMirrored(t *testing.T) {
	every(t, 20, func(t *testing.T, m *mechanism.Mechanism, c *stance.Chassis, layout []plane.Vec[float64], mo *Motion) {
		other := *c
		other.ForkOffsetMM = -c.ForkOffsetMM
		mirrored := make([]plane.Vec[float64], len(layout))
		for i, p := range layout {
			mirrored[i] = plane.Vec[float64]{Along: p.Along, Ahead: -p.Ahead}
		}
		var b Motion
		if b.Sweep(m, &other, mirrored, kindTravel, 33); b.Fault != "" {
			t.Fatal(b.Fault)
		}
		for i, x := range relative {
			sign := 1.0
			if i == 2 || i == 3 {
				sign = -1
			}
			same(t, mo, &b, x.what, x.of, func(s *stance.State[float64]) float64 { return sign * x.of(s) })
		}
		ahead := func(s *stance.State[float64]) float64 { return s.Ahead }
		same(t, mo, &b, "ahead", ahead, func(s *stance.State[float64]) float64 { return -s.Ahead })
	})
}

// Twice the size gives twice the lengths and the same ratios.
func TestEveryKindOfTwiceTheSize(t *testing.T) {
	every(t, 20, func(t *testing.T, m *mechanism.Mechanism, c *stance.Chassis, layout []plane.Vec[float64], mo *Motion) {
		grown := *c
		for _, x := range []*float64{&grown.WheelbaseMM, &grown.FrontRadiusMM, &grown.RearRadiusMM, &grown.AxleToCrownMM, &grown.ForkOffsetMM} {
			*x *= 2
		}
		twice := make([]plane.Vec[float64], len(layout))
		for i, p := range layout {
			twice[i] = p.Times(2)
		}
		var b Motion
		if b.Sweep(m, &grown, twice, 2*kindTravel, 33); b.Fault != "" {
			t.Fatal(b.Fault)
		}
		for i, x := range relative {
			factor := [5]float64{2, 1, 0.5, 1, 1}[i]
			same(t, mo, &b, x.what, x.of, func(s *stance.State[float64]) float64 { return factor * x.of(s) })
		}
		trail := func(s *stance.State[float64]) float64 { return s.TrailMM }
		same(t, mo, &b, "trail", trail, func(s *stance.State[float64]) float64 { return 2 * s.TrailMM })
	})
}

// shuffled is a spec whose lists stand in another order. The two ends of a slide have their roles.
func shuffled(s scheme.MechanismSpec, r *rand.Rand) scheme.MechanismSpec {
	s.Bodies, s.Pivots, s.Slides = slices.Clone(s.Bodies), slices.Clone(s.Pivots), slices.Clone(s.Slides)
	r.Shuffle(len(s.Bodies), func(i, k int) { s.Bodies[i], s.Bodies[k] = s.Bodies[k], s.Bodies[i] })
	r.Shuffle(len(s.Slides), func(i, k int) { s.Slides[i], s.Slides[k] = s.Slides[k], s.Slides[i] })
	r.Shuffle(len(s.Pivots), func(i, k int) { s.Pivots[i], s.Pivots[k] = s.Pivots[k], s.Pivots[i] })
	for i := range s.Pivots {
		on := slices.Clone(s.Pivots[i].Bodies)
		r.Shuffle(len(on), func(i, k int) { on[i], on[k] = on[k], on[i] })
		s.Pivots[i].Bodies = on
	}
	return s
}

// The order of a file's lists changes no bit of any number.
func TestTheOrderInAFileDoesNotMatterToAnyKind(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 14))
	every(t, 20, func(t *testing.T, m *mechanism.Mechanism, c *stance.Chassis, layout []plane.Vec[float64], mo *Motion) {
		other := mustCompile(t, shuffled(m.Spec, r))
		var b Motion
		b.Sweep(other, c, layout, kindTravel, 33)
		for i := range mo.States {
			x, y := &mo.States[i], &b.States[i]
			if x.TrailMM != y.TrailMM || x.ShockRate != y.ShockRate || x.BrakeRate != y.BrakeRate || x.SineMin != y.SineMin {
				t.Fatalf("sample %d differs: %v, %v", i, x, y)
			}
		}
	})
}

func TestEveryKindAllocatesNothing(t *testing.T) {
	every(t, 4, func(t *testing.T, m *mechanism.Mechanism, c *stance.Chassis, layout []plane.Vec[float64], mo *Motion) {
		var s stance.State[float64]
		var d stance.Second[float64]
		mo.Solve(&s, &d, 20)
		if n := testing.AllocsPerRun(5, func() {
			mo.Sweep(m, c, layout, kindTravel, 33)
			mo.Solve(&s, &d, 20)
		}); n != 0 {
			t.Fatalf("%g allocations a sweep", n)
		}
	})
}

func BenchmarkSweepOfAGroup(b *testing.B) {
	m, _ := mechanism.Compile(kinds[5].spec)
	c := cargo()
	layout := laidOut(m, c, kinds[5].at)
	var mo Motion
	b.ReportAllocs()
	for b.Loop() {
		mo.Sweep(m, c, layout, kindTravel, 33)
	}
}
