package kinematics

import (
	"math"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
)

// lever is a body on one pin at the origin, the textbooks' x along and y ahead.
func lever(t *testing.T) (*mechanism.Mechanism, []plane.Vec[float64]) {
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
	loads := make([]mechanism.Load[float64], 2)
	body := m.Wheel()
	loads[body].Push(plane.Vec[float64]{Along: -math.Cos(60 * deg), Ahead: -math.Sin(60 * deg)}, c)
	pressed := -loads[body].About(plane.Vec[float64]{}) / b.Cross(link)
	loads[body].Push(link.Times(pressed), b)
	mechanism.JointLoads(m, make([]mechanism.Load[float64], 1), loads, places)
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
	loads := make([]mechanism.Load[float64], 2)
	body := m.Wheel()
	link := plane.Vec[float64]{Along: -150. / 170, Ahead: -80. / 170}
	at := plane.Vec[float64]{Along: -250, Ahead: 0}
	loads[body].Push(plane.Vec[float64]{Along: 0, Ahead: -480}, plane.Vec[float64]{Along: -100, Ahead: 0})
	loads[body].Push(plane.Vec[float64]{Along: 300, Ahead: 0}, plane.Vec[float64]{Along: 0, Ahead: -60})
	force := -loads[body].About(plane.Vec[float64]{}) / at.Cross(link)
	loads[body].Push(link.Times(force), at)
	pins := make([]mechanism.Load[float64], 1)
	mechanism.JointLoads(m, pins, loads, places)
	on := pins[0].Force
	if m.JointList()[0].B != body {
		on = on.Times(-1)
	}
	if math.Abs(force+561) > 0.05 {
		t.Errorf("link %.2f N, want −561.0", force)
	}
	if want := (plane.Vec[float64]{Along: -795, Ahead: 216}); math.Abs(on.Along-want.Along) > 0.05 || math.Abs(on.Ahead-want.Ahead) > 0.05 {
		t.Errorf("pin %v, want %v", on, want)
	}
}
