package mechanism

import (
	"slices"

	"forkfront/kinematics/scheme"
)

// Mechanism is what a fork is: bodies, joints, and the order in which its motion is solved. It
// never changes once built, so all workers share it. Bodies and points are numbered in the order
// of their names, so a file that lists them otherwise gives the same numbers to the bit.
type Mechanism struct {
	Name     string
	Spec     scheme.MechanismSpec
	Bodies   []string
	Points   []string
	ground   int
	axle     int // point
	wheel    int // body that carries the axle
	brake    int // body
	shock    [2]BodyPoint
	balls    [2]BodyPoint // of the steering axis, lower and upper, on the body that has both; -1: the fork frame's axis
	steered  []bool       // by body
	carried  [][]int      // bodies that each point lies on, by point
	shafts   []int        // body that the shaft at each point is stated to be fixed to; -1: none
	pinned   [][]int      // bodies that each pivot joins, by point, in the order of the spec
	anchor   []int        // point whose motion stands for the body's, by body
	joints   []Joint
	steps    []Step
	members  []Member
	listed   []Member // where the layout decides: those of bodies about which it does not
	tubes    []Member
	plain    *Mechanism // that this one has the tree of a layout for; nil: none
	slides   []Slide
	extra    []int // body of each point of sliding tubes
	unsized  string
	holds    []stepJoints  // by step
	arranged []arrangement // that transmission angles are measured in; the first is that of steps
	grouped  bool          // some of these have groups
}

// BodyPoint is a point as part of one body.
type BodyPoint struct{ Body, Point int }

// Joint is a pin between two bodies, or a slide of the second along a line of the first.
type Joint struct {
	Name    string
	A, B    int // bodies
	Point   int // of a pin; -1 for a slide
	Through [2]int
}

// Slides tells whether the joint is a slide.
func (j Joint) Slides() bool { return j.Point < 0 }

// HasShock tells whether the mechanism drives a shock.
func (m *Mechanism) HasShock() bool { return m.shock[0].Point >= 0 }

// OnlyDyads tells whether the mechanism is solved only by a driver and dyads.
func (m *Mechanism) OnlyDyads() bool {
	for i := range m.steps {
		if m.steps[i].Kind > Dyad {
			return false
		}
	}
	return true
}

// Driver names the body that drives: the one that is turned, or pushed along its slide.
func (m *Mechanism) Driver() string { return m.Bodies[m.steps[0].Body[0]] }

// DriverTurns tells whether the driver turns; else it slides.
func (m *Mechanism) DriverTurns() bool { return m.steps[0].Kind == TurnDrive }

// Point returns the number of a named point, or -1.
func (m *Mechanism) Point(name string) int { return index(m.Points, name) }

// PointBodies names the bodies that a point lies on.
func (m *Mechanism) PointBodies(point int) []string {
	names := make([]string, 0, 2)
	for _, b := range m.carried[point] {
		names = append(names, m.Bodies[b])
	}
	return names
}

// RequiredPoints lists the points that a concept has to give coordinates for: all but the axle, whose
// place the chassis gives, and the crown root, which has a default.
func (m *Mechanism) RequiredPoints() []string {
	var names []string
	for _, p := range m.Points {
		if p != scheme.PointAxle && p != scheme.PointRoot {
			names = append(names, p)
		}
	}
	return names
}

// Compile checks a spec and finds the order of its solution. The faults come all at once; the
// mechanism is nil when there is any.
func Compile(spec scheme.MechanismSpec) (*Mechanism, []scheme.Fault) {
	c := compiler{m: &Mechanism{Name: spec.Name, Spec: spec}}
	c.bodies()
	c.pins()
	c.slides()
	c.shafts()
	c.roles()
	c.steering()
	c.members()
	if len(c.faults) == 0 {
		c.graph()
	}
	if len(c.faults) == 0 {
		c.order()
	}
	if len(c.faults) == 0 {
		c.trees(c.m.stated())
		c.telescopes()
		c.bearings()
	}
	if len(c.faults) > 0 {
		return nil, c.faults
	}
	return c.m, nil
}

// index is a search in sorted names.
func index(names []string, name string) int {
	if i, ok := slices.BinarySearch(names, name); ok {
		return i
	}
	return -1
}

// ShaftBody is the body that the spec fixes the shaft at a point to, or −1.
func (m *Mechanism) ShaftBody(point int) int { return m.shafts[point] }

// Pinned lists the bodies that a pivot joins, in the order of the spec; none where a point is no pivot.
func (m *Mechanism) Pinned(point int) []int { return m.pinned[point] }

// LargestGroup is the number of bodies of the largest group that Newton's method solves; 0 where a driver and dyads
// solve the motion in closed form.
func (m *Mechanism) LargestGroup() int { return burden(m.steps) }
