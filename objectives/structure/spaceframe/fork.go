package spaceframe

import (
	"forkfront/kinematics"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/frame"
	"forkfront/objectives/structure/loads"
)

// Fork is a sized fork with its space frames, which are made and solved once, when they are asked for. It holds until the fork's sizer
// sizes another.
type Fork[T kinematics.Scalar] struct {
	*structure.Sized[T]
	frames [loads.Stances]*spaceFrame[T]
	solved [loads.Stances]*solvedFrame // of plain numbers
}

// Of is a sized fork, without any frame yet.
func Of[T kinematics.Scalar](z *structure.Sized[T]) *Fork[T] { return &Fork[T]{Sized: z} }

// solvedFrame is a space frame that is ready to be loaded.
type solvedFrame struct {
	*spaceFrame[float64]
	*frame.Solver
}

// solved is the frame of a fork at a stance, made and factored once however many loads it bears; nil where it is loose.
func solved(z *Fork[float64], at loads.Stance) *solvedFrame {
	if z.solved[at] == nil {
		f := z.framed(at)
		if by := frame.Factor(&f.Frame); by != nil {
			z.solved[at] = &solvedFrame{f, by}
		}
	}
	return z.solved[at]
}

// framed is the frame of a fork at a stance, made once.
func (z *Fork[T]) framed(at loads.Stance) *spaceFrame[T] {
	if z.frames[at] == nil {
		z.frames[at] = newSpaceFrame(z, at)
	}
	return z.frames[at]
}
