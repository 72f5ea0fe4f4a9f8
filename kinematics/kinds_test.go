package kinematics

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
)

// kind is a mechanism of one way of solution, with coordinates that move through 60 mm; around
// them others are drawn. The axle is the cargo bike's, at [408, 38].
type kind struct {
	spec     scheme.MechanismSpec
	at       map[string][2]float64
	solution string // what the words of its solution must hold
}

func pin(name string, bodies ...string) scheme.PivotSpec {
	return scheme.PivotSpec{Name: name, Bodies: bodies}
}

func rail(name, guide, slider, from, to string) scheme.SlideSpec {
	return scheme.SlideSpec{Name: name, Bodies: [2]string{guide, slider}, Through: [2]string{from, to}}
}

// kinds has one mechanism for every kind of step.
var kinds = []kind{
	{
		scheme.MechanismSpec{
			Name: "slider on the ground, link to an arm", Ground: "crown", Bodies: []string{"crown", "arm", "link", "shoe"},
			Pivots: []scheme.PivotSpec{pin("pivot", "crown", "arm"), pin("knee", "arm", "link"), pin("toe", "link", "shoe")},
			Slides: []scheme.SlideSpec{rail("way", "crown", "shoe", "top", "bottom")},
			Axle:   "link", Brake: "link", Shock: [2]string{"crown", "arm"},
		},
		map[string][2]float64{"pivot": {300, -120}, "knee": {380, -20}, "toe": {200, 60}, "top": {50, 55}, "bottom": {250, 70}, "shock_upper": {150, -60}, "shock_lower": {350, -60}},
		"with a slide at toe",
	},
	{
		scheme.MechanismSpec{
			Name: "slider on a turning arm", Ground: "crown", Bodies: []string{"crown", "arm", "link", "shoe"},
			Pivots: []scheme.PivotSpec{pin("pivot", "crown", "arm"), pin("stay", "crown", "link"), pin("toe", "link", "shoe")},
			Slides: []scheme.SlideSpec{rail("way", "arm", "shoe", "near", "far")},
			Axle:   "shoe", Shock: [2]string{"crown", "shoe"},
		},
		map[string][2]float64{"pivot": {330, -160}, "stay": {240, -60}, "toe": {370, -30}, "near": {350, -100}, "far": {400, 10}, "shock_upper": {150, -60}, "shock_lower": {360, -40}},
		"with a slide at toe",
	},
	{
		scheme.MechanismSpec{
			Name: "leg on a pin, guided by a link", Ground: "crown", Bodies: []string{"crown", "tube", "lowers", "link"},
			Pivots: []scheme.PivotSpec{pin("head", "crown", "tube"), pin("anchor", "crown", "link"), pin("lug", "link", "lowers")},
			Slides: []scheme.SlideSpec{rail("leg", "tube", "lowers", "upper_bush", "lower_bush")},
			Axle:   "lowers", Shock: [2]string{"crown", "link"},
		},
		map[string][2]float64{"head": {20, 30}, "anchor": {60, 120}, "lug": {180, 190}, "upper_bush": {100, 35}, "lower_bush": {300, 42}, "shock_upper": {-60, 130}, "shock_lower": {120, 160}},
		"lowers and tube, with a slide at lug",
	},
	{
		scheme.MechanismSpec{
			Name: "pin between two slides", Ground: "crown", Bodies: []string{"crown", "arm", "shoe", "block"},
			Pivots: []scheme.PivotSpec{pin("pivot", "crown", "arm"), pin("cross", "shoe", "block")},
			Slides: []scheme.SlideSpec{rail("straight", "crown", "shoe", "top", "bottom"), rail("slot", "arm", "block", "near", "far")},
			Axle:   "block", Brake: "block", Shock: [2]string{"crown", "arm"},
		},
		map[string][2]float64{"pivot": {360, -170}, "cross": {350, 0}, "top": {100, -10}, "bottom": {300, 10}, "near": {370, -100}, "far": {360, 40}, "shock_upper": {120, 0}, "shock_lower": {330, 5}},
		"block and shoe, with a slide at cross",
	},
	{
		scheme.MechanismSpec{
			Name: "two slides in a row", Ground: "crown", Bodies: []string{"crown", "arm", "block", "yoke"},
			Pivots: []scheme.PivotSpec{pin("pivot", "crown", "arm"), pin("toe", "arm", "block")},
			Slides: []scheme.SlideSpec{rail("slot", "yoke", "block", "near", "far"), rail("straight", "crown", "yoke", "top", "bottom")},
			Axle:   "arm", Brake: "arm", Shock: [2]string{"crown", "arm"},
		},
		map[string][2]float64{"pivot": {380, -150}, "toe": {370, -20}, "top": {100, -10}, "bottom": {300, 5}, "near": {360, -60}, "far": {365, 20}, "shock_upper": {100, 0}, "shock_lower": {330, 0}},
		"block and yoke, with a slide at toe",
	},
	{
		// Stephenson's chain with a binary link for ground: no order of dyads solves it.
		scheme.MechanismSpec{
			Name: "a leg on three links", Ground: "crown", Bodies: []string{"crown", "arm", "rear", "front", "stay", "leg"},
			Pivots: []scheme.PivotSpec{
				pin("arm_pivot", "crown", "arm"), pin("stay_pivot", "crown", "stay"),
				pin("rear_top", "arm", "rear"), pin("rear_bottom", "rear", "leg"), pin("front_top", "arm", "front"), pin("front_bottom", "front", "leg"),
				pin("stay_end", "stay", "leg"),
			},
			Axle: "leg", Shock: [2]string{"crown", "arm"},
		},
		map[string][2]float64{
			"arm_pivot": {10, -160}, "rear_top": {0, -40}, "front_top": {-10, 120}, "rear_bottom": {120, -50}, "front_bottom": {110, 110},
			"stay_pivot": {250, -150}, "stay_end": {260, 30}, "shock_upper": {-200, 0}, "shock_lower": {-10, 20},
		},
		"solved together by Newton",
	},
	{
		scheme.MechanismSpec{
			Name: "a leg on three links, one of them a slide", Ground: "crown", Bodies: []string{"crown", "arm", "rear", "front", "shoe", "leg"},
			Pivots: []scheme.PivotSpec{
				pin("arm_pivot", "crown", "arm"),
				pin("rear_top", "arm", "rear"), pin("rear_bottom", "rear", "leg"), pin("front_top", "arm", "front"), pin("front_bottom", "front", "leg"),
				pin("shoe_end", "shoe", "leg"),
			},
			Slides: []scheme.SlideSpec{rail("way", "crown", "shoe", "top", "bottom")},
			Axle:   "leg", Shock: [2]string{"crown", "arm"},
		},
		map[string][2]float64{
			"arm_pivot": {10, -160}, "rear_top": {0, -40}, "front_top": {-10, 120}, "rear_bottom": {120, -50}, "front_bottom": {110, 110},
			"top": {100, 20}, "bottom": {300, 35}, "shoe_end": {260, 30}, "shock_upper": {-200, 0}, "shock_lower": {-10, 20},
		},
		"solved together by Newton",
	},
	{
		// Watt's chain: the leg hangs on two bodies that are not on the ground themselves.
		scheme.MechanismSpec{
			Name: "six-bar", Ground: "crown", Bodies: []string{"crown", "arm", "link", "coupler", "drop", "leg"},
			Pivots: []scheme.PivotSpec{
				pin("arm_pivot", "crown", "arm"), pin("link_pivot", "crown", "link"), pin("arm_end", "arm", "coupler"), pin("link_end", "link", "coupler"),
				pin("drop_top", "arm", "drop"), pin("drop_bottom", "drop", "leg"), pin("leg_top", "coupler", "leg"),
			},
			Axle: "leg", Shock: [2]string{"crown", "arm"},
		},
		map[string][2]float64{
			"arm_pivot": {20, 60}, "arm_end": {60, 180}, "link_pivot": {-120, 60}, "link_end": {-70, 190}, "drop_top": {40, 130}, "drop_bottom": {150, 140},
			"leg_top": {90, 215}, "shock_upper": {-180, 90}, "shock_lower": {10, 110},
		},
		"dyad: ",
	},
	{
		scheme.MechanismSpec{
			Name: "wishbone", Ground: "frame", Bodies: []string{"frame", "lower", "upper", "upright"}, Steering: []string{"lower_ball", "upper_ball"},
			Pivots: []scheme.PivotSpec{
				pin("lower_rear", "frame", "lower"), pin("lower_ball", "lower", "upright"), pin("upper_rear", "frame", "upper"), pin("upper_ball", "upper", "upright"),
			},
			Axle: "upright", Shock: [2]string{"frame", "lower"},
		},
		map[string][2]float64{
			"lower_rear": {130, -150}, "lower_ball": {120, 0}, "upper_rear": {-40, -130}, "upper_ball": {-60, 0},
			"shock_upper": {-150, -70}, "shock_lower": {120, -60},
		},
		"dyad: ",
	},
}

