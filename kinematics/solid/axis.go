package solid

import "forkfront/kinematics/plane"

// Axis is a steering axis in the mid-plane: a spot that it runs through, and the unit vector square to
// it that points ahead when it leans as the fork frame's does.
type Axis[T plane.Scalar] struct{ At, Ahead plane.Vec[T] }

// AxisThrough is the axis through both balls, the lower one first.
func AxisThrough[T plane.Scalar](lower, upper plane.Vec[T]) Axis[T] {
	down := lower.Minus(upper)
	return Axis[T]{lower, down.Times(plane.Inverse(plane.Sqrt(down.Dot(down)))).Quarter()}
}

// Offset is how far ahead of the axis a spot lies, in mm; its distance to the left is that from the
// mid-plane.
func (a *Axis[T]) Offset(p Spot[T]) T {
	return (p.Along-a.At.Along)*a.Ahead.Along + (p.Ahead-a.At.Ahead)*a.Ahead.Ahead
}

// Turned is a segment turned about the axis by the angle of a cosine and a sine, positive from ahead
// to left: steering to the left.
func (a *Axis[T]) Turned(g *Segment[T], cos, sin T) Segment[T] {
	var out Segment[T]
	for i, p := range g {
		off := a.Offset(p)
		by := cos*off - sin*p.Left - off
		out[i] = Spot[T]{p.Along + by*a.Ahead.Along, p.Ahead + by*a.Ahead.Ahead, sin*off + cos*p.Left}
	}
	return out
}
