// Package fem writes a sized fork as a beam model for a finite-element solver: nodes, sections, hinges, supports and
// loads, so that a team can continue in a program of its own.
package fem

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"forkfront/objectives"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/spaceframe"
	"forkfront/results/display"
	"forkfront/results/sideview"
)

// Pieces is into how many pieces of equal length a tube or shaft is divided: from the rotations of their ends its
// bending moments follow, and viewers show how it bends.
const Pieces = 4

// shearFactor is the shear correction factor of all sections. Beams are to be slender (Euler and Bernoulli), as in the
// model that sizes come from, hence a very large one.
const shearFactor = 1e6

// PoissonRatio is that of all materials.
const PoissonRatio = 0.3

// Stance is a travel at which a fork is modelled. Numbers of its nodes and elements start above First, and the sets of all
// its nodes and elements have its name.
type Stance struct {
	At    loads.Stance
	Set   string
	First int
}

// Stances are those that load cases may name.
var Stances = [...]Stance{{loads.TopOut, "TOP_OUT", 10000}, {loads.AtSag, "AT_SAG", 20000}, {loads.FullTravel, "FULL_TRAVEL", 30000}}

// WriteInput writes the input file of CalculiX CrunchiX (2.20 or later) for a fork. The file has one model per stance,
// not connected to each other, and one static step per load case, then one for each stiffness. Units are N, mm and MPa. The
// axes are those of the fork frame: along the steering axis from the crown to the wheel, ahead, and across, the third of
// a right-handed system. The error is that of a fork without sizes.
//
// Beams are user elements U1, straight Timoshenko beams of two nodes with six degrees of freedom each. Cantilevers of
// two elements show that version 2.20 couples their ends with the wrong sign in the second bending plane, and misreads a
// finite shear stiffness. So every piece of a beam is a pair of elements that each bend in their first plane only, have
// half of the area and hence half of the torsional stiffness, and are rigid in shear: that agrees with the closed form to
// all seven digits that the solver prints.
func WriteInput(w io.Writer, f *sideview.Fork) error {
	s, err := f.Solve(objectives.NewScorer(f.Conditions))
	if err != nil {
		return err
	}
	z := objectives.Sizes(s.Study)
	if z == nil {
		return errors.New("it has no sizes: " + s.Study.Missing(objectives.NeedStructure))
	}
	in := &input{}
	in.head(f, z)
	in.line("*USER ELEMENT, TYPE=U1, NODES=2, INTEGRATION POINTS=2, MAXDOF=6")
	whole := spaceframe.Of(z)
	var models []*written
	for _, st := range Stances {
		if m := spaceframe.ModelOf(whole, st.At); len(m.Loads) > 0 {
			models = append(models, in.model(st, m, structure.TravelAt(z, st.At)))
		}
	}
	in.materials()
	for _, m := range models {
		for i := range m.Loads {
			in.step(m, &m.Loads[i])
		}
	}
	if _, err := w.Write(in.text.Bytes()); err != nil {
		return fmt.Errorf("write the finite-element model: %w", err)
	}
	return nil
}

// input is an input file as it grows.
type input struct {
	text  bytes.Buffer
	young []float64 // of the materials, in MPa
}

func (in *input) line(format string, values ...any) {
	fmt.Fprintf(&in.text, format+"\n", values...)
}

// comment writes lines that the solver skips.
func (in *input) comment(format string, values ...any) {
	for l := range strings.SplitSeq(fmt.Sprintf(format, values...), "\n") {
		in.line("%s", strings.TrimRight("** "+inASCII(l), " "))
	}
}

func (in *input) head(f *sideview.Fork, z *structure.Sized[float64]) {
	in.comment("forkfront: %s as a space frame", f.ID)
	in.comment("%s", strings.ReplaceAll(display.Caution, ". ", ".\n"))
	in.comment("Units: N, mm, MPa. Axes: 1 along the steering axis from the crown to the wheel, 2 ahead, 3 across.\n" +
		"One model per stance, not connected to the others; node and element sets have the names of the stances.\n" +
		"The crown is rigid at root. A pivot's shaft is fixed to one body; the others on it share its displacements except\n" +
		"the rotation about it (self-aligning bearings: all rotations). The shock is locked: a steel rod of 10 mm.\n" +
		"Each beam is two sets of elements, one per bending plane, each with half of the area and of the torsional stiffness.")
	in.comment("Tubes are sized for %.6g MPa, which includes the safety factor.", structure.AllowedMPa(z))
}

// materials writes those that sections refer to.
func (in *input) materials() {
	for i, young := range in.young {
		in.line("*MATERIAL, NAME=M%d\n*ELASTIC\n%s, %s", i+1, number(young), number(PoissonRatio))
	}
}

// material is the number of a material.
func (in *input) material(young float64) int {
	for i, known := range in.young {
		if known == young {
			return i + 1
		}
	}
	in.young = append(in.young, young)
	return len(in.young)
}

// inASCII replaces what solvers may not read.
func inASCII(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '–' || r == '−':
			return '-'
		case r == '·':
			return '.'
		case r < ' ' || r > '~':
			return '_'
		}
		return r
	}, text)
}
