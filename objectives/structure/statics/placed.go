package statics

import (
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
	"forkfront/objectives/structure/loadpath"
)

// Placed is a fork at one stance: the positions of its points and the directions of its members.
type Placed[T kinematics.Scalar] struct {
	State  *stance.State[T]
	Places []plane.Vec[T] // by point
	Along  []plane.Vec[T] // unit vector of each member, from its start to its end
}

// Place places a fork. lengths are the inverse lengths of the members in 1/mm.
func (sd *Placed[T]) Place(p *loadpath.Path, state *stance.State[T], layout []plane.Vec[T], lengths []T) {
	sd.State = state
	sd.Places = mechanism.Positions(p.Mechanism, sd.Places[:0], state, layout)
	sd.Along = plane.Resize(sd.Along, len(p.Members))
	for i, mb := range p.Members {
		sd.Along[i] = sd.Places[mb.To].Minus(sd.Places[mb.From]).Times(lengths[i])
	}
	sd.straighten(p)
}

// straighten finds the directions of members that slide, whose lengths change with the travel.
func (sd *Placed[T]) straighten(p *loadpath.Path) {
	for _, i := range p.Sliding {
		mb := &p.Members[i]
		line := sd.Places[mb.To].Minus(sd.Places[mb.From])
		sd.Along[i] = line.Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
	}
}

// Leg is the length in mm of the straight leg that a member is part of, if it slides: from where the inner tube starts to
// where the outer one is held.
func (sd *Placed[T]) Leg(p *loadpath.Path, member int) (length T, slides bool) {
	for i := range p.Slides {
		s := &p.Slides[i]
		if member == s.Leads || slices.Contains(s.Inner[:], member) || slices.Contains(s.Outer[:], member) {
			return Apart(sd.Places[s.Through[0]], sd.Places[s.Start]), true
		}
	}
	return 0, false
}

// Apart is the distance of two places, in mm.
func Apart[T kinematics.Scalar](a, b plane.Vec[T]) T {
	line := b.Minus(a)
	return plane.Sqrt(line.Dot(line))
}
