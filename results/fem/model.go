package fem

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"forkfront/objectives/structure/spaceframe"
)

// written is a model with the numbers that its nodes have in the file.
type written struct {
	Stance
	*spaceframe.Model
	node    []int          // by node of the frame
	masters map[int][2]int // by unknown of the frame: the node and the degree of freedom that stand for it
	last    int            // the last number of a node or an element
}

// model writes the nodes, elements, sections, hinges and supports of a stance.
func (in *input) model(st Stance, m *spaceframe.Model, travel float64) *written {
	w := &written{Stance: st, Model: m, node: make([]int, m.Nodes()), masters: map[int][2]int{}, last: st.First}
	in.comment("")
	in.comment("%s: %.6g mm of travel", st.Set, travel)
	in.line("*NODE, NSET=%s", st.Set)
	for n := range w.node {
		if same := w.merged(n); same >= 0 {
			w.node[n] = w.node[same]
			continue
		}
		w.node[n] = in.node(w, m.Place(n), m.Points[n])
	}
	pieces := make([][]int, m.Frame.Beams())
	for b := range pieces {
		pieces[b] = in.nodesAlong(w, b)
	}
	for b := range pieces {
		in.elements(w, b, pieces[b])
	}
	in.constraints(w)
	return w
}

// merged is an earlier node that shares all displacements with a node, or −1.
func (w *written) merged(node int) int {
	own := w.Unknowns(node)
	if slices.Max(own[:]) < 0 {
		return -1
	}
	for n := range node {
		if w.Unknowns(n) == own && w.Place(n) == w.Place(node) {
			return n
		}
	}
	return -1
}

func (in *input) node(w *written, at [3]float64, about string) int {
	w.last++
	in.comment("%s", about)
	in.line("%d, %s, %s, %s", w.last, number(at[0]), number(at[1]), number(at[2]))
	return w.last
}

// nodesAlong writes the nodes that divide a beam, and returns all of its nodes in order.
func (in *input) nodesAlong(w *written, b int) []int {
	ends := w.BeamEnds(b)
	all := []int{w.node[ends[0]]}
	if !w.Beams[b].OnlyAxial {
		from, to := w.Place(ends[0]), w.Place(ends[1])
		for i := 1; i < Pieces; i++ {
			var at [3]float64
			for k := range at {
				at[k] = from[k] + (to[k]-from[k])*float64(i)/Pieces
			}
			all = append(all, in.node(w, at, "in "+w.Beams[b].Part))
		}
	}
	return append(all, w.node[ends[1]])
}

// elements writes the elements of a beam along its nodes, and its sections.
func (in *input) elements(w *written, b int, nodes []int) {
	part, axes := &w.Beams[b], w.Axes(b)
	area := math.Pi / 4 * (part.OutsideMM*part.OutsideMM - part.BoreMM*part.BoreMM)
	inertia := math.Pi / 64 * (math.Pow(part.OutsideMM, 4) - math.Pow(part.BoreMM, 4))
	if part.OnlyAxial {
		inertia = 0
	}
	in.comment("%s: outside %.6g mm, inside %.6g mm", part.Part, part.OutsideMM, part.BoreMM)
	material := in.material(part.YoungMPa)
	for plane := range 2 {
		set := w.beamSet(b, plane)
		in.line("*ELEMENT, TYPE=U1, ELSET=%s", set)
		for i := 1; i < len(nodes); i++ {
			w.last++
			in.line("%d, %d, %d", w.last, nodes[i-1], nodes[i])
		}
		across := axes[1+plane]
		in.line("*BEAM SECTION, ELSET=%s, MATERIAL=M%d, SECTION=GENERAL", set, material)
		in.line("%s, %s, 0, 0, %s", number(area/2), number(inertia), number(shearFactor))
		in.line("%s, %s, %s", number(across[0]), number(across[1]), number(across[2]))
	}
}

// beamSet names the elements of a beam that bend in one of its two planes. The solver reads 20 characters of it; the
// part is in a comment.
func (w *written) beamSet(b, plane int) string {
	return fmt.Sprintf("%s_%d_%d", w.Set, b+1, plane+1)
}

// constraints writes which displacements are held and which are equal.
func (in *input) constraints(w *written) {
	var held, equal []string
	for n := range w.node {
		if slices.Index(w.node, w.node[n]) < n {
			continue // written with the node that it is one with
		}
		for i, unknown := range w.Unknowns(n) {
			master, known := w.masters[unknown]
			switch {
			case unknown < 0:
				held = append(held, fmt.Sprintf("%d, %d, %d", w.node[n], i+1, i+1))
			case known:
				equal = append(equal, fmt.Sprintf("*EQUATION\n2\n%d, %d, 1, %d, %d, -1", w.node[n], i+1, master[0], master[1]))
			default:
				w.masters[unknown] = [2]int{w.node[n], i + 1}
			}
		}
	}
	what := "hinges"
	if w.Springs() > 0 {
		what, equal = "hinges, and bushes of slides", append(equal, w.bushes()...)
	}
	if len(equal) > 0 {
		in.comment("%s", what)
		in.line("%s", strings.Join(equal, "\n"))
	}
	in.line("*BOUNDARY\n%s", strings.Join(held, "\n"))
}

// bushes writes the equations of the bushes of slides: two nodes move alike along a direction.
func (w *written) bushes() (equations []string) {
	for i := range w.Springs() {
		nodes, way := w.SpringEnds(i)
		first := 0 // the displacement that the equation gives, of the sliding body
		for k := range way {
			if math.Abs(way[k]) > math.Abs(way[first]) {
				first = k
			}
		}
		terms := []string{}
		for _, end := range []int{1, 0} {
			sign := float64(2*end - 1)
			for n := range way {
				k := (first + n) % 3
				unknown := w.Unknowns(nodes[end])[k]
				if at := w.masters[unknown]; way[k] != 0 && unknown >= 0 {
					terms = append(terms, fmt.Sprintf("%d, %d, %s", at[0], at[1], number(sign*way[k])))
				}
			}
		}
		equations = append(equations, fmt.Sprintf("*EQUATION\n%d\n%s", len(terms), strings.Join(terms, ",\n")))
	}
	return equations
}

// step writes a load and asks for all displacements of its model.
func (in *input) step(w *written, load *spaceframe.ModelLoad) {
	in.comment("")
	in.comment("%s, %s", w.Set, load.Name)
	in.line("*STEP\n*STATIC\n*CLOAD, OP=NEW")
	sums := map[[2]int]float64{}
	var order [][2]int
	for n := range w.node {
		on := load.OnNode[n]
		for i, unknown := range w.Unknowns(n) {
			if unknown < 0 || on[i] == 0 {
				continue
			}
			at := w.masters[unknown]
			if _, there := sums[at]; !there {
				order = append(order, at)
			}
			sums[at] += on[i]
		}
	}
	for _, at := range order {
		in.line("%d, %d, %s", at[0], at[1], number(sums[at]))
	}
	in.line("*NODE PRINT, NSET=%s\nU\n*NODE FILE\nU\n*END STEP", w.Set)
}

// number writes a value to 12 digits: coordinates to less than a nanometre.
func number(v float64) string { return strconv.FormatFloat(v, 'G', 12, 64) }
