package mechanism

import "slices"

// hubs selects, by point, the reference body of a pin through several bodies while none of them is known: 0 the first
// by name.
type hubs map[int]int

// joined lists the joints of the bodies that are not known yet. The reference body of a pin
// through several bodies is a known one, where there is one.
func (m *Mechanism) joined(known []bool, hub hubs) []Joint {
	var all []Joint
	for i := 0; i < len(m.joints); {
		j := m.joints[i]
		if j.Slides() {
			if !known[j.A] || !known[j.B] {
				all = append(all, j)
			}
			i++
			continue
		}
		on := m.through(&i)
		from := slices.IndexFunc(on, func(b int) bool { return known[b] })
		if from < 0 {
			from = hub[j.Point]
		}
		for k, b := range on {
			if k != from && !known[b] {
				all = append(all, Joint{Name: j.Name, A: min(on[from], b), B: max(on[from], b), Point: j.Point})
			}
		}
	}
	return all
}

// through lists the bodies of the pin that begins at joint i, and moves i past it.
func (m *Mechanism) through(i *int) []int {
	point := m.joints[*i].Point
	on := []int{m.joints[*i].A}
	for ; *i < len(m.joints) && m.joints[*i].Point == point; *i++ {
		on = append(on, m.joints[*i].B)
	}
	return on
}

// shared lists the pins through three or more bodies, none of them known, and how many.
func (m *Mechanism) shared(known []bool) (points, bodies []int) {
	for i := 0; i < len(m.joints); {
		if m.joints[i].Slides() {
			i++
			continue
		}
		point := m.joints[i].Point
		on := m.through(&i)
		if len(on) > 2 && !slices.ContainsFunc(on, func(b int) bool { return known[b] }) {
			points, bodies = append(points, point), append(bodies, len(on))
		}
	}
	return points, bodies
}

// next finds the smallest set of bodies that can be solved now, and the joints that do it. Each of the
// unknown bodies of a pin through several is tried as its reference body in turn.
func (m *Mechanism) next(known []bool) (set []int, joints []Joint) {
	points, bodies := m.shared(known)
	hub := hubs{}
	try := func() bool {
		b := m.joined(known, hub)
		mt, ok := match(b, known)
		if !ok {
			return false
		}
		if s := mt.independent(); set == nil || len(s) < len(set) {
			set, joints = s, b
			return true
		}
		return false
	}
	try()
	for i, point := range points {
		best := 0
		for k := 1; k < bodies[i]; k++ {
			if hub[point] = k; try() {
				best = k
			}
		}
		hub[point] = best
	}
	return set, joints
}

// matching gives each of a joint's two equations to one of its bodies, three a body: an unknown to
// solve it for. It is false when some of the bodies have more equations than unknowns.
type matching struct {
	joints []Joint
	known  []bool
	owner  [][2]int // by joint
	load   []int    // equations by body
}

func match(joints []Joint, known []bool) (*matching, bool) {
	mt := &matching{joints: joints, known: known, owner: make([][2]int, len(joints)), load: make([]int, len(known))}
	for i := range mt.owner {
		mt.owner[i] = [2]int{-1, -1}
	}
	for i := range joints {
		for e := range 2 {
			seen := make([]bool, len(known))
			if !mt.assign(i, e, seen) {
				return nil, false
			}
		}
	}
	return mt, true
}

// assign finds a body for equation e of joint i, moving others on where it has to.
func (mt *matching) assign(i, e int, seen []bool) bool {
	for _, b := range [2]int{mt.joints[i].A, mt.joints[i].B} {
		if mt.known[b] || seen[b] {
			continue
		}
		seen[b] = true
		if mt.load[b] < 3 {
			mt.owner[i][e] = b
			mt.load[b]++
			return true
		}
		for k := range mt.owner {
			for f := range 2 {
				// The other equation moves off b, which keeps its load.
				if mt.owner[k][f] == b && mt.assign(k, f, seen) {
					mt.owner[i][e] = b
					return true
				}
			}
		}
	}
	return false
}

// independent finds the smallest set of unknown bodies that hang on no other unknown ones, the
// first by name of those: what can be solved next, and nothing less.
func (mt *matching) independent() []int {
	var best []int
	for b := range mt.known {
		if mt.known[b] {
			continue
		}
		if set := mt.needs(b); best == nil || len(set) < len(best) {
			best = set
		}
	}
	return best
}

// needs lists the unknown bodies, b among them, without which b cannot be solved.
func (mt *matching) needs(b int) []int {
	in := make([]bool, len(mt.known))
	in[b] = true
	for list := []int{b}; len(list) > 0; list = list[1:] {
		for i, j := range mt.joints {
			for _, owner := range mt.owner[i] {
				other := j.A + j.B - owner
				if owner == list[0] && !mt.known[other] && !in[other] {
					in[other] = true
					list = append(list, other)
				}
			}
		}
	}
	var set []int
	for i, ok := range in {
		if ok {
			set = append(set, i)
		}
	}
	return set
}
