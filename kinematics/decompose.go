package kinematics

import "slices"

// bonds lists the joints of the bodies that are not known yet. A pin through several bodies is
// told as seen from a known one, where there is one.
func (m *Mechanism) bonds(known []bool) []joint {
	var all []joint
	for i := 0; i < len(m.joints); {
		j := m.joints[i]
		if j.slides() {
			if !known[j.a] || !known[j.b] {
				all = append(all, j)
			}
			i++
			continue
		}
		on := []int{j.a}
		for ; i < len(m.joints) && m.joints[i].point == j.point; i++ {
			on = append(on, m.joints[i].b)
		}
		hub := max(0, slices.IndexFunc(on, func(b int) bool { return known[b] }))
		for k, b := range on {
			if k != hub && !known[b] {
				all = append(all, joint{name: j.name, a: min(on[hub], b), b: max(on[hub], b), point: j.point})
			}
		}
	}
	return all
}

// matching gives each of a joint's two equations to one of its bodies, three a body: an unknown to
// solve it for. It is false when some of the bodies have more equations than unknowns.
type matching struct {
	bonds []joint
	known []bool
	owner [][2]int // by bond
	load  []int    // equations by body
}

func match(bonds []joint, known []bool) (*matching, bool) {
	mt := &matching{bonds: bonds, known: known, owner: make([][2]int, len(bonds)), load: make([]int, len(known))}
	for i := range mt.owner {
		mt.owner[i] = [2]int{-1, -1}
	}
	for i := range bonds {
		for e := range 2 {
			seen := make([]bool, len(known))
			if !mt.give(i, e, seen) {
				return nil, false
			}
		}
	}
	return mt, true
}

// give finds a body for equation e of bond i, moving others on where it has to.
func (mt *matching) give(i, e int, seen []bool) bool {
	for _, b := range [2]int{mt.bonds[i].a, mt.bonds[i].b} {
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
				if mt.owner[k][f] == b && mt.give(k, f, seen) {
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
		for i, j := range mt.bonds {
			for _, owner := range mt.owner[i] {
				other := j.a + j.b - owner
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
