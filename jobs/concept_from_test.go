package jobs

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/jobs/process"
	"forkfront/kinematics/scheme"
)

// Points that are moved in the drawing, in either release, or in the table, by either pair of columns, come back where
// they were moved to; the others keep their digits.
func TestPivotsComeBackFromCAD(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(8, 8))
	bases, _ := filepath.Glob("examples/*girder*.yaml")
	more, _ := filepath.Glob("examples/*arm*.yaml")
	tried := 0
	for _, base := range append(bases, more...) {
		concept := readConceptFile(t, base)
		if concept == nil {
			continue
		}
		tried++
		want, points := movedBy(concept, r)
		moved := filepath.Join(t.TempDir(), "moved.yaml")
		text, err := document.Encode(want)
		if err != nil {
			t.Fatal(err)
		}
		// The mechanism's file, where it is one, is named relative to the concept.
		if err := os.WriteFile(moved, bytes.ReplaceAll(text, []byte("mechanism: "+concept.Mechanism), []byte("mechanism: "+mechanismPath(t, base, concept))), 0o644); err != nil {
			t.Fatal(err)
		}
		for _, form := range []struct {
			as, file string
			edit     func(string) string
		}{
			{"drawing", "x.dxf", nil},
			{"drawing-r12", "X.DXF", nil},
			{"table", "x.csv", nil},
			{"table", "decimal-comma.csv", func(s string) string {
				return "\ufeff" + strings.ReplaceAll(strings.ReplaceAll(s, ",", ";"), ".", ",")
			}},
			{"table", "ground.csv", func(s string) string { return asItWas(t, s, concept) }},
		} {
			code, out, said := command(t, "extract", moved, "--as", form.as)
			if code != process.Done {
				t.Fatalf("%s: exit %d: %s", base, code, said)
			}
			if form.edit != nil {
				out = form.edit(out)
			}
			from := filepath.Join(t.TempDir(), form.file)
			if err := os.WriteFile(from, []byte(out), 0o644); err != nil {
				t.Fatal(err)
			}
			code, out, said = command(t, "concept", base, "--from", from)
			if code != process.Done || strings.Count(said, " moved by ") != points {
				t.Fatalf("%s, %s: exit %d: %s", base, form.file, code, said)
			}
			back, _, err := files.ReadConcept(filepath.Join(filepath.Dir(base), "back.yaml"), strings.NewReader(out))
			if err != nil {
				t.Fatal(err)
			}
			for name, p := range want.PointsMM {
				b := back.PointsMM[name]
				if d := math.Hypot(b[0]-p[0], b[1]-p[1]); d > 1e-4 {
					t.Errorf("%s, %s: %s comes back %.3g mm away", base, form.file, name, d)
				}
				if p == concept.PointsMM[name] && b != p {
					t.Errorf("%s, %s: %s did not move and is %v, was %v", base, form.file, name, b, p)
				}
			}
		}
	}
	if tried < 3 {
		t.Errorf("%d concepts tried", tried)
	}
}

