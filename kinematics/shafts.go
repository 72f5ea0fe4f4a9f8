package kinematics

import (
	"slices"
	"strings"
)

// ShaftSpec names the body that a pivot's shaft is fixed to, so that it turns with it.
type ShaftSpec struct{ Pivot, Body string }

// shafts checks which bodies the spec fixes shafts to.
func (c *compiler) shafts() {
	m := c.m
	m.shafts = make([]int, len(m.Points))
	for i := range m.shafts {
		m.shafts[i] = -1
	}
	for _, s := range m.Spec.Shafts {
		path := "shafts." + s.Pivot
		pivot := slices.IndexFunc(m.Spec.Pivots, func(p PivotSpec) bool { return p.Name == s.Pivot })
		switch {
		case pivot < 0:
			c.fault(path, "%q is not a pivot", s.Pivot)
		case s.Pivot == PointAxle:
			c.fault(path, "the wheel axle is fixed to %q, which carries it", m.Spec.Axle)
		case !slices.Contains(m.Spec.Pivots[pivot].Bodies, s.Body):
			c.fault(path, "the pivot does not join body %q; it joins %s", s.Body, strings.Join(m.Spec.Pivots[pivot].Bodies, ", "))
		default:
			m.shafts[index(m.Points, s.Pivot)] = c.body(path, s.Body)
		}
	}
}

// ShaftBody is the body that the spec fixes the shaft at a point to, or −1.
func (m *Mechanism) ShaftBody(point int) int { return m.shafts[point] }

// Pinned lists the bodies that a pivot joins, in the order of the spec; none where a point is no pivot.
func (m *Mechanism) Pinned(point int) []int { return m.pinned[point] }