// drawn are coordinates near those of a kind.
func (k *kind) drawn(r *rand.Rand, by float64) map[string][2]float64 {
	at := map[string][2]float64{}
	m, _ := mechanism.Compile(k.spec)
	for _, name := range m.Points {
		if p, ok := k.at[name]; ok {
			at[name] = [2]float64{p[0] + by*(2*r.Float64()-1), p[1] + by*(2*r.Float64()-1)}
		}
	}
	return at
}

const kindTravel = 60

// every draws designs of every kind and hands on those that move through.
func every(t *testing.T, draws int, check func(t *testing.T, m *mechanism.Mechanism, c *stance.Chassis, layout []plane.Vec[float64], mo *Motion)) {
	t.Helper()
	c := cargo()
	for i := range kinds {
		t.Run(kinds[i].spec.Name, func(t *testing.T) {
			m := mustCompile(t, kinds[i].spec)
			r := rand.New(rand.NewPCG(uint64(i), 41))
			var mo Motion
			through := 0
			for n := range draws {
				layout := laidOut(m, c, kinds[i].drawn(r, math.Min(float64(n), 15)))
				if mo.Sweep(m, c, layout, kindTravel, 33); mo.Fault != "" {
					if n == 0 {
						t.Fatalf("the kind itself stops at %.3f mm: %s", mo.ReachedMM, mo.Fault)
					}
					continue
				}
				through++
				check(t, m, c, layout, &mo)
			}
			if through < draws/4 {
				t.Errorf("only %d of %d designs move through", through, draws)
			}
		})
	}
}

