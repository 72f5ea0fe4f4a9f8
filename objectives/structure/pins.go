package structure

import (
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
)

// pin is a pivot of a mechanism: its point, the bodies that it joins in the order of the mechanism's file, and
// its joints. The wheel axle is one, even where it only joins the wheel to its body.
type pin struct {
	point  int
	bodies []int
	joints []int
}

// pinsOf lists the pivots of a mechanism in the order of its points.
func pinsOf(m *mechanism.Mechanism) []pin {
	var all []pin
	for point := range m.Points {
		p := pin{point: point, bodies: m.Pinned(point)}
		for j := range m.Joints() {
			if _, _, at := m.Joint(j); at == point {
				p.joints = append(p.joints, j)
			}
		}
		if len(p.bodies) == 0 && m.Points[point] == scheme.PointAxle {
			p.bodies = []int{m.Wheel()}
		}
		if len(p.bodies) > 0 {
			all = append(all, p)
		}
	}
	return all
}

// owner is the body that the shaft of a pivot is fixed to: the wheel's body for the axle, otherwise the one that the
// mechanism states, otherwise the one farthest from the mid-plane; of several the one nearest to the ground, counted in
// joints, then the first of the list.
func (p *loadPath) owner(point int, bodies []int, across *fork.Across) int {
	if p.m.Points[point] == scheme.PointAxle {
		return p.m.Wheel()
	}
	first := bodies[0]
	for _, b := range bodies {
		wide, widest := across.HalfWidthMM[b], across.HalfWidthMM[first]
		switch {
		case b == p.m.ShaftBody(point):
			return b
		case wide > widest, wide == widest && p.jointsToGround[b] < p.jointsToGround[first]:
			first = b
		}
	}
	return first
}

// pairBodies finds the two bodies of each joint: the one that the pivot's shaft is fixed to, and the one that turns on
// it. It does not depend on which bodies of a pin through three or more the motion is solved by.
func (p *loadPath) pairBodies(dst [][2]int, across *fork.Across) {
	for i := range p.pivots {
		pin := &p.pivots[i]
		if len(pin.joints) == 0 {
			continue
		}
		owner := p.owner(pin.point, pin.bodies, across)
		k := 0
		for _, b := range pin.bodies {
			if b != owner {
				dst[pin.joints[k]] = [2]int{owner, b}
				k++
			}
		}
	}
}

// onTurningBodies converts the loads in the joints to those on the bodies that turn on the pivots' shafts.
func (st *statics[T]) onTurningBodies(couples [][2]int) {
	for i := range st.path.pivots {
		pin := &st.path.pivots[i]
		if len(pin.joints) == 0 {
			continue
		}
		if j := pin.joints[0]; len(pin.joints) == 1 {
			if _, b, _ := st.path.m.Joint(j); couples[j][1] != b {
				st.pins[j] = turned(st.pins[j])
			}
			continue
		}
		for _, b := range pin.bodies {
			st.onBody[b] = mechanism.Load[T]{}
		}
		for _, j := range pin.joints {
			a, b, _ := st.path.m.Joint(j)
			st.onBody[b].Add(st.pins[j])
			st.onBody[a].Add(turned(st.pins[j]))
		}
		for _, j := range pin.joints {
			st.pins[j] = st.onBody[couples[j][1]]
		}
	}
}
