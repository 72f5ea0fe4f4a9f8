package structure

import (
	"fmt"
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
)

// SlideRules are how the tubes of slides run in each other.
type SlideRules struct {
	OverlapMM    float64 // wanted at top-out; less where the inner tube is too short for that and the travel
	BushFriction float64
}

// DefaultSlideRules are common practice without a source, and those of the telescopic fork that is replaced.
func DefaultSlideRules() SlideRules { return SlideRules{OverlapMM: 110, BushFriction: 0.05} }

// The bushes of a slide in parts of the inner tube's diameter (common practice, no source: 1 mm at 34 mm).
const (
	slideBushWall   = 0.03
	slideBushLength = 0.5
)

// leastOverlapMM is the overlap below which tubes are taken to come apart (common practice, no source).
const leastOverlapMM = 10

// fit is the outside diameter of an outer tube over that of the inner one: its bore leaves room for the bushes,
// even at the smallest diameter.
func (r *TubeRules) fit() float64 {
	bore := 1 + 2*slideBushWall
	return math.Max(bore/(1-2*r.WallShare), bore+2*r.MinWallMM/r.MinDiameterMM)
}

// extend places the sliding tubes of a fork.
func (z *Sized[T]) extend(m *kinematics.Mechanism, layout []plane.Vec[T]) {
	if z.layout = layout; len(m.Slides()) > 0 {
		z.extended = kinematics.ExtendLayout(m, z.extended[:0], layout, z.ride.Full(), z.rules.Slides.OverlapMM)
		z.layout = z.extended
	}
}

// unslidable is why the tubes of a fork's slides do not run in each other, or empty.
func unslidable(z *Sized[float64]) string {
	m, x := z.path.m, z.across
	for i := range z.path.slides {
		s := &z.path.slides[i]
		if a, b := x.HalfWidthMM[s.Guide], x.HalfWidthMM[s.Slider]; a != b || x.OneSide[s.Guide] != x.OneSide[s.Slider] {
			return fmt.Sprintf("bodies %q and %q slide in each other but lie %g and %g mm from the mid-plane, or on different sides", m.Bodies[s.Guide], m.Bodies[s.Slider], a, b)
		}
		start := apart(z.layout[s.Mouth], z.layout[s.Through[1]])
		line := z.layout[s.Through[0]].Minus(z.layout[s.Through[1]])
		if z.layout[s.Mouth].Minus(z.layout[s.Through[1]]).Dot(line) < 0 {
			start = -start
		}
		for k := range z.ride.States {
			st := &z.ride.States[k]
			overlap := start + kinematics.Slid(m, &s.Slide, st, z.layout)
			if overlap < leastOverlapMM {
				return fmt.Sprintf("the tubes of slide %q overlap by %.1f mm at a travel of %.1f mm; at least %g are needed", m.SlideName(&s.Slide), overlap, st.TravelMM, float64(leastOverlapMM))
			}
		}
	}
	return ""
}

// measureSlides finds the lengths of the members that slide at a stance. Those of a tube add up to the same at every
// travel.
func (z *Sized[T]) measureSlides(at Stance) {
	for _, i := range z.path.sliding {
		z.lengths[i] = z.lengthAt(&z.atStance[at], i)
		z.inverse[i] = 1 / z.lengths[i]
	}
}

// standAt prepares the stiffness of tubes for a stance, at which those of slides have other lengths.
func (z *Sized[T]) standAt(at Stance) {
	if len(z.path.sliding) > 0 {
		z.measureSlides(at)
		z.tubeRigidities()
	}
}

// portal is the height of the portal frame that the two tubes of a member form under a side load: of a leg that slides all of it.
func (z *Sized[T]) portal(sd *placed[T], member int) T {
	if length, slides := sd.leg(z.path, member); slides {
		return length
	}
	return z.lengths[member]
}