func TestDescriptionOfASolution(t *testing.T) {
	for i := range kinds {
		m := mustCompile(t, kinds[i].spec)
		if words := strings.Join(m.Solution(), "; "); !strings.Contains(words, kinds[i].solution) {
			t.Errorf("%s: %q is not in %q", m.Name, kinds[i].solution, words)
		}
	}
}

func TestEveryKindAgreesWithNewtonOnAllJoints(t *testing.T) {
	every(t, 60, func(t *testing.T, m *mechanism.Mechanism, c *stance.Chassis, layout []plane.Vec[float64], mo *Motion) {
		for i := range mo.States {
			s := &mo.States[i]
			want, ok := newton(m, layout, c.AxleToCrownMM-s.TravelMM, s.Pose)
			if !ok {
				t.Fatal("Newton does not converge")
			}
			for b := range want {
				gap := want[b].At.Minus(s.Pose[b].At)
				// 1e-9 mm is what the search's derivatives need.
				if d := math.Hypot(gap.Along, gap.Ahead) + 400*math.Abs(want[b].Sin-s.Pose[b].Sin); !(d < 1e-9) {
					t.Fatalf("at %g mm body %s is %g mm off", s.TravelMM, m.Bodies[b], d)
				}
			}
		}
	})
}

func TestRatesOfEveryKindAgreeWithCentralDifferences(t *testing.T) {
	every(t, 40, func(t *testing.T, m *mechanism.Mechanism, _ *stance.Chassis, _ []plane.Vec[float64], mo *Motion) {
		const h = 1e-3
		var low, mid, high stance.State[float64]
		var d stance.Second[float64]
		if !mo.Solve(&low, nil, 25-h) || !mo.Solve(&high, nil, 25+h) || !mo.Solve(&mid, &d, 25) {
			t.Fatal("a fork that moves through does not get to 25 mm")
		}
		turn := func(s *stance.State[float64]) float64 {
			return math.Atan2(s.Pose[m.Brake()].Sin, s.Pose[m.Brake()].Cos)
		}
		for _, x := range []struct {
			what               string
			negligible, lo, hi float64
		}{
			{"ahead", mid.AheadRate, low.Ahead, high.Ahead},
			{"brake", mid.BrakeRate, turn(&low), turn(&high)},
			{"shock", -mid.ShockRate, low.ShockMM, high.ShockMM},
			{"ahead twice", d.Ahead, low.AheadRate, high.AheadRate},
			{"VZ", d.VZ, low.VZ, high.VZ},
			{"shock twice", d.ShockMM, low.ShockRate, high.ShockRate},
			{"contact", d.ContactVX, low.ContactVX, high.ContactVX},
		} {
			// 1e-6: the third derivative times h²/6, and rounding over h.
			if got := (x.hi - x.lo) / (2 * h); !(math.Abs(got-x.negligible) < 1e-6*(1+math.Abs(x.negligible))) {
				t.Fatalf("%s: exact %g, central difference %g", x.what, x.negligible, got)
			}
		}
	})
}

