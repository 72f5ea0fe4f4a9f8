package mechanism

import (
	"math"
	"slices"
	"strings"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
)

// steering finds the two ball joints that the steering axis runs through, and which bodies turn
// about it: those that hang together with the wheel when the balls are taken apart.
func (c *compiler) steering() {
	m, names := c.m, c.m.Spec.Steering
	m.steered = make([]bool, len(m.Bodies))
	m.balls = [2]BodyPoint{{-1, -1}, {-1, -1}}
	if len(names) == 0 || slices.Equal(names, []string{"ground"}) {
		for b := range m.steered {
			m.steered[b] = true
		}
		return
	}
	if len(names) != 2 || names[0] == names[1] {
		c.fault("steering", "%q; the names of two ball joints are needed, the lower one first", names)
		return
	}
	for i, name := range names {
		if !slices.ContainsFunc(m.Spec.Pivots, func(p scheme.PivotSpec) bool { return p.Name == name }) {
			c.fault("steering", "%q is no pivot; the pivots are %s", name, strings.Join(pivotNames(m.Spec.Pivots), ", "))
			return
		}
		m.balls[i].Point = index(m.Points, name)
	}
	if m.wheel >= 0 && m.ground >= 0 {
		c.cutLoose()
	}
}

func pivotNames(pivots []scheme.PivotSpec) []string {
	var names []string
	for _, p := range pivots {
		names = append(names, p.Name)
	}
	return names
}

// cutLoose marks what steers, and finds the body that has both balls.
func (c *compiler) cutLoose() {
	m := c.m
	m.steered[m.wheel] = true
	for range m.Bodies {
		for _, j := range m.joints {
			if j.Point >= 0 && (j.Point == m.balls[0].Point || j.Point == m.balls[1].Point) {
				continue
			}
			if m.steered[j.A] || m.steered[j.B] {
				m.steered[j.A], m.steered[j.B] = true, true
			}
		}
	}
	if m.steered[m.ground] {
		c.fault("steering", "the wheel cannot steer: %q hangs together with the ground %q other than by the balls", m.Spec.Axle, m.Spec.Ground)
		return
	}
	for b := range m.Bodies {
		if m.steered[b] && slices.Contains(m.carried[m.balls[0].Point], b) && slices.Contains(m.carried[m.balls[1].Point], b) {
			m.balls[0].Body, m.balls[1].Body = b, b
			return
		}
	}
	c.fault("steering", "no body that steers with %q has both balls on it", m.Spec.Axle)
}

// Balls are the points of the lower and the upper ball that the steering axis runs through; ok is
// false where it is the fork frame's and all turns with the steerer.
func (m *Mechanism) Balls() (lower, upper int, ok bool) {
	return m.balls[0].Point, m.balls[1].Point, m.balls[0].Body >= 0
}

// Steers tells whether a body turns with the wheel about the steering axis.
func (m *Mechanism) Steers(body int) bool { return m.steered[body] }

// SteeringDeviation tells how far the axis through the balls is off that of a chassis at top-out: the
// angle of the axis minus the head angle, in radians, and the axle's distance ahead of it minus the
// fork offset, in mm. Both are 0 where the axis is the fork frame's.
func (m *Mechanism) SteeringDeviation(c *stance.Chassis, layout []plane.Vec[float64]) (angle, offsetMM float64) {
	lower, upper, ok := m.Balls()
	if !ok {
		return 0, 0
	}
	down := layout[lower].Minus(layout[upper])
	length := math.Hypot(down.Along, down.Ahead)
	axle := plane.Vec[float64]{Along: c.AxleToCrownMM, Ahead: c.ForkOffsetMM}.Minus(layout[lower])
	// Its line down from the upper ball is that of the fork frame turned from along to ahead by some angle, which makes
	// the axis so much flatter.
	return -math.Atan2(down.Ahead, down.Along), down.Cross(axle)/length - c.ForkOffsetMM
}
