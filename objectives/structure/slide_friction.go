package structure

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/loadpath"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/statics"
)

// slideFriction is the force along the travel at the axle with which the bushes of a slide resist, in N: μ times the
// sum of their forces, at the rate at which the tubes slide per mm of travel (common practice, no source). Bushes
// that press along a tube's wall do not change the moments about each other.
func (z *Sized[T]) slideFriction(sd *statics.Placed[T], s *loadpath.Slide, forces T) T {
	at := sd.Places[s.Through[1]]
	line := sd.Places[s.Mouth].Minus(at)
	slips := scalar.Velocity(sd.State, s.Slider, at).Minus(scalar.Velocity(sd.State, s.Guide, at))
	rate := slips.Dot(line) * plane.Inverse(plane.Sqrt(line.Dot(line)))
	return kinematics.Abs(rate) * forces * kinematics.Lift[T](z.Rules.Slides.BushFriction)
}

// SlideBinding is the friction that a vertical force on the wheel causes in the slides over what of it drives the fork
// up its travel, in %, at top-out, sag or full travel, where it is largest: at 100 the slides lock themselves, whatever the
// force. With one slide along the steering axis it is 100 μ (|P1| + |P2|) / F, where the forces P of the bushes, the lever of F over the
// overlap, grow as the overlap shrinks. It is 0 where nothing slides.
func SlideBinding[T kinematics.Scalar](z *Sized[T]) (worst T) {
	if len(z.Path.Slides) == 0 {
		return 0
	}
	for at := range z.AtStance {
		sd := &z.AtStance[at]
		a := loads.Braked(z.Ride.Setting, sd.State, 0, 1)
		z.statics.Solve(sd, &a)
		up := a.Force.Ahead*sd.State.AheadRate - a.Force.Along // virtual work
		var friction T
		for i := range z.Path.Slides {
			friction += z.slideFriction(sd, &z.Path.Slides[i], z.statics.Bushes[i].Sum())
		}
		worst = scalar.Higher(worst, kinematics.Abs(friction/up)*100)
	}
	return worst
}

// bushVelocity is the mean square of the velocities of a slide's bushes: one moves with either body.
func (z *Sized[T]) bushVelocity(sd *statics.Placed[T], joint, guide, slider int) T {
	s := z.Path.SlideOf(joint)
	end, mouth := scalar.Velocity(sd.State, guide, sd.Places[s.Through[1]]), scalar.Velocity(sd.State, slider, sd.Places[s.Mouth])
	return (end.Dot(end) + mouth.Dot(mouth)) * kinematics.Lift[T](0.5)
}
