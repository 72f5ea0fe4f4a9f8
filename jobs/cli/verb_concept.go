package cli

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/jobs/process"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/results/cad"
)

// movedMM is the distance from which a point counts as moved: tables and drawings have 0.1 µm.
const movedMM = 1e-4

// VerbConcept takes pivots that were moved in CAD, or in a table, into a concept file.
func VerbConcept(env *process.Env) *cobra.Command {
	var from string
	c := &cobra.Command{
		Use:   "concept CONCEPT --from FILE",
		Short: "Update a concept file from a drawing or pivot table",
		Long: "Prints the concept file CONCEPT with its points where FILE has them: a drawing (DXF) or a table (CSV) that\n" +
			"`forkfront extract` wrote, in which pivots were moved since. In a drawing, the POINT and CIRCLE on the layer\n" +
			"PIVOT_name count; keep the drawing's origin and scale. In a table, the columns along_mm and ahead_mm count, or\n" +
			"x_top_out_mm and z_top_out_mm where only those were changed. A point that did not move keeps its digits.\n" +
			"Which points moved, and how far, is printed to standard error.",
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if from == "" {
				return process.BadInput(fmt.Errorf("--from FILE is required: a drawing (.dxf) or a table of pivots (.csv)"))
			}
			return takePivots(env, args[0], from)
		},
	}
	c.Flags().StringVar(&from, "from", "", "drawing (.dxf) or pivot table (.csv) to read the points from")
	return c
}

// takePivots prints a concept with the points of a drawing or table.
func takePivots(env *process.Env, name, from string) error {
	concept, design, err := cases.ReadFork(env, name)
	if err != nil {
		return err
	}
	m := design.Mechanism
	was := map[string]kinematics.Vec[float64]{}
	for point, name := range m.Points {
		was[name] = design.Layout[point]
	}
	at, err := readPivots(env, from, concept, m, was)
	if err != nil {
		return err
	}
	said, err := movePoints(concept, m, was, at)
	if err != nil {
		return process.BadInput(fmt.Errorf("%s: %w", process.FileShown(from), err))
	}
	head := fmt.Sprintf("# %s with the points of %s. `forkfront score` reads it.\n", inOneLine(process.FileShown(name)), inOneLine(process.FileShown(from)))
	text, err := conceptText(head, concept)
	if err != nil {
		return err
	}
	// The moved points must pass what every concept file is checked for.
	label := filepath.Join(filepath.Dir(name), fmt.Sprintf("(%s with the points of %s)", filepath.Base(process.FileShown(name)), filepath.Base(process.FileShown(from))))
	file, source, err := files.ReadConcept(label, bytes.NewReader(text))
	if err == nil {
		_, err = cases.Design(file, source, env.Err)
	}
	if err != nil {
		return document.InputOr(err)
	}
	for _, line := range said {
		fmt.Fprintln(env.Err, line)
	}
	_, err = env.Out.Write(text)
	return err
}

// readPivots reads the points of a drawing or table, by the ending of its name.
func readPivots(env *process.Env, from string, concept *files.ConceptFile, m *mechanism.Mechanism, was map[string]kinematics.Vec[float64]) (map[string]kinematics.Vec[float64], error) {
	drawing := strings.EqualFold(filepath.Ext(from), ".dxf")
	if !drawing && !strings.EqualFold(filepath.Ext(from), ".csv") {
		return nil, process.BadInput(fmt.Errorf("--from %s; expected the name of a drawing (.dxf) or of a table of pivots (.csv)", from))
	}
	in, err := env.Input(from)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	chassis := concept.Chassis()
	var at map[string]kinematics.Vec[float64]
	if drawing {
		at, err = cad.ReadDrawing(from, in, m, &chassis)
	} else {
		at, err = cad.ReadPivotTable(from, in, m, &chassis, was)
	}
	if err != nil {
		return nil, process.BadInput(err)
	}
	return at, nil
}

// movePoints moves the points of a concept to where a file has them, and says in one line for each how far it moved.
// The axle is the bike's: one that is elsewhere means that the drawing was moved as a whole, or is of another bike.
func movePoints(concept *files.ConceptFile, m *mechanism.Mechanism, was, at map[string]kinematics.Vec[float64]) (said []string, err error) {
	points := map[string]sections.Point{}
	for name, p := range concept.PointsMM {
		points[name] = p
	}
	for _, name := range m.Points {
		to, there := at[name]
		if !there {
			continue // a table may leave out what does not move
		}
		along, ahead := to.Along-was[name].Along, to.Ahead-was[name].Ahead
		distance := math.Hypot(along, ahead)
		switch {
		case distance <= movedMM:
		case name == scheme.PointAxle:
			return nil, fmt.Errorf("the axle is %.4g mm from where the bike of %s has it at top-out (axle_to_crown_mm, fork_offset_mm); was all of the drawing moved, turned or scaled, or is it of another bike?",
				distance, strconv.Quote(concept.Concept))
		default:
			points[name] = sections.Point{rounded(to.Along), rounded(to.Ahead)}
			said = append(said, fmt.Sprintf("%s moved by %.4f mm: along %+.4f, ahead %+.4f", name, distance, along, ahead))
		}
	}
	if said == nil {
		said = []string{"no point moved"}
	}
	concept.PointsMM = points
	return said, nil
}

// rounded has one digit more than drawings and tables, so that their rounding is not added to.
func rounded(mm float64) float64 { return math.Round(mm*1e5) / 1e5 }

// inOneLine keeps a file's name from ending a comment.
func inOneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