// The derivative along a random direction of the layout, of everything that a state has.
func TestDerivativesOfEveryKindAgreeWithCentralDifferences(t *testing.T) {
	const step = 1e-40
	r := rand.New(rand.NewPCG(7, 7))
	every(t, 30, func(t *testing.T, m *mechanism.Mechanism, c *stance.Chassis, layout []plane.Vec[float64], mo *Motion) {
		const h = 1e-4
		lifted := make([]plane.Vec[complex128], len(layout))
		low, high := make([]plane.Vec[float64], len(layout)), make([]plane.Vec[float64], len(layout))
		for i, p := range layout {
			var d plane.Vec[float64]
			if i != m.Axle() {
				d = plane.Vec[float64]{Along: r.Float64() - 0.5, Ahead: r.Float64() - 0.5}
			}
			lifted[i] = plane.Vec[complex128]{Along: complex(p.Along, d.Along*step), Ahead: complex(p.Ahead, d.Ahead*step)}
			low[i], high[i] = p.Minus(d.Times(h)), p.Plus(d.Times(h))
		}
		var a, b Motion
		a.Sweep(m, c, low, kindTravel, 33)
		b.Sweep(m, c, high, kindTravel, 33)
		if a.Fault != "" || b.Fault != "" {
			return
		}
		var sh Tangent
		sh.Set(mo, m, lifted)
		var s stance.State[complex128]
		for _, i := range []int{3, 20, 31} {
			sh.Differentiate(&s, nil, &mo.States[i], complex(mo.States[i].TravelMM, 0))
			x, y := &a.States[i], &b.States[i]
			for _, v := range []struct {
				what       string
				negligible complex128
				lo, hi     float64
			}{
				{"ahead", s.Ahead, x.Ahead, y.Ahead},
				{"trail", s.TrailMM, x.TrailMM, y.TrailMM},
				{"contact", s.ContactVX, x.ContactVX, y.ContactVX},
				{"shock", s.ShockMM, x.ShockMM, y.ShockMM},
				{"shock rate", s.ShockRate, x.ShockRate, y.ShockRate},
				{"sine", s.SineMin, x.SineMin, y.SineMin},
			} {
				got, exact := (v.hi-v.lo)/(2*h), imag(v.negligible)/step
				if !(math.Abs(got-exact) < 1e-6*(1+math.Abs(exact))) {
					t.Fatalf("%s at sample %d: exact %g, central difference %g", v.what, i, exact, got)
				}
			}
		}
	})
}
