package frame

import "forkfront/kinematics/plane"

// Frame is a space frame of straight beams, solved by the displacement method. A node has six displacements:
// three translations in mm along the axes of the fork frame, the third across the plane (along × ahead), and
// three rotations in radians about them. Nodes and ties come first, then beams, then Factor.
type Frame[T plane.Scalar] struct {
	at      [][3]T
	number  [][6]int // of each displacement of a node; −1: held
	size    int
	beams   []beam[T]
	springs []spring[T]
}

// beam is a straight beam between two nodes.
type beam[T plane.Scalar] struct {
	ends [2]int
	r    Rigidity[T]
}

const held = -1

// Load is the forces in N and moments in N·mm on one node.
type Load[T plane.Scalar] [6]T

// Node adds a node whose displacements are all free, and returns its number.
func (f *Frame[T]) Node(at [3]T) int {
	var own [6]int
	for i := range own {
		own[i] = f.size
		f.size++
	}
	f.at, f.number = append(f.at, at), append(f.number, own)
	return len(f.at) - 1
}

// Hold holds the first n displacements of a node.
func (f *Frame[T]) Hold(node, n int) {
	for i := range n {
		f.rename(f.number[node][i], held)
	}
}

// Tie makes the first n displacements of two nodes the same.
func (f *Frame[T]) Tie(node, with, n int) {
	for i := range n {
		a, b := f.number[node][i], f.number[with][i]
		if b == held {
			a, b = b, a
		}
		f.rename(b, a)
	}
}

// rename gives an unknown the number of another, or holds it; the last unknown fills the gap.
func (f *Frame[T]) rename(old, now int) {
	if old == now || old == held {
		return
	}
	f.renumber(old, now)
	f.size--
	f.renumber(f.size, old)
}

func (f *Frame[T]) renumber(old, now int) {
	for n := range f.number {
		for i, k := range f.number[n] {
			if k == old {
				f.number[n][i] = now
			}
		}
	}
}

// Beam adds a slender beam (Euler and Bernoulli) between two nodes, and returns its number.
func (f *Frame[T]) Beam(a, b int, r Rigidity[T]) int {
	f.beams = append(f.beams, beam[T]{[2]int{a, b}, r})
	return len(f.beams) - 1
}

// spring resists that two nodes move apart along a unit vector, with a rate in N/mm.
type spring[T plane.Scalar] struct {
	ends [2]int
	way  [3]T
	rate float64
}

// Spring adds a spring between two nodes at one place, with a rate in N/mm: it resists that they move apart along a unit
// vector, and nothing else.
func (f *Frame[T]) Spring(a, b int, way [3]T, rate float64) {
	f.springs = append(f.springs, spring[T]{[2]int{a, b}, way, rate})
}

// Springs is the number of springs; SpringEnds are the nodes of one and the unit vector along which it acts.
func (f *Frame[T]) Springs() int { return len(f.springs) }

func (f *Frame[T]) SpringEnds(i int) (nodes [2]int, way [3]T) {
	return f.springs[i].ends, f.springs[i].way
}

// SpringForce is the force in N with which a spring pulls its nodes together.
func (f *Frame[T]) SpringForce(i int, d Displacements[T]) (force T) {
	s := &f.springs[i]
	for k := range 3 {
		force += plane.Lift[T](s.rate) * s.way[k] * (d[s.ends[1]][k] - d[s.ends[0]][k])
	}
	return force
}

// Nodes is the number of nodes, and Beams that of beams.
func (f *Frame[T]) Nodes() int { return len(f.at) }

func (f *Frame[T]) Beams() int { return len(f.beams) }

// Place is where a node is, in mm.
func (f *Frame[T]) Place(node int) [3]T { return f.at[node] }

// Unknowns are the numbers of a node's six displacements: −1 where one is held, and the same for those that are equal.
func (f *Frame[T]) Unknowns(node int) [6]int { return f.number[node] }

// BeamEnds are the nodes of a beam, and Axes three unit vectors square to each other, the first from its first node to
// its second.
func (f *Frame[T]) BeamEnds(b int) [2]int { return f.beams[b].ends }

func (f *Frame[T]) Axes(b int) [3][3]T {
	axes, _ := axesOf(f.at[f.beams[b].ends[0]], f.at[f.beams[b].ends[1]])
	return axes
}

func (f *Frame[T]) numbers(b *beam[T]) (all [12]int) {
	copy(all[:6], f.number[b.ends[0]][:])
	copy(all[6:], f.number[b.ends[1]][:])
	return all
}

// Displacements are those of each node, in mm and radians.
type Displacements[T plane.Scalar] [][6]T

// Ends are the forces in N and moments in N·mm on the two ends of a beam, in the beam's own axes, of which the
// first runs along it from its first node to its second: three forces and three moments of each end.
func (f *Frame[T]) Ends(b int, d Displacements[T]) (ends [12]T) {
	bm := &f.beams[b]
	axes, length := axesOf(f.at[bm.ends[0]], f.at[bm.ends[1]])
	local := beamStiffness(bm.r, length)
	var own [12]T
	for i := range own {
		u := &d[bm.ends[i/6]]
		for k := range 3 {
			own[i] += axes[i%3][k] * u[i%6/3*3+k]
		}
	}
	for i := range ends {
		for j := range own {
			ends[i] += local[i][j] * own[j]
		}
	}
	return ends
}

// OnBeams are the forces in N and moments in N·mm, along the axes of the fork frame, that the beams at a node carry away
// from it.
func (f *Frame[T]) OnBeams(node int, d Displacements[T]) (sum Load[T]) {
	for b := range f.beams {
		for end, n := range f.beams[b].ends {
			if n != node {
				continue
			}
			for i, by := range f.onBeam(b, end, d) {
				sum[i] += by
			}
		}
	}
	return sum
}

// onBeam is what acts on an end of a beam, along the axes of the fork frame.
func (f *Frame[T]) onBeam(b, end int, d Displacements[T]) (on Load[T]) {
	axes, own := f.Axes(b), f.Ends(b, d)
	for i := range on {
		for k := range 3 {
			on[i] += axes[k][i%3] * own[6*end+i/3*3+k]
		}
	}
	return on
}
