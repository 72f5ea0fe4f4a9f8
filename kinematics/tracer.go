package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
)

// Tracer moves a mechanism by its driver instead of by its travel, one worker's memory: for how far the
// links themselves let it go, and for a point that has to pass through given places at given angles of a
// crank.
type Tracer[T plane.Scalar] struct{ link linkage[T] }

// Trace gives where the axle is when the driver has been turned from where it stands in the layout
// by each of the turns, in radians (or pushed by mm along its slide), in the order given. dst has an
// entry a turn that was reached; it ends where the linkage does not close on its branch.
func (tr *Tracer[T]) Trace(dst []plane.Vec[T], m *mechanism.Mechanism, layout []plane.Vec[T], turns []float64) []plane.Vec[T] {
	dst = dst[:0]
	l := &tr.link
	if l.set(m, layout) != "" {
		return dst
	}
	l.rates()
	axle := m.Hub()
	for _, by := range turns {
		d := drive[T]{cos: 1, way: plane.Lift[T](by)}
		if m.Steps()[0].Kind == mechanism.TurnDrive {
			sin, cos := math.Sincos(by)
			d = drive[T]{cos: plane.Lift[T](cos), sin: plane.Lift[T](sin)}
		}
		if l.locate(d) >= 0 {
			return dst
		}
		l.rates()
		dst = append(dst, l.at(axle))
	}
	return dst
}
