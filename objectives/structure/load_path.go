package structure

import (
	"cmp"
	"slices"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
)

// loadPath is how loads run through the members of one mechanism, worked out once. A node is a point
// as part of one body: member i ends at node i, the root of body b is node (members + b).
type loadPath struct {
	m              *mechanism.Mechanism
	members        []mechanism.Member
	from           []int    // node at which each member starts
	joints         [][2]int // node of each joint on its two bodies; −1 where no member leads to it, or where the joint slides
	sideNodes      [][2]int // the same, of slides where all of a side load passes
	part           []int    // of each member, which of the mechanism's tubes it is part of
	slides         []slidePath
	sliding        []int  // members of slides, whose lengths change with the travel
	hub            int    // point of the wheel axle
	axle           int    // node on the body that carries the axle
	caliper        int    // node at which the brake torque enters, the axle's on the caliper's body
	eyes           [2]int // nodes of the shock
	caliperSide    []bool // members that the brake torque winds up on the caliper's side alone
	sideSteps      []sidestep
	pivots         []pin
	jointsToGround []int // joints from the ground to each body
}

// sidestep passes the side load of a body to those that it is pinned to, towards the ground.
type sidestep struct {
	body     int
	supports [2]int // joints; the second is −1 where there is one
}

func newLoadPath(m *mechanism.Mechanism) *loadPath {
	p := &loadPath{m: m}
	p.members, p.part = splitTubes(m)
	for _, mb := range p.members {
		p.from = append(p.from, p.node(mb.Body, mb.From))
	}
	for i := range m.Joints() {
		a, b, point := m.Joint(i)
		p.joints = append(p.joints, [2]int{p.node(a, point), p.node(b, point)})
	}
	p.sideNodes = slices.Clone(p.joints)
	p.findSlides()
	p.hub = m.Point(scheme.PointAxle)
	p.axle, p.caliper = p.node(m.Wheel(), p.hub), p.node(m.Brake(), p.hub)
	for i := range p.eyes {
		body, point := m.ShockEnd(i)
		p.eyes[i] = p.node(body, point)
	}
	p.pivots, p.jointsToGround = pinsOf(m), p.fromGround()
	p.findCaliperSide()
	p.sideways()
	return p
}

// node finds a point of a body, or −1.
func (p *loadPath) node(body, point int) int {
	for i, mb := range p.members {
		if mb.Body != body {
			continue
		}
		if mb.To == point {
			return i
		}
		if mb.From == point && (i == 0 || p.members[i-1].Body != body) {
			return len(p.members) + body
		}
	}
	return -1
}

// bodyOf is the body that a node is on.
func (p *loadPath) bodyOf(node int) int {
	if node < len(p.members) {
		return p.members[node].Body
	}
	return node - len(p.members)
}

// findCaliperSide finds the members between the axle and the first pivots of the caliper's body, or of one that slides on it,
// past which shafts and links share the torque between both sides.
func (p *loadPath) findCaliperSide() {
	p.caliperSide = make([]bool, len(p.members))
	pinned := make([]bool, len(p.members)+len(p.m.Bodies))
	for _, nodes := range p.joints {
		for _, n := range nodes {
			if n >= 0 {
				pinned[n] = true
			}
		}
	}
	reach, on := []int{p.caliper}, map[int]bool{p.m.Brake(): true}
	for i := 0; i < len(reach); i++ {
		if i > 0 && pinned[reach[i]] {
			continue
		}
		for _, n := range p.acrossSlide(reach[i]) {
			if !slices.Contains(reach, n) {
				reach = append(reach, n)
				on[p.bodyOf(n)] = true
			}
		}
		for k, mb := range p.members {
			if !on[mb.Body] || p.caliperSide[k] || p.from[k] != reach[i] && k != reach[i] {
				continue
			}
			p.caliperSide[k] = true
			reach = append(reach, p.from[k]+k-reach[i])
		}
	}
}

// sideways orders the bodies from the wheel towards the ground. A body that is pinned to the ground
// passes its side load to the ground only; any other passes it to at most two bodies nearer to the ground, at the pivots that
// the mechanism lists first, or through a slide, which is stiffer, alone. A body that only holds the caliper passes none.
func (p *loadPath) sideways() {
	m := p.m
	far := p.jointsToGround
	queue := []int{m.Wheel()}
	seen := map[int]bool{m.Wheel(): true}
	for len(queue) > 0 {
		body := queue[0]
		queue = queue[1:]
		var supports []int
		for i := range m.Joints() {
			a, b, point := m.Joint(i)
			if b == body {
				a, b = b, a
			}
			if a != body || far[b] >= far[body] || point >= 0 && body == m.Wheel() && m.Points[point] == scheme.PointAxle {
				continue
			}
			supports = append(supports, i)
			if b != m.Ground() && !seen[b] {
				seen[b] = true
				queue = append(queue, b)
			}
		}
		slices.SortStableFunc(supports, func(i, j int) int { return cmp.Compare(p.listed(i), p.listed(j)) })
		s := sidestep{body, [2]int{-1, -1}}
		if slide := slices.IndexFunc(supports, func(i int) bool { return p.slideOf(i) != nil }); slide >= 0 {
			supports = supports[slide : slide+1]
		}
		copy(s.supports[:], supports)
		p.sideSteps = append(p.sideSteps, s)
	}
}

// listed is where in the mechanism's file the pivot of a joint stands, which does not change with its name.
func (p *loadPath) listed(joint int) int {
	_, _, point := p.m.Joint(joint)
	if point < 0 {
		return -1
	}
	return slices.IndexFunc(p.m.Spec.Pivots, func(s scheme.PivotSpec) bool { return s.Name == p.m.Points[point] })
}

// fromGround counts joints from the ground to each body.
func (p *loadPath) fromGround() []int {
	m := p.m
	far := make([]int, len(m.Bodies))
	for b := range far {
		far[b] = len(m.Bodies)
	}
	far[m.Ground()] = 0
	for range m.Bodies {
		for i := range m.Joints() {
			a, b, _ := m.Joint(i)
			far[a], far[b] = min(far[a], far[b]+1), min(far[b], far[a]+1)
		}
	}
	return far
}
