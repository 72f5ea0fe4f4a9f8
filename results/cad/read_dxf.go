package cad

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/stance"
	"forkfront/results/sideview"
)

// insertMM is the number of the millimetre among the units of a drawing ($INSUNITS).
const insertMM = 4

// unitsMM are the units of a drawing, by number, in mm (DXF reference, recalled). A drawing without units is in mm.
var unitsMM = map[int]float64{0: 1, 1: 25.4, 2: 304.8, insertMM: 1, 5: 10, 6: 1000}

// drawingBytes is the size up to which drawings are read.
const drawingBytes = 64 << 20

// placed is a point or the centre of a circle in a drawing, in mm.
type placed struct {
	kind string // POINT or CIRCLE
	at   sideview.XZ
	line int // of the file
}

// ReadDrawing reads where the points of a mechanism are at top-out, in the fork frame, out of a drawing that
// WriteDrawing or WriteDrawing12 wrote and that may have been changed and saved by another program since: the POINT or
// CIRCLE on the layer PIVOT_name of each. A layer that has both must have them in one place. The result has one entry
// per point of the mechanism. Errors name the file, and the line where there is one.
func ReadDrawing(file string, r io.Reader, m *mechanism.Mechanism, c *stance.Chassis) (map[string]kinematics.Vec[float64], error) {
	text, err := io.ReadAll(io.LimitReader(r, drawingBytes+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("read %s: %w", file, err)
	case len(text) > drawingBytes:
		return nil, fmt.Errorf("%s: larger than %d MB; expected a drawing of a fork", file, drawingBytes>>20)
	case bytes.HasPrefix(text, []byte("AutoCAD Binary DXF")):
		return nil, fmt.Errorf("%s: a binary DXF file; save it as ASCII DXF", file)
	case bytes.HasPrefix(text, []byte("AC10")):
		return nil, fmt.Errorf("%s: a DWG file; save it as ASCII DXF", file)
	}
	layers, err := readLayers(text)
	if err != nil {
		return nil, fmt.Errorf("%s:%w", file, err)
	}
	all := map[string]kinematics.Vec[float64]{}
	for point, layer := range pivotLayers(newDXF(release12, ""), m.Points) {
		at, err := onePlace(layers[layer])
		if err != nil {
			return nil, fmt.Errorf("%s: layer %s, pivot %q: %w", file, layer, m.Points[point], err)
		}
		all[m.Points[point]] = sideview.FromGround(c, at)
	}
	return all, nil
}

// onePlace is where all that is drawn on a pivot's layer lies.
func onePlace(on []placed) (sideview.XZ, error) {
	if len(on) == 0 {
		return sideview.XZ{}, fmt.Errorf("no POINT or CIRCLE in the model space")
	}
	for _, p := range on[1:] {
		if math.Hypot(p.at.X-on[0].at.X, p.at.Z-on[0].at.Z) > sameMM {
			return sideview.XZ{}, fmt.Errorf("the %s of line %d is at %.4f, %.4f and the %s of line %d at %.4f, %.4f; move all of a pivot, or delete what is not it",
				on[0].kind, on[0].line, on[0].at.X, on[0].at.Z, p.kind, p.line, p.at.X, p.at.Z)
		}
	}
	return on[0].at, nil
}

// dxfReader goes through the pairs of a drawing.
type dxfReader struct {
	in    *bufio.Scanner
	line  int // of the value last read
	code  int
	value string
}

// next reads a pair and is false at the end.
func (r *dxfReader) next() (bool, error) {
	if !r.in.Scan() {
		return false, r.in.Err()
	}
	r.line++
	code, err := strconv.Atoi(strings.TrimSpace(r.in.Text()))
	if err != nil {
		return false, fmt.Errorf("%d: %.40q; expected a group code, a whole number: not an ASCII DXF file, or a damaged one", r.line, r.in.Text())
	}
	if !r.in.Scan() {
		return false, fmt.Errorf("%d: the file ends after the group code %d", r.line, code)
	}
	r.line++
	r.code, r.value = code, strings.TrimSpace(r.in.Text())
	return true, nil
}

// number is the value as a number.
func (r *dxfReader) number() (float64, error) {
	v, err := strconv.ParseFloat(r.value, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%d: %.40q; expected a number for group code %d", r.line, r.value, r.code)
	}
	return v, nil
}

// drawn is an entity while it is read.
type drawn struct {
	placed
	layer      string
	paper      bool
	x, z, flip float64
}

// readLayers collects points and circles of the model space by layer, in capitals: names of layers do not depend on
// case. Errors begin with the line.
func readLayers(text []byte) (map[string][]placed, error) {
	r := &dxfReader{in: bufio.NewScanner(bytes.NewReader(text))}
	r.in.Buffer(nil, 1<<20)
	layers, unit := map[string][]placed{}, 1.0
	section, variable := "", ""
	var e drawn
	finish := func() {
		if (e.kind == "POINT" || e.kind == "CIRCLE") && !e.paper {
			e.at = sideview.XZ{X: e.x * unit, Z: e.z * unit}
			if e.kind == "CIRCLE" && e.flip < 0 { // its coordinates are those of a plane seen from behind
				e.at.X = -e.at.X
			}
			layers[e.layer] = append(layers[e.layer], e.placed)
		}
		e = drawn{}
	}
	began, ended := false, false
	for {
		more, err := r.next()
		if err != nil {
			return nil, err
		}
		if !more {
			break
		}
		switch {
		case r.code == 0:
			finish()
			began, ended = began || r.value == "SECTION", r.value == "EOF"
			if r.value == "SECTION" || r.value == "ENDSEC" {
				section = ""
			} else if section == "ENTITIES" {
				e.kind, e.line = r.value, r.line
			}
		case r.code == 2 && section == "":
			section = r.value
		case section == "HEADER" && r.code == 9:
			variable = r.value
		case section == "HEADER" && variable == "$INSUNITS" && r.code == 70:
			number, err := strconv.Atoi(r.value)
			if unit = unitsMM[number]; err != nil || unit == 0 {
				return nil, fmt.Errorf("%d: units %.20q; expected $INSUNITS 4 (mm), or 0, 1, 2, 5, 6 (none, inch, foot, cm, m)", r.line, r.value)
			}
		case section == "ENTITIES":
			if err := e.take(r); err != nil {
				return nil, err
			}
		}
	}
	if !began || !ended {
		return nil, fmt.Errorf("%d: the file ends before EOF; not a DXF file, or a damaged one", r.line)
	}
	return layers, nil
}

// take reads what matters of an entity.
func (e *drawn) take(r *dxfReader) (err error) {
	switch {
	case r.code == 8:
		e.layer = strings.ToUpper(r.value)
	case r.code == 67:
		e.paper = r.value == "1"
	case e.kind != "POINT" && e.kind != "CIRCLE":
	case r.code == 10:
		e.x, err = r.number()
	case r.code == 20:
		e.z, err = r.number()
	case r.code == 230:
		e.flip, err = r.number()
	}
	return err
}
