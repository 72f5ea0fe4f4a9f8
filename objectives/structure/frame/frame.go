package frame

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Frame is a space frame of straight beams, solved by the displacement method. A node has six displacements:
// three translations in mm along the axes of the fork frame, the third across the plane (along × ahead), and
// three rotations in radians about them. Nodes and ties come first, then beams, then Factor.
type Frame struct {
	at      [][3]float64
	number  [][6]int // of each displacement of a node; −1: held
	size    int
	beams   []beam
	springs []spring
	scale   []float64 // of each unknown: 1 over the root of its stiffness
	factor  mat.Cholesky
}

// beam is a straight beam between two nodes.
type beam struct {
	ends [2]int
	r    Rigidity
}

const held = -1

// Load is the forces in N and moments in N·mm on one node.
type Load [6]float64

// Node adds a node whose displacements are all free, and returns its number.
func (f *Frame) Node(at [3]float64) int {
	var own [6]int
	for i := range own {
		own[i] = f.size
		f.size++
	}
	f.at, f.number = append(f.at, at), append(f.number, own)
	return len(f.at) - 1
}

// Hold holds the first n displacements of a node.
func (f *Frame) Hold(node, n int) {
	for i := range n {
		f.rename(f.number[node][i], held)
	}
}

// Tie makes the first n displacements of two nodes the same.
func (f *Frame) Tie(node, with, n int) {
	for i := range n {
		a, b := f.number[node][i], f.number[with][i]
		if b == held {
			a, b = b, a
		}
		f.rename(b, a)
	}
}

// rename gives an unknown the number of another, or holds it; the last unknown fills the gap.
func (f *Frame) rename(old, now int) {
	if old == now || old == held {
		return
	}
	f.renumber(old, now)
	f.size--
	f.renumber(f.size, old)
}

func (f *Frame) renumber(old, now int) {
	for n := range f.number {
		for i, k := range f.number[n] {
			if k == old {
				f.number[n][i] = now
			}
		}
	}
}

// Beam adds a slender beam (Euler and Bernoulli) between two nodes, and returns its number.
func (f *Frame) Beam(a, b int, r Rigidity) int {
	f.beams = append(f.beams, beam{[2]int{a, b}, r})
	return len(f.beams) - 1
}

// spring resists that two nodes move apart along a unit vector, with a rate in N/mm.
type spring struct {
	ends [2]int
	way  [3]float64
	rate float64
}

// Spring adds a spring between two nodes at one place, with a rate in N/mm: it resists that they move apart along a unit
// vector, and nothing else.
func (f *Frame) Spring(a, b int, way [3]float64, rate float64) {
	f.springs = append(f.springs, spring{[2]int{a, b}, way, rate})
}

// Springs is the number of springs; SpringEnds are the nodes of one and the unit vector along which it acts.
func (f *Frame) Springs() int { return len(f.springs) }

func (f *Frame) SpringEnds(i int) (nodes [2]int, way [3]float64) {
	return f.springs[i].ends, f.springs[i].way
}

// SpringForce is the force in N with which a spring pulls its nodes together.
func (f *Frame) SpringForce(i int, d Displacements) (force float64) {
	s := &f.springs[i]
	for k := range 3 {
		force += s.rate * s.way[k] * (d[s.ends[1]][k] - d[s.ends[0]][k])
	}
	return force
}

// Nodes is the number of nodes, and Beams that of beams.
func (f *Frame) Nodes() int { return len(f.at) }

func (f *Frame) Beams() int { return len(f.beams) }

// Place is where a node is, in mm.
func (f *Frame) Place(node int) [3]float64 { return f.at[node] }

// Unknowns are the numbers of a node's six displacements: −1 where one is held, and the same for those that are equal.
func (f *Frame) Unknowns(node int) [6]int { return f.number[node] }

// BeamEnds are the nodes of a beam, and Axes three unit vectors square to each other, the first from its first node to
// its second.
func (f *Frame) BeamEnds(b int) [2]int { return f.beams[b].ends }

func (f *Frame) Axes(b int) [3][3]float64 {
	axes, _ := axesOf(f.at[f.beams[b].ends[0]], f.at[f.beams[b].ends[1]])
	return axes
}

