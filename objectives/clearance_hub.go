package objectives

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/solid"
)

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
func hubGap[T kinematics.Scalar](r *Room, g *solid.Segment[T], on float64) T {
	p := g.At(on)
	beside := lower(kinematics.Abs(g[0].Left), kinematics.Abs(g[1].Left)) - kinematics.Lift[T](r.hub)
	if kinematics.Real(g[0].Left)*kinematics.Real(g[1].Left) < 0 { // a through shaft
		beside = kinematics.Lift[T](-r.hub)
	}
	q := p.Along*p.Along + p.Ahead*p.Ahead
	if kinematics.Real(q) <= r.rotor*r.rotor {
		return beside
	}
	around := kinematics.Sqrt(q) - kinematics.Lift[T](r.rotor)
	if kinematics.Real(beside) <= 0 {
		return around
	}
	return kinematics.Sqrt(around*around + beside*beside)
}

// hubAside is how far a part between two lateral positions stays beside the face of hub and rotor,
// less than nothing for one that is within their width.
func (r *Room) hubAside(p *part) float64 {
	if p.ends[0].shift.Left*p.ends[1].shift.Left < 0 {
		return -r.hub
	}
	return min(math.Abs(p.ends[0].shift.Left), math.Abs(p.ends[1].shift.Left)) - r.hub
}
