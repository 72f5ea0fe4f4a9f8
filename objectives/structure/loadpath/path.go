package loadpath

import (
	"cmp"
	"slices"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
)

// Path is how loads run through the members of one mechanism, worked out once. A node is a point
// as part of one body: member i ends at node i, the root of body b is node (members + b).
type Path struct {
	Mechanism      *mechanism.Mechanism
	Members        []mechanism.Member
	From           []int    // node at which each member starts
	Joints         [][2]int // node of each joint on its two bodies; −1 where no member leads to it, or where the joint slides
	SideNodes      [][2]int // the same, of slides where all of a side load passes
	Part           []int    // of each member, which of the mechanism's tubes it is part of
	Slides         []Slide
	Sliding        []int      // members of slides, whose lengths change with the travel
	Hub            int        // point of the wheel axle
	Axle           int        // node on the body that carries the axle
	Caliper        int        // node at which the brake torque enters, the axle's on the caliper's body
	Eyes           [2]int     // nodes of the shock
	CaliperSide    []bool     // members that the brake torque winds up on the caliper's side alone
	SideSteps      []SideStep // from the wheel towards the ground
	Pivots         []Pin      // in the order of the points
	jointsToGround []int      // joints from the ground to each body
}

// SideStep passes the side load of a body to those that it is pinned to, towards the ground.
type SideStep struct {
	Body     int
	Supports [2]int // joints; the second is −1 where there is one
}

// New finds the load path of a mechanism that can have sizes.
func New(m *mechanism.Mechanism) *Path {
	p := &Path{Mechanism: m}
	p.Members, p.Part = splitTubes(m)
	for _, mb := range p.Members {
		p.From = append(p.From, p.Node(mb.Body, mb.From))
	}
	for i := range m.Joints() {
		a, b, point := m.Joint(i)
		p.Joints = append(p.Joints, [2]int{p.Node(a, point), p.Node(b, point)})
	}
	p.SideNodes = slices.Clone(p.Joints)
	p.findSlides()
	p.Hub = m.Point(scheme.PointAxle)
	p.Axle, p.Caliper = p.Node(m.Wheel(), p.Hub), p.Node(m.Brake(), p.Hub)
	for i := range p.Eyes {
		body, point := m.ShockEnd(i)
		p.Eyes[i] = p.Node(body, point)
	}
	p.Pivots, p.jointsToGround = pinsOf(m), p.fromGround()
	p.findCaliperSide()
	p.sideways()
	return p
}

// Node finds the node of a point on a body; −1: no member leads to it.
func (p *Path) Node(body, point int) int {
	for i, mb := range p.Members {
		if mb.Body != body {
			continue
		}
		if mb.To == point {
			return i
		}
		if mb.From == point && (i == 0 || p.Members[i-1].Body != body) {
			return len(p.Members) + body
		}
	}
	return -1
}

// bodyOf is the body that a node is on.
func (p *Path) bodyOf(node int) int {
	if node < len(p.Members) {
		return p.Members[node].Body
	}
	return node - len(p.Members)
}

// findCaliperSide finds the members between the axle and the first pivots of the caliper's body, or of one that slides on it,
// past which shafts and links share the torque between both sides.
func (p *Path) findCaliperSide() {
	p.CaliperSide = make([]bool, len(p.Members))
	pinned := make([]bool, len(p.Members)+len(p.Mechanism.Bodies))
	for _, nodes := range p.Joints {
		for _, n := range nodes {
			if n >= 0 {
				pinned[n] = true
			}
		}
	}
	reach, on := []int{p.Caliper}, map[int]bool{p.Mechanism.Brake(): true}
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
		for k, mb := range p.Members {
			if !on[mb.Body] || p.CaliperSide[k] || p.From[k] != reach[i] && k != reach[i] {
				continue
			}
			p.CaliperSide[k] = true
			reach = append(reach, p.From[k]+k-reach[i])
		}
	}
}

// sideways orders the bodies from the wheel towards the ground. A body that is pinned to the ground
// passes its side load to the ground only; any other passes it to at most two bodies nearer to the ground, at the pivots that
// the mechanism lists first, or through a slide, which is stiffer, alone. A body that only holds the caliper passes none.
func (p *Path) sideways() {
	m := p.Mechanism
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
		s := SideStep{body, [2]int{-1, -1}}
		if slide := slices.IndexFunc(supports, func(i int) bool { return p.SlideOf(i) != nil }); slide >= 0 {
			supports = supports[slide : slide+1]
		}
		copy(s.Supports[:], supports)
		p.SideSteps = append(p.SideSteps, s)
	}
}

// listed is where in the mechanism's file the pivot of a joint stands, which does not change with its name.
func (p *Path) listed(joint int) int {
	_, _, point := p.Mechanism.Joint(joint)
	if point < 0 {
		return -1
	}
	return slices.IndexFunc(p.Mechanism.Spec.Pivots, func(s scheme.PivotSpec) bool { return s.Name == p.Mechanism.Points[point] })
}

// fromGround counts joints from the ground to each body.
func (p *Path) fromGround() []int {
	m := p.Mechanism
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

// TubeName names a member's tube by its body and the points at its ends.
func (p *Path) TubeName(member int) string {
	m := p.Mechanism
	mb := m.Tubes()[p.Part[member]]
	return m.Bodies[mb.Body] + " " + m.PointName(mb.From) + "–" + m.PointName(mb.To)
}