// fitTubes gives the four members of each slide diameters that fit each other: the inner tube is one, the outer one
// another, and their ratio is fixed. The member that asks for most leads; it is the one that is not governed by Fit.
func fitTubes[T kinematics.Scalar](z *Sized[T]) {
	fit := kinematics.Lift[T](z.rules.Tubes.fit())
	for i := range z.path.slides {
		s := &z.path.slides[i]
		members := [4]int{s.inner[0], s.inner[1], s.outer[0], s.outer[1]}
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

// weighSlides gives the four members of each slide the coefficients of one optimum: that of the inner tube's diameter
// D, with flexibilities and masses of both tubes. Where the outer one is k D, its square is k² times as large, so that
// the coefficients of its own optimum are k⁴ and k⁶ times those of the inner one.
func (z *Sized[T]) weighSlides(byArea, byInertia T) {
	k := z.rules.Tubes.fit()
	square := kinematics.Lift[T](k * k)
	for i := range z.path.slides {
		s := &z.path.slides[i]
		var axial, bending, length T
		for _, n := range s.inner {
			f := &z.flexibilities[n]
			axial, bending, length = axial+f.axial, bending+f.bending, length+z.lengths[n]
		}
		for _, n := range s.outer {
			f := &z.flexibilities[n]
			axial, bending, length = axial+f.axial/square, bending+f.bending/(square*square), length+z.lengths[n]*square
		}
		axial, bending = axial*byArea/length, bending*byInertia/length
		for _, n := range s.inner {
			z.flexibilities[n].weigh(axial, bending)
		}
		for _, n := range s.outer {
			z.flexibilities[n].weigh(axial*square*square, bending*square*square*square)
		}
	}
}

// weighBushes finds the mass of the bushes of all slides: two on each tube.
func (z *Sized[T]) weighBushes() {
	for i := range z.path.slides {
		s := &z.path.slides[i]
		inner := &z.Members[s.inner[0]]
		d := inner.DiameterMM
		p := &z.Pivots[s.Joint]
		p.ShaftMM = d
		p.MassG = d * d * d * kinematics.Lift[T](2*inner.Count*math.Pi*slideBushWall*(1+slideBushWall)*slideBushLength*bushGramsPerMM3)
	}
}

// joints is how many joints a member has at its ends: two, but a tube that slides has only one, which its two members share by
// their lengths.
func (z *Sized[T]) joints(member int) T {
	for i := range z.path.slides {
		s := &z.path.slides[i]
		for _, tube := range [2][2]int{s.inner, s.outer} {
			if tube[0] == member || tube[1] == member {
				return z.lengths[member] * kinematics.Inverse(z.lengths[tube[0]]+z.lengths[tube[1]])
			}
		}
	}
	return 2
}

// lengthAt is the length of a member at a stance, in mm.
func (z *Sized[T]) lengthAt(sd *placed[T], member int) T {
	mb := &z.path.members[member]
	return apart(sd.places[mb.From], sd.places[mb.To])
}

// massAt is the mass of a member at a stance: those of a tube that slides share its mass by their lengths.
func (z *Sized[T]) massAt(sd *placed[T], member int) T {
	mass := z.Members[member].MassG
	for _, i := range z.path.sliding {
		if i == member {
			return mass * z.lengthAt(sd, member) / z.lengths[member]
		}
	}
	return mass
}

// Radii appends the radius in mm of each of the mechanism's tubes.
func Radii[T kinematics.Scalar](z *Sized[T], dst []T) []T {
	for i := range z.Members {
		if !z.path.continues(i) {
			dst = append(dst, z.Members[i].DiameterMM*0.5)
		}
	}
	return dst
}

// extend adds another part of the same tube to an item.
func (it *Item) extend(by *Item) {
	if by.Governs != Fit.String() {
		it.Governs = by.Governs
	}
	it.LengthMM += by.LengthMM
	it.MassG += by.MassG
	it.Compliance += by.Compliance
	it.Cost += by.Cost
}

// bushItem lists the bushes of a slide.
func bushItem(z *Sized[float64], s *slidePath) Item {
	p := &z.Pivots[s.Joint]
	count := z.bearings(s.Joint)
	return Item{
		Part: "slide " + z.path.m.SlideName(&s.Slide) + ", bushes", Count: int(count), DiameterMM: p.ShaftMM, LengthMM: p.ShaftMM * slideBushLength, LoadN: p.LoadN,
		MassG: p.MassG, FrictionN: pivotFriction(z, 1, s.Joint), Cost: count * z.rules.Costs.Bush, Governs: z.rules.Cases[z.pinCases[s.Joint]].Name,
	}
}