// loose is the condition of the stiffness, scaled to a diagonal of 1, beyond which a frame is taken for loose:
// frames of tubes and shafts stay below 1e9, and rounding makes of a mechanism about 1e16.
const loose = 1e13

// Factor prepares the frame for loads. It is false where the frame is loose.
func (f *Frame) Factor() bool {
	if f.size == 0 {
		return false
	}
	k := mat.NewSymDense(f.size, nil)
	for i := range f.beams {
		f.assemble(k, &f.beams[i])
	}
	for i := range f.springs {
		f.connect(k, &f.springs[i])
	}
	f.scale = make([]float64, f.size)
	for i := range f.scale {
		if !(k.At(i, i) > 0) {
			return false
		}
		f.scale[i] = 1 / math.Sqrt(k.At(i, i))
	}
	for i := range f.scale {
		for j := i; j < f.size; j++ {
			k.SetSym(i, j, k.At(i, j)*f.scale[i]*f.scale[j])
		}
	}
	return f.factor.Factorize(k) && f.factor.Cond() < loose
}

func (f *Frame) assemble(k *mat.SymDense, b *beam) {
	axes, length := axesOf(f.at[b.ends[0]], f.at[b.ends[1]])
	local := beamStiffness(b.r, length)
	numbers := f.numbers(b)
	for i, row := range numbers {
		for j, col := range numbers {
			if row == held || col < row {
				continue
			}
			sum := 0.0
			for p := range 3 {
				for q := range 3 {
					sum += axes[p][i%3] * local[i/3*3+p][j/3*3+q] * axes[q][j%3]
				}
			}
			k.SetSym(row, col, k.At(row, col)+sum)
		}
	}
}

// connect adds a spring.
func (f *Frame) connect(k *mat.SymDense, s *spring) {
	for i := range 6 {
		for j := range 6 {
			row, col := f.number[s.ends[i/3]][i%3], f.number[s.ends[j/3]][j%3]
			if row == held || col < row {
				continue
			}
			by := s.rate * s.way[i%3] * s.way[j%3]
			if i/3 != j/3 {
				by = -by
			}
			k.SetSym(row, col, k.At(row, col)+by)
		}
	}
}

func (f *Frame) numbers(b *beam) (all [12]int) {
	copy(all[:6], f.number[b.ends[0]][:])
	copy(all[6:], f.number[b.ends[1]][:])
	return all
}

// Solve finds the displacements of all nodes under loads by node.
func (f *Frame) Solve(loads map[int]Load) Displacements {
	x := mat.NewVecDense(f.size, nil)
	for node, load := range loads {
		for i, n := range f.number[node] {
			if n != held {
				x.SetVec(n, x.AtVec(n)+load[i]*f.scale[n])
			}
		}
	}
	if err := f.factor.SolveVecTo(x, x); err != nil {
		panic("frame: solved before it was factored: " + err.Error())
	}
	d := make(Displacements, len(f.at))
	for node := range d {
		for i, n := range f.number[node] {
			if n != held {
				d[node][i] = x.AtVec(n) * f.scale[n]
			}
		}
	}
	return d
}

// Displacements are those of each node, in mm and radians.
type Displacements [][6]float64

// Ends are the forces in N and moments in N·mm on the two ends of a beam, in the beam's own axes, of which the
// first runs along it from its first node to its second: three forces and three moments of each end.
func (f *Frame) Ends(b int, d Displacements) (ends [12]float64) {
	bm := &f.beams[b]
	axes, length := axesOf(f.at[bm.ends[0]], f.at[bm.ends[1]])
	local := beamStiffness(bm.r, length)
	var own [12]float64
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
func (f *Frame) OnBeams(node int, d Displacements) (sum Load) {
	for b := range f.beams {
		for end, n := range f.beams[b].ends {
			if n != node {
				continue
			}
			axes, own := f.Axes(b), f.Ends(b, d)
			for i := range sum {
				for k := range 3 {
					sum[i] += axes[k][i%3] * own[6*end+i/3*3+k]
				}
			}
		}
	}
	return sum
}
