package jobs

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/google/renameio/v2"

	"forkfront/kinematics"
	"forkfront/objectives"
	"forkfront/results"
)

// caseFile is a document of cases.yaml, which keeps in a results folder what the candidates of each case
// share, so that one row of front.parquet is enough to have a fork again. It is one case: its concept, in
// which the points that the search places are at some place; the shocks and materials that it chose from;
// and its mechanism, where that is not built in.
//
// A case is a document of its own, so that a sweep of thousands of them is read one by one.
type caseFile struct {
	Version   int            `yaml:"schema_version" jsonschema:"required"`
	Name      string         `yaml:"name" jsonschema:"required"`
	Concept   ConceptFile    `yaml:"concept" jsonschema:"required"`
	Shocks    []JobShock     `yaml:"shocks"`
	Materials []Material     `yaml:"materials"`
	Mechanism *MechanismFile `yaml:"mechanism"`
}

// template is what all candidates of a case share, as a concept. The points of c that are fixed are
// in it, and those that vary at some place within their bounds.
func (j *JobFile) template(bike int, c *Case, jm *JobMechanism) ConceptFile {
	across := jm.Across
	across.Shafts = settled(c)
	t := ConceptFile{
		Concept: c.Name, Bike: j.Bikes[bike], Mechanism: jm.Mechanism, PointsMM: map[string]Point{}, TravelMM: j.TravelMM,
		SagPct: j.SagPct, BrakingG: j.BrakingG, Attitude: j.Attitude, LeverageBand: j.LeverageBand, AntiDiveBand: j.AntiDiveBand,
		CoilRatesNPerMM: j.CoilRatesNPerMM, Spec: jm.Spec, Material: j.Materials[0], Structure: j.Structure, Telescopic: j.Telescopic, Package: j.Package, Across: across,
	}
	for name, b := range jm.BoundsMM {
		t.PointsMM[name] = Point{b.Along.Low, b.Ahead.Low}
	}
	if c.Mechanism.HasShock() {
		first := c.Shocks[0].unit(jm.ShockCount)
		t.Shock = &first
	}
	return t
}

// settled are the shafts as the case has decided on them, at the middle of its bounds: a candidate taken
// out of it would decide by its own place, and could find another.
func settled(c *Case) map[string]string {
	all := map[string]string{}
	for i, kind := range c.Across.Shafts {
		switch name := c.Mechanism.Points[i]; {
		case name == kinematics.PointAxle || name == kinematics.PointRoot:
		case kind == objectives.ShaftThrough:
			all[name] = shaftThrough
		case kind == objectives.ShaftStub:
			all[name] = shaftStub
		}
	}
	return all
}

// writeCases puts cases.yaml into the folder, whole or not at all.
func writeCases(f *results.Folder, found []found) error {
	var text bytes.Buffer
	for i, x := range found {
		one := caseFile{Version: caseVersion, Name: x.c.Name, Concept: x.c.Template, Materials: x.c.Choices}
		for _, k := range x.c.Shocks {
			if x.c.Mechanism.HasShock() {
				one.Shocks = append(one.Shocks, k.JobShock)
			}
		}
		if !slices.Contains(BuiltIns(), x.c.Template.Mechanism) {
			own := mechanismFile(&x.c.Template.Spec)
			one.Mechanism, one.Concept.Mechanism = &own, own.Mechanism
		}
		document, err := Encode(&one)
		if err != nil {
			return fmt.Errorf("write %s: %w", results.CasesFile, err)
		}
		if i > 0 {
			text.WriteString(nextCase + "\n")
		}
		text.Write(document)
	}
	if err := renameio.WriteFile(f.Path(results.CasesFile), text.Bytes(), 0o644, renameio.WithTempDir(f.Dir)); err != nil {
		return fmt.Errorf("write %s: %w", results.CasesFile, err)
	}
	return nil
}

