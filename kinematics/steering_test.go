package kinematics

import (
	"math"
	"slices"
	"strings"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// wishbone is the kind of that name.
func wishbone() *kind { return &kinds[len(kinds)-1] }

// The steering axis drawn in the ground frame: both balls turned by the head angle about the axle,
// which stands a wheel's radius above the ground, and the line through them followed down to it.
func TestTrailOfAnAxisThroughBalls(t *testing.T) {
	for _, level := range []bool{false, true} {
		c := cargo()
		c.Level = level
		k := wishbone()
		m := mustCompile(t, k.spec)
		var mo Motion
		if mo.Sweep(m, c, laidOut(m, c, k.at), 100, 33); mo.Fault != "" {
			t.Fatal(mo.Fault)
		}
		moved := 0.0
		for i := range mo.States {
			s := &mo.States[i]
			sin, cos := math.Sincos(s.HeadAngle())
			ground := func(point string) (x, z float64) {
				b := slices.Index(m.Bodies, "upright")
				d := s.Pose[b].At.Plus(s.Pose[b].Turned(k.offset(m, c, point, m.Anchors()[b]))).Minus(plane.Vec[float64]{Along: s.Along, Ahead: s.Ahead})
				return d.Along*cos + d.Ahead*sin, -d.Along*sin + d.Ahead*cos + c.FrontRadiusMM
			}
			xl, zl := ground("lower_ball")
			xu, zu := ground("upper_ball")
			want := xl - zl*(xu-xl)/(zu-zl)
			if math.Abs(s.TrailMM-want) > 1e-9*400 {
				t.Errorf("level %v at %g mm: trail %.9f, drawn %.9f", level, s.TravelMM, s.TrailMM, want)
			}
			if angle := math.Atan2(zu-zl, xl-xu); math.Abs(s.SteeringAngle()-angle) > 1e-12 {
				t.Errorf("level %v at %g mm: axis at %.9f, drawn %.9f", level, s.TravelMM, s.SteeringAngle()/deg, angle/deg)
			}
			moved = math.Max(moved, math.Abs(s.SteeringAngle()-s.HeadAngle()))
		}
		if first := mo.States[0]; math.Abs(first.TrailMM-stance.Trail(258, 38, 70*deg)) > 1e-9 {
			t.Errorf("at top-out the axis is the frame's: trail %g", first.TrailMM)
		}
		if moved < 1*deg {
			t.Errorf("the axis moves by %g degrees: nothing was shown", moved/deg)
		}
	}
}

// offset of a point from an anchor at top-out.
func (k *kind) offset(m *mechanism.Mechanism, c *stance.Chassis, point string, anchor int) plane.Vec[float64] {
	layout := laidOut(m, c, k.at)
	return layout[m.Point(point)].Minus(layout[anchor])
}

func TestWhatSteers(t *testing.T) {
	m := mustCompile(t, wishbone().spec)
	for b, name := range m.Bodies {
		if m.Steers(b) != (name == "upright") {
			t.Errorf("%s steers: %v", name, m.Steers(b))
		}
	}
	all := mustCompile(t, girderSpec)
	for b, name := range all.Bodies {
		if !all.Steers(b) {
			t.Errorf("%s of a girder does not steer", name)
		}
	}
}

// Exact: the upper ball moved ahead by d over a distance L of the balls flattens or steepens the
// axis by atan d/L.
func TestMisalignedAxis(t *testing.T) {
	c := cargo()
	k := wishbone()
	m := mustCompile(t, k.spec)
	layout := laidOut(m, c, k.at)
	if angle, offset := m.SteeringDeviation(c, layout); angle != 0 || offset != 0 {
		t.Errorf("off by %g and %g", angle, offset)
	}
	layout[m.Point("upper_ball")].Ahead = 5
	angle, offset := m.SteeringDeviation(c, layout)
	if want := math.Atan2(5, 180); math.Abs(angle-want) > 1e-12 {
		t.Errorf("the axis is off by %g, want %g", angle, want)
	}
	// The axle is 288 mm below the lower ball and 38 mm ahead of the frame's axis.
	if want := (38*180+5*288)/math.Hypot(5, 180) - 38; math.Abs(offset-want) > 1e-9 {
		t.Errorf("the offset is off by %g, want %g", offset, want)
	}
}

func TestImpossibleSteering(t *testing.T) {
	for _, x := range []struct {
		balls []string
		why   string
	}{
		{[]string{"lower_ball", "lower_ball"}, "two ball joints"},
		{[]string{"lower_ball", "nowhere"}, "is no pivot"},
		{[]string{"lower_ball", "lower_rear"}, "hangs together with the ground"},
		{[]string{"lower_rear", "upper_rear"}, "has both balls"},
	} {
		spec := wishbone().spec
		spec.Steering = x.balls
		_, faults := mechanism.Compile(spec)
		if len(faults) != 1 || faults[0].Path != "steering" || !strings.Contains(faults[0].Text, x.why) {
			t.Errorf("%v: %v", x.balls, faults)
		}
	}
}
