package kinematics

type stepKind int

const (
	turnDrive  stepKind = iota // a body pinned to the ground, turned
	slideDrive                 // a body that slides on the ground, pushed
	dyad                       // two bodies pinned together, each pinned to a known one
)

// step solves one or two bodies from those known before it.
type step struct {
	kind    stepKind
	body    [2]int
	on      [2]place // known body and the pivot on it, for each body
	tip     int      // the pivot between the two bodies
	through [2]int   // line of a slide
}

// order looks for a driver from which all other bodies follow as dyads. The first by name that
// serves is taken, so the order in a file does not matter.
func (c *compiler) order() {
	m := c.m
	for _, j := range m.joints {
		if j.a != m.ground && j.b != m.ground {
			continue
		}
		if steps, ok := m.orderFrom(j); ok {
			m.steps = steps
			m.anchor = anchors(m, steps)
			return
		}
	}
	c.fault("pivots", "no body that is joined to %q can drive the others as pairs of pinned bodies; such mechanisms cannot be solved yet", m.Bodies[m.ground])
}

// orderFrom tries the ground joint j as the driver.
func (m *Mechanism) orderFrom(j joint) ([]step, bool) {
	driver := j.b
	if j.b == m.ground {
		driver = j.a
	}
	if j.slides() && j.a != m.ground {
		return nil, false // the line has to stand still
	}
	known := make([]bool, len(m.Bodies))
	known[m.ground], known[driver] = true, true
	first := step{kind: turnDrive, body: [2]int{driver, -1}, on: [2]place{{m.ground, j.point}, {-1, -1}}}
	if j.slides() {
		first = step{kind: slideDrive, body: [2]int{driver, -1}, through: j.through, on: [2]place{{m.ground, j.through[0]}, {-1, -1}}}
	}
	steps := []step{first}
	for {
		s, found := m.nextDyad(known)
		if !found {
			break
		}
		known[s.body[0]], known[s.body[1]] = true, true
		steps = append(steps, s)
	}
	for _, k := range known {
		if !k {
			return nil, false
		}
	}
	return steps, true
}

// nextDyad finds two unknown bodies pinned together, each pinned to a known one.
func (m *Mechanism) nextDyad(known []bool) (step, bool) {
	for _, j := range m.joints {
		if j.slides() || known[j.a] || known[j.b] {
			continue
		}
		a, okA := m.hold(j.a, known)
		b, okB := m.hold(j.b, known)
		if okA && okB && a.point != j.point && b.point != j.point {
			return step{kind: dyad, body: [2]int{j.a, j.b}, on: [2]place{a, b}, tip: j.point}, true
		}
	}
	return step{}, false
}

// hold finds the pin by which a known body holds an unknown one.
func (m *Mechanism) hold(body int, known []bool) (place, bool) {
	for _, j := range m.joints {
		if j.slides() {
			continue
		}
		if j.a == body && known[j.b] {
			return place{j.b, j.point}, true
		}
		if j.b == body && known[j.a] {
			return place{j.a, j.point}, true
		}
	}
	return place{}, false
}

// anchors gives each body the point by which its steps place it.
func anchors(m *Mechanism, steps []step) []int {
	anchor := make([]int, len(m.Bodies))
	anchor[m.ground] = index(m.Points, PointRoot)
	for _, s := range steps {
		for i, b := range s.body {
			if b >= 0 {
				anchor[b] = s.on[i].point
			}
		}
	}
	return anchor
}
