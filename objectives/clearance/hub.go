package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/solid"
	"forkfront/objectives/scalar"
)

// drum is the hub with its rotor, a drum about the axle.
type drum struct {
	half  float64 // half its width, mm
	reach float64 // its radius, mm
}

// overHub is where a part that lies beside the wheel, or square to it, comes nearest to the axle in
// the mid-plane, as a part of its way.
func overHub(g *solid.Segment[float64]) float64 {
	x, y := g[1].Along-g[0].Along, g[1].Ahead-g[0].Ahead
	square := x*x + y*y
	if square == 0 {
		return 0
	}
	return max(0, min(1, -(g[0].Along*x+g[0].Ahead*y)/square))
}

// hubGap is how far the axis of a part stays from hub and rotor, a drum about the axle: from its face
// or, farther out, around it. Within the drum's width and reach it is less than nothing.
func hubGap[T kinematics.Scalar](d *drum, g *solid.Segment[T], on float64) T {
	p := g.At(on)
	beside := scalar.Lower(kinematics.Abs(g[0].Left), kinematics.Abs(g[1].Left)) - kinematics.Lift[T](d.half)
	if kinematics.Real(g[0].Left)*kinematics.Real(g[1].Left) < 0 { // a through shaft
		beside = kinematics.Lift[T](-d.half)
	}
	q := p.Along*p.Along + p.Ahead*p.Ahead
	if kinematics.Real(q) <= d.reach*d.reach {
		return beside
	}
	around := kinematics.Sqrt(q) - kinematics.Lift[T](d.reach)
	if kinematics.Real(beside) <= 0 {
		return around
	}
	return kinematics.Sqrt(around*around + beside*beside)
}

// aside is how far a part between two lateral positions stays beside the face of hub and rotor,
// less than nothing for one that is within their width.
func (d *drum) aside(p *part) float64 {
	if p.ends[0].shift.Left*p.ends[1].shift.Left < 0 {
		return -d.half
	}
	return min(math.Abs(p.ends[0].shift.Left), math.Abs(p.ends[1].shift.Left)) - d.half
}
