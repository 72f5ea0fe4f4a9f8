package plane

import "math"

// Vec is a position or a direction in the fork frame.
type Vec[T Scalar] struct{ Along, Ahead T }

func (a Vec[T]) Plus(b Vec[T]) Vec[T]  { return Vec[T]{a.Along + b.Along, a.Ahead + b.Ahead} }
func (a Vec[T]) Minus(b Vec[T]) Vec[T] { return Vec[T]{a.Along - b.Along, a.Ahead - b.Ahead} }
func (a Vec[T]) Times(k T) Vec[T]      { return Vec[T]{a.Along * k, a.Ahead * k} }
func (a Vec[T]) Dot(b Vec[T]) T        { return a.Along*b.Along + a.Ahead*b.Ahead }
func (a Vec[T]) Cross(b Vec[T]) T      { return a.Along*b.Ahead - a.Ahead*b.Along }

// Quarter is a turned by a right angle from along to ahead.
func (a Vec[T]) Quarter() Vec[T] { return Vec[T]{-a.Ahead, a.Along} }

// Pose is where a body is: its anchor's position, and the cosine and sine of how far it has turned
// since top-out, positive from along to ahead.
type Pose[T Scalar] struct {
	At       Vec[T]
	Cos, Sin T
}

// Turned is r, an offset at top-out, as the pose turns it.
func (p Pose[T]) Turned(r Vec[T]) Vec[T] {
	return Vec[T]{p.Cos*r.Along - p.Sin*r.Ahead, p.Sin*r.Along + p.Cos*r.Ahead}
}

// Rotate rotates a pose by a small angle: exactly a rotation, and the angle correct to its fifth power.
// The length of (cos, sin) is brought back to 1 to rounding.
func (p *Pose[T]) Rotate(by T) {
	half := by * (1 + by*by/12) / 2
	square := half * half
	scale := Inverse(1 + square)
	cos, sin := (1-square)*scale, 2*half*scale
	cos, sin = p.Cos*cos-p.Sin*sin, p.Sin*cos+p.Cos*sin
	fix := (3 - cos*cos - sin*sin) / 2
	p.Cos, p.Sin = cos*fix, sin*fix
}

// Rate is how a body moves: the velocity of its anchor and its angular rate, both per unit of what
// drives the mechanism, or per mm of travel where a State says so. It also serves for second
// derivatives.
type Rate[T Scalar] struct {
	At   Vec[T]
	Turn T
}

// Distance between two points, in mm.
func Distance(a, b Vec[float64]) float64 {
	return math.Hypot(b.Along-a.Along, b.Ahead-a.Ahead)
}