const (
	caseVersion = 2
	nextCase    = "---" // between documents (YAML 1.2.2, 9.1.4)

	// maxCaseBytes is what the longest job comes to where each of its short lists becomes lines of their own.
	maxCaseBytes = 8 * MaxFileBytes
)

// readCases gives the cases of a cases.yaml to do, one after the other; their mechanisms compile.
func readCases(path string, do func(*caseFile)) error {
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("the folder does not say what its candidates share: %w", err)
	}
	defer f.Close()
	lines := bufio.NewReader(f)
	for number := 1; ; number++ {
		document, more, err := untilNextCase(lines)
		if err != nil {
			return fmt.Errorf("read %s: %w", path, err)
		}
		c, err := readCase(fmt.Sprintf("%s (document %d)", path, number), document)
		if err != nil {
			return err
		}
		do(c)
		if !more {
			return nil
		}
	}
}

// untilNextCase reads a document, no further than it takes to see that it is too long, and tells whether another follows.
func untilNextCase(lines *bufio.Reader) (document []byte, more bool, err error) {
	begins := true // what is read next stands at the beginning of a line
	for len(document) <= maxCaseBytes {
		line, err := lines.ReadSlice('\n')
		switch {
		case begins && string(line) == nextCase+"\n":
			return document, true, nil
		case errors.Is(err, io.EOF):
			return append(document, line...), false, nil
		case err != nil && !errors.Is(err, bufio.ErrBufferFull):
			return nil, false, err
		}
		document, begins = append(document, line...), err == nil
	}
	return document, false, nil
}

func readCase(name string, document []byte) (*caseFile, error) {
	s, err := openUpTo(name, bytes.NewReader(document), maxCaseBytes)
	if err != nil {
		return nil, err
	}
	c := new(caseFile)
	s.decode(c)
	if s.root != nil && c.Version != caseVersion {
		s.At("schema_version", "%d; this forkfront reads version %d", c.Version, caseVersion)
	}
	const at = "concept.mechanism"
	switch {
	case s.root == nil: // said already
	case c.Mechanism != nil:
		c.Concept.Spec = c.Mechanism.spec(s.under("mechanism"))
		s.compile("mechanism.", c.Concept.Spec)
	case slices.Contains(BuiltIns(), c.Concept.Mechanism):
		s.mechanism(at, c.Concept.Mechanism, &c.Concept.Spec)
	default: // results hold all that they need: no other file is read for them
		s.At(at, "%q is not built in, and the file does not have it beside its concept; allowed are %s", c.Concept.Mechanism, strings.Join(BuiltIns(), ", "))
	}
	return c, s.Err()
}

// under is the part of a file at a path, as a file of its own.
func (s *Source) under(path string) *Source {
	part := &Source{File: s.File, at: s.at, keys: map[string][]string{}}
	for at, keys := range s.keys {
		if rest, ok := strings.CutPrefix(at, path+"."); ok {
			part.keys[rest] = keys
		}
	}
	return part
}

// mechanismFile is a mechanism as a file of its own states it.
func mechanismFile(spec *kinematics.MechanismSpec) MechanismFile {
	f := MechanismFile{
		Mechanism: spec.Name, Ground: spec.Ground, Steering: spec.Steering, Bodies: spec.Bodies, Axle: spec.Axle, Brake: spec.Brake,
		Pivots: map[string][]string{}, Slides: map[string]SlideFile{}, Members: map[string][][2]string{},
	}
	for _, p := range spec.Pivots {
		f.Pivots[p.Name] = p.Bodies
	}
	for _, p := range spec.Slides {
		f.Slides[p.Name] = SlideFile{p.Bodies, p.Through}
	}
	for _, m := range spec.Members {
		f.Members[m.Body] = append(f.Members[m.Body], [2]string{m.From, m.To})
	}
	if spec.Shock != [2]string{} {
		f.Shock = &spec.Shock
	}
	return f
}
