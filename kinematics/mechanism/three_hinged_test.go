package mechanism

import (
	"math"
	"testing"

	"forkfront/kinematics/plane"
)

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
