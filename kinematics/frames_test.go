package kinematics

import (
	"math"
	"testing"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
)

// lever is a body on one pin at the origin, the textbooks' x along and y ahead.
func lever(t *testing.T) (*Mechanism, []plane.Vec[float64]) {
	t.Helper()
	m := mustCompile(t, scheme.MechanismSpec{
		Name: "lever", Ground: "ground", Bodies: []string{"ground", "lever"}, Axle: "lever",
		Pivots: []scheme.PivotSpec{{Name: "a", Bodies: []string{"ground", "lever"}}},
	})
	return m, make([]plane.Vec[float64], len(m.Points))
}

// Toggle clamp of Baker and Haynes, Engineering Statics (open text), 6.6, in inches: the lever from
// A(0,0) over B(7,−24) to C(16,−40), a link from B to the block D(0,−48) on a vertical guide. A force F
// at C towards (−cos 60°, −sin 60°) presses the link by 2.5190779 F and clamps by 2.4183147 F.
func TestToggleClamp(t *testing.T) {
	m, places := lever(t)
	b, c, d := plane.Vec[float64]{Along: 7, Ahead: -24}, plane.Vec[float64]{Along: 16, Ahead: -40}, plane.Vec[float64]{Along: 0, Ahead: -48}
	link := b.Minus(d).Times(1 / plane.Distance(b, d)) // pushes the lever at B
	loads := make([]Load[float64], 2)
	body := m.wheel
	loads[body].Push(plane.Vec[float64]{Along: -math.Cos(60 * deg), Ahead: -math.Sin(60 * deg)}, c)
	pressed := -loads[body].About(plane.Vec[float64]{}) / b.Cross(link)
	loads[body].Push(link.Times(pressed), b)
	JointLoads(m, make([]Load[float64], 1), loads, places)
	if clamp := pressed * link.Ahead; math.Abs(pressed-2.5190779) > 5e-8 || math.Abs(clamp-2.4183147) > 5e-8 {
		t.Errorf("link %.7f, clamp %.7f, want 2.5190779, 2.4183147", pressed, clamp)
	}
	if left := loads[body]; math.Abs(left.Moment) > 1e-12 || math.Abs(left.Force.Along) > 1e-15 {
		t.Errorf("the lever is left with %v", left)
	}
}

// Frame of Beer and Johnston, Statics, sample 6.4 (value from memory): a body on a pin C, 480 N down
// at 100 mm, 300 N at 60 mm, and the link DE at 250 mm with tan α = 80/150. Link −561.0 N, C −795.0 and
// 216.0 N.
func TestFrameWithALink(t *testing.T) {
	m, places := lever(t)
	loads := make([]Load[float64], 2)
	body := m.wheel
	link := plane.Vec[float64]{Along: -150. / 170, Ahead: -80. / 170}
	at := plane.Vec[float64]{Along: -250, Ahead: 0}
	loads[body].Push(plane.Vec[float64]{Along: 0, Ahead: -480}, plane.Vec[float64]{Along: -100, Ahead: 0})
	loads[body].Push(plane.Vec[float64]{Along: 300, Ahead: 0}, plane.Vec[float64]{Along: 0, Ahead: -60})
	force := -loads[body].About(plane.Vec[float64]{}) / at.Cross(link)
	loads[body].Push(link.Times(force), at)
	pins := make([]Load[float64], 1)
	JointLoads(m, pins, loads, places)
	on := pins[0].Force
	if m.joints[0].b != body {
		on = on.Times(-1)
	}
	if math.Abs(force+561) > 0.05 {
		t.Errorf("link %.2f N, want −561.0", force)
	}
	if want := (plane.Vec[float64]{Along: -795, Ahead: 216}); math.Abs(on.Along-want.Along) > 0.05 || math.Abs(on.Ahead-want.Ahead) > 0.05 {
		t.Errorf("pin %v, want %v", on, want)
	}
}

// Three-hinged frame of Kassimali, Structural Analysis, example 3.35 (published): pins A(0,0) and
// B(24,0), corners C(0,12) and D(24,12), hinge E(12,24), 20 to the right at C, 1.5 per length of CE and
// DE downward. A −8.636, 15.456, B −11.364, 35.456. A dyad is such a frame.
func TestThreeHingedFrame(t *testing.T) {
	a, b, e := plane.Vec[float64]{Along: 0, Ahead: 0}, plane.Vec[float64]{Along: 24, Ahead: 0}, plane.Vec[float64]{Along: 12, Ahead: 24}
	weight := 1.5 * math.Hypot(12, 12)
	var left, right Load[float64]
	left.Push(plane.Vec[float64]{Along: 20, Ahead: 0}, plane.Vec[float64]{Along: 0, Ahead: 12})
	left.Push(plane.Vec[float64]{Along: 0, Ahead: -weight}, plane.Vec[float64]{Along: 6, Ahead: 18})
	right.Push(plane.Vec[float64]{Along: 0, Ahead: -weight}, plane.Vec[float64]{Along: 18, Ahead: 18})
	tip := tipForce(e.Minus(a), e.Minus(b), left.About(a), right.About(b))
	atA := left.Force.Plus(tip).Times(-1)
	atB := right.Force.Minus(tip).Times(-1)
	for _, x := range []struct {
		what      string
		got, want float64
	}{{"A along", atA.Along, -8.636}, {"A up", atA.Ahead, 15.456}, {"B along", atB.Along, -11.364}, {"B up", atB.Ahead, 35.456}} {
		if math.Abs(x.got-x.want) > 5e-4 { // the last printed digit
			t.Errorf("%s: %.4f, want %.3f", x.what, x.got, x.want)
		}
	}
}
