package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/solid"
	"forkfront/objectives/scalar"
)

// drum is the hub with its rotor, a cylinder about the axle.
type drum struct {
	halfWidth float64 // half its width, mm
	radius    float64 // its radius, mm
}

// nearestToAxle is where a part that is parallel or perpendicular to the mid-plane is nearest to the axle in side
// view, as a fraction of its length.
func nearestToAxle(g *solid.Segment[float64]) float64 {
	x, y := g[1].Along-g[0].Along, g[1].Ahead-g[0].Ahead
	square := x*x + y*y
	if square == 0 {
		return 0
	}
	return max(0, min(1, -(g[0].Along*x+g[0].Ahead*y)/square))
}

// hubGap is the distance of the axis of a part from hub and rotor, in mm: from the face of the drum or, farther out,
// from its edge. Within the width and radius of the drum it is negative.
func hubGap[T kinematics.Scalar](d *drum, g *solid.Segment[T], on float64) T {
	p := g.At(on)
	beside := scalar.Lower(kinematics.Abs(g[0].Left), kinematics.Abs(g[1].Left)) - kinematics.Lift[T](d.halfWidth)
	if kinematics.Real(g[0].Left)*kinematics.Real(g[1].Left) < 0 { // a through shaft
		beside = kinematics.Lift[T](-d.halfWidth)
	}
	q := p.Along*p.Along + p.Ahead*p.Ahead
	if kinematics.Real(q) <= d.radius*d.radius {
		return beside
	}
	around := kinematics.Sqrt(q) - kinematics.Lift[T](d.radius)
	if kinematics.Real(beside) <= 0 {
		return around
	}
	return kinematics.Sqrt(around*around + beside*beside)
}

// lateralGap is the lateral distance of a part from the face of hub and rotor, in mm, negative within their width.
func (d *drum) lateralGap(p *part) float64 {
	if p.ends[0].shift.Left*p.ends[1].shift.Left < 0 {
		return -d.halfWidth
	}
	return min(math.Abs(p.ends[0].shift.Left), math.Abs(p.ends[1].shift.Left)) - d.halfWidth
}
