package loadpath

import (
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
)

// Pin is a pivot of a mechanism: its point, the bodies that it joins in the order of the mechanism's file, and
// its joints. The wheel axle is one, even where it only joins the wheel to its body.
type Pin struct {
	Point  int
	Bodies []int
	Joints []int
}

// pinsOf lists the pivots of a mechanism in the order of its points.
func pinsOf(m *mechanism.Mechanism) []Pin {
	var all []Pin
	for point := range m.Points {
		p := Pin{Point: point, Bodies: m.Pinned(point)}
		for j := range m.Joints() {
			if _, _, at := m.Joint(j); at == point {
				p.Joints = append(p.Joints, j)
			}
		}
		if len(p.Bodies) == 0 && m.Points[point] == scheme.PointAxle {
			p.Bodies = []int{m.Wheel()}
		}
		if len(p.Bodies) > 0 {
			all = append(all, p)
		}
	}
	return all
}

// Owner is the body that the shaft of a pivot is fixed to: the wheel's body for the axle, otherwise the one that the
// mechanism states, otherwise the one farthest from the mid-plane; of several the one nearest to the ground, counted in
// joints, then the first of the list.
func (p *Path) Owner(point int, bodies []int, across *fork.Across) int {
	if p.Mechanism.Points[point] == scheme.PointAxle {
		return p.Mechanism.Wheel()
	}
	first := bodies[0]
	for _, b := range bodies {
		wide, widest := across.HalfWidthMM[b], across.HalfWidthMM[first]
		switch {
		case b == p.Mechanism.ShaftBody(point):
			return b
		case wide > widest, wide == widest && p.jointsToGround[b] < p.jointsToGround[first]:
			first = b
		}
	}
	return first
}

// PairBodies finds the two bodies of each joint: the one that the pivot's shaft is fixed to, and the one that turns on
// it. It does not depend on which bodies of a pin through three or more the motion is solved by.
func (p *Path) PairBodies(dst [][2]int, across *fork.Across) {
	for i := range p.Pivots {
		pin := &p.Pivots[i]
		if len(pin.Joints) == 0 {
			continue
		}
		owner := p.Owner(pin.Point, pin.Bodies, across)
		k := 0
		for _, b := range pin.Bodies {
			if b != owner {
				dst[pin.Joints[k]] = [2]int{owner, b}
				k++
			}
		}
	}
}