// readConceptFile reads a file that is a concept.
func readConceptFile(t *testing.T, path string) *files.ConceptFile {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(text, []byte("\nconcept:")) && !bytes.HasPrefix(text, []byte("concept:")) {
		return nil
	}
	c, _, err := files.ReadConcept(path, bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// mechanismPath is the mechanism of a concept as a concept in any folder names it.
func mechanismPath(t *testing.T, base string, c *files.ConceptFile) string {
	t.Helper()
	if !strings.Contains(c.Mechanism, ".yaml") {
		return c.Mechanism
	}
	path, err := filepath.Abs(filepath.Join(filepath.Dir(base), c.Mechanism))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// movedBy is a concept with up to two of its points a few millimetres from where they are, and how many. None of them is
// the shock's, whose length may be fixed.
func movedBy(c *files.ConceptFile, r *rand.Rand) (*files.ConceptFile, int) {
	moved := *c
	moved.PointsMM = map[string]sections.Point{}
	for name, p := range c.PointsMM {
		moved.PointsMM[name] = p
	}
	m := files.Compile(c.Spec)
	count := 0
	for _, name := range m.RequiredPoints() {
		if count < 2 && name != scheme.PointShockLower && name != scheme.PointShockUpper {
			count++
			p := moved.PointsMM[name]
			moved.PointsMM[name] = sections.Point{p[0] + 0.5 + 1.5*r.Float64(), p[1] - 0.5 - 1.5*r.Float64()}
		}
	}
	return &moved, count
}

// asItWas is a table in which somebody changed the places over the ground only.
func asItWas(t *testing.T, table string, was *files.ConceptFile) string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	w := csv.NewWriter(&out)
	for _, row := range rows {
		if p, there := was.PointsMM[row[0]]; there {
			row[2], row[3] = strconv.FormatFloat(p[0], 'f', 4, 64), strconv.FormatFloat(p[1], 'f', 4, 64)
		}
		_ = w.Write(row)
	}
	w.Flush()
	return out.String()
}

// What cannot be taken over is refused with the file, and the line, value and what is allowed where there are any.
func TestDrawingsAndTablesThatAreWrong(t *testing.T) {
	t.Parallel()
	base := "examples/cargo-girder.yaml"
	_, drawing, _ := command(t, "extract", base, "--as", "drawing")
	_, pivots, _ := command(t, "extract", base, "--as", "table")
	for name, c := range map[string]struct{ file, text, want string }{
		"not a drawing":       {"x.dxf", "hello\nworld\n", `x.dxf:1: "hello"; expected a group code`},
		"cut":                 {"x.dxf", drawing[:len(drawing)/2], "the file ends"},
		"binary":              {"x.dxf", "AutoCAD Binary DXF\r\n\x1a\x00", "save it as ASCII DXF"},
		"of another program":  {"x.dxf", "AC1032\x00\x00", "a DWG file"},
		"no number":           {"x.dxf", strings.Replace(drawing, "POINT\n", "POINT\n 10\nabout here\n", 1), `"about here"; expected a number`},
		"unit":                {"x.dxf", strings.Replace(drawing, "$INSUNITS\n 70\n4", "$INSUNITS\n 70\n13", 1), `units "13"; expected $INSUNITS 4`},
		"layer gone":          {"x.dxf", strings.ReplaceAll(drawing, "PIVOT_LOWER_REAR", "OTHER"), `layer PIVOT_LOWER_REAR, pivot "lower_rear": no POINT or CIRCLE`},
		"half moved":          {"x.dxf", halfMoved(drawing), "move all of a pivot"},
		"inches":              {"x.dxf", strings.Replace(drawing, "$INSUNITS\n 70\n4", "$INSUNITS\n 70\n1", 1), "the axle is"},
		"empty table":         {"x.csv", "", "no table of pivots"},
		"columns":             {"x.csv", "point,x,y\naxle,1,2\n", "x.csv:1: columns"},
		"unknown point":       {"x.csv", strings.Replace(pivots, "\nlower_rear", "\nlower_raer", 1), `point "lower_raer"; mechanism "girder" has axle`},
		"twice":               {"x.csv", pivots + strings.Split(pivots, "\n")[2] + "\n", "is there twice"},
		"no place":            {"x.csv", strings.Replace(pivots, "27.9000", "here", 1), `along_mm "here"; expected a number`},
		"two changes":         {"x.csv", strings.Replace(strings.Replace(pivots, "27.9000", "28.9", 1), ",1189.5438,", ",1199.5,", 1), "change one of the two pairs"},
		"axle":                {"x.csv", "name,along_mm,ahead_mm\naxle,410,38\n", "the axle is 2 mm from where"},
		"not finite":          {"x.csv", "name,along_mm,ahead_mm\nlower_rear,NaN,58\n", "expected a number"},
		"other ending":        {"x.txt", drawing, "expected the name of a drawing (.dxf) or of a table of pivots (.csv)"},
		"stroke over the eye": {"x.csv", "name,along_mm,ahead_mm\nshock_lower,-180,100\n", "shock.stroke_mm"},
	} {
		from := filepath.Join(t.TempDir(), c.file)
		if err := os.WriteFile(from, []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		code, out, said := command(t, "concept", base, "--from", from)
		if code != process.Input || out != "" || !strings.Contains(said, c.want) {
			t.Errorf("%s: exit %d, %q; want %q", name, code, said, c.want)
		}
	}
	if code, _, said := command(t, "concept", base); code != process.Input || !strings.Contains(said, "--from FILE is required") {
		t.Errorf("without --from: exit %d, %q", code, said)
	}
	if code, _, _ := command(t, "concept", base, "--from", filepath.Join(t.TempDir(), "none.dxf")); code != process.Input {
		t.Errorf("a drawing that is not there: exit %d", code)
	}
}

// halfMoved moves the mark of a pivot and leaves its circle.
func halfMoved(drawing string) string {
	_, rest, _ := strings.Cut(drawing, "PIVOT_LOWER_REAR\n100\nAcDbPoint\n 10\n")
	x, _, _ := strings.Cut(rest, "\n")
	return strings.Replace(drawing, "AcDbPoint\n 10\n"+x, "AcDbPoint\n 10\n"+fmt.Sprint(1), 1)
}
