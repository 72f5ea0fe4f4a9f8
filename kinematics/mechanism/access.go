package mechanism

// What those read who solve a mechanism. Nothing of it may be changed: all workers share it.

// Axle is the number of the axle's point.
func (m *Mechanism) Axle() int { return m.axle }

// Hub is the axle as a point of the body that carries it.
func (m *Mechanism) Hub() BodyPoint { return BodyPoint{m.wheel, m.axle} }

// Eye is the shock's upper (0) or lower (1) eye; −1 without a shock.
func (m *Mechanism) Eye(i int) BodyPoint { return m.shock[i] }

// Ball is the lower (0) or upper (1) ball of the steering axis, on the body that has both; −1 where the axis is the fork
// frame's.
func (m *Mechanism) Ball(i int) BodyPoint { return m.balls[i] }

// Anchors are the points whose motion stands for their bodies', by body.
func (m *Mechanism) Anchors() []int { return m.anchor }

// Carried lists the bodies that each point lies on, by point.
func (m *Mechanism) Carried() [][]int { return m.carried }

// Steps are the order in which the motion is solved, the driver first.
func (m *Mechanism) Steps() []Step { return m.steps }

// Arrangements are those that transmission angles are measured in; the first is that of Steps.
func (m *Mechanism) Arrangements() []arrangement { return m.arranged }

// Grouped tells whether some of the arrangements have groups.
func (m *Mechanism) Grouped() bool { return m.grouped }

// JointList has all joints, in the order of Joint.
func (m *Mechanism) JointList() []Joint { return m.joints }

// Tree is all bodies that move as one group, hung from the ground; nil where the slides form a loop among themselves,
// which would fix one turn twice.
func (m *Mechanism) Tree() *Group {
	known := make([]bool, len(m.Bodies))
	known[m.ground] = true
	var all []int
	for b := range m.Bodies {
		if b != m.ground {
			all = append(all, b)
		}
	}
	g, _ := newGroup(all, m.joined(known, nil), known)
	if g == nil || len(g.Links) != len(all) || 2*len(g.Loops)+1 != len(g.Links) {
		return nil
	}
	return g
}
