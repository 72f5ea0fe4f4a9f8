package solid

import (
	"math"

	"forkfront/kinematics/plane"
)

// Spot is a position in the fork frame in three dimensions: mm down the steering axis, ahead of it,
// and to the left of the mid-plane.
type Spot[T plane.Scalar] struct{ Along, Ahead, Left T }

func (a Spot[T]) minus(b Spot[T]) Spot[T] {
	return Spot[T]{a.Along - b.Along, a.Ahead - b.Ahead, a.Left - b.Left}
}

func (a Spot[T]) dot(b Spot[T]) T { return a.Along*b.Along + a.Ahead*b.Ahead + a.Left*b.Left }

// Turned is the spot turned about the steering axis by the angle of a cosine and a sine, positive
// from ahead to left: steering to the left.
func (a Spot[T]) Turned(cos, sin float64) Spot[T] {
	c, s := plane.Lift[T](cos), plane.Lift[T](sin)
	return Spot[T]{a.Along, c*a.Ahead - s*a.Left, s*a.Ahead + c*a.Left}
}

// Segment is a straight line between two spots: the axis of a capsule, which is all that lies within
// its radius of it.
type Segment[T plane.Scalar] [2]Spot[T]

// At is the spot at a part of the way from the first end to the second.
func (g *Segment[T]) At(part float64) Spot[T] {
	k := plane.Lift[T](part)
	d := g[1].minus(g[0])
	return Spot[T]{g[0].Along + k*d.Along, g[0].Ahead + k*d.Ahead, g[0].Left + k*d.Left}
}

// Turned is the segment turned about the steering axis, as a spot is.
func (g *Segment[T]) Turned(cos, sin float64) Segment[T] {
	return Segment[T]{g[0].Turned(cos, sin), g[1].Turned(cos, sin)}
}

// crossing is the square of the distance, in mm², below which two axes cross, as exactly as they were
// brought together.
const crossing = 1e-10

// length is the root of a square that may be zero, where it takes the derivative for zero too: two
// axes that cross come apart whichever way they go, so there is none.
func length[T plane.Scalar](square T) T {
	if plane.Real(square) <= crossing {
		return plane.Lift[T](math.Sqrt(math.Max(0, plane.Real(square))))
	}
	return plane.Sqrt(square)
}

func clamp(x float64) float64 { return max(0, min(1, x)) }
