package structure

import (
	"fmt"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/statics"
)

// leastOverlapMM is the overlap below which tubes are taken to come apart (common practice, no source).
const leastOverlapMM = 10

// extend places the sliding tubes of a fork.
func (z *Sized[T]) extend(m *mechanism.Mechanism, layout []plane.Vec[T]) {
	if z.layout = layout; len(m.Slides()) > 0 {
		z.extended = mechanism.ExtendLayout(m, z.extended[:0], layout, z.Ride.Full(), z.Rules.Slides.OverlapMM)
		z.layout = z.extended
	}
}

// unslidable is why the tubes of a fork's slides do not run in each other, or empty.
func unslidable(z *Sized[float64]) string {
	m, x := z.Path.Mechanism, z.Across
	for i := range z.Path.Slides {
		s := &z.Path.Slides[i]
		if a, b := x.HalfWidthMM[s.Guide], x.HalfWidthMM[s.Slider]; a != b || x.OneSide[s.Guide] != x.OneSide[s.Slider] {
			return fmt.Sprintf("bodies %q and %q slide in each other but lie %g and %g mm from the mid-plane, or on different sides", m.Bodies[s.Guide], m.Bodies[s.Slider], a, b)
		}
		start := statics.Apart(z.layout[s.Mouth], z.layout[s.Through[1]])
		line := z.layout[s.Through[0]].Minus(z.layout[s.Through[1]])
		if z.layout[s.Mouth].Minus(z.layout[s.Through[1]]).Dot(line) < 0 {
			start = -start
		}
		for k := range z.Ride.States {
			st := &z.Ride.States[k]
			overlap := start + mechanism.Slid(m, &s.Slide, st, z.layout)
			if overlap < leastOverlapMM {
				return fmt.Sprintf("the tubes of slide %q overlap by %.1f mm at a travel of %.1f mm; at least %g are needed", m.SlideName(&s.Slide), overlap, st.TravelMM, float64(leastOverlapMM))
			}
		}
	}
	return ""
}

// fitTubes gives the four members of each slide diameters that fit each other: the inner tube is one, the outer one
// another, and their ratio is fixed. The member that asks for most leads; it is the one that is not governed by Fit.
func fitTubes[T kinematics.Scalar](z *Sized[T]) {
	fit := kinematics.Lift[T](z.Rules.Tubes.Fit())
	for i := range z.Path.Slides {
		s := &z.Path.Slides[i]
		members := [4]int{s.Inner[0], s.Inner[1], s.Outer[0], s.Outer[1]}
		leader := -1
		var inner T
		for k, n := range members {
			t := &z.least[n]
			d := t.DiameterMM
			if k >= 2 {
				d *= kinematics.Inverse(fit)
			}
			if t.Governs != Fit && (leader < 0 || kinematics.Real(d) > kinematics.Real(inner)) {
				leader, inner = n, d
			}
		}
		for k, n := range members {
			t := &z.least[n]
			if t.DiameterMM = inner; k >= 2 {
				t.DiameterMM = inner * fit
			}
			if n != leader {
				t.Governs, t.Case = Fit, z.least[leader].Case
			}
		}
	}
}

// weighBushes finds the mass of the bushes of all slides: two on each tube.
func (z *Sized[T]) weighBushes() {
	for i := range z.Path.Slides {
		s := &z.Path.Slides[i]
		inner := &z.Members[s.Inner[0]]
		d := inner.DiameterMM
		p := &z.Pivots[s.Joint]
		p.ShaftMM = d
		p.MassG = parts.SlideBushMass(d, inner.Count)
	}
}

// joints is how many joints a member has at its ends: two, but a tube that slides has only one, which its two members share by
// their lengths.
func (z *Sized[T]) joints(member int) T {
	for i := range z.Path.Slides {
		s := &z.Path.Slides[i]
		for _, tube := range [2][2]int{s.Inner, s.Outer} {
			if tube[0] == member || tube[1] == member {
				return z.lengths[member] * kinematics.Inverse(z.lengths[tube[0]]+z.lengths[tube[1]])
			}
		}
	}
	return 2
}

// massAt is the mass of a member at a stance: those of a tube that slides share its mass by their lengths.
func (z *Sized[T]) massAt(sd *statics.Placed[T], member int) T {
	mass := z.Members[member].MassG
	for _, i := range z.Path.Sliding {
		if i == member {
			return mass * z.lengthAt(sd, member) / z.lengths[member]
		}
	}
	return mass
}

// Radii appends the radius in mm of each of the mechanism's tubes.
func Radii[T kinematics.Scalar](z *Sized[T], dst []T) []T {
	for i := range z.Members {
		if !z.Path.Continues(i) {
			dst = append(dst, z.Members[i].DiameterMM*0.5)
		}
	}
	return dst
}
