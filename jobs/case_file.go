package jobs

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/google/renameio/v2"

	"forkfront/kinematics"
	"forkfront/objectives"
	"forkfront/results"
)

// casesFile keeps in a results folder what the candidates of each case share, so that one row of
// front.parquet is enough to have a fork again.
type casesFile struct {
	Version int        `yaml:"schema_version" jsonschema:"required"`
	Cases   []caseFile `yaml:"cases" jsonschema:"required,minItems=1"`
}

// caseFile is one case: its concept, in which the points that the search places are at some place; the
// shocks and materials that it chose from; and its mechanism, where that is not built in.
type caseFile struct {
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
	file := casesFile{Version: results.SchemaVersion}
	for _, x := range found {
		one := caseFile{Name: x.c.Name, Concept: x.c.Template, Materials: x.c.Choices}
		for _, k := range x.c.Shocks {
			if x.c.Mechanism.HasShock() {
				one.Shocks = append(one.Shocks, k.JobShock)
			}
		}
		if !slices.Contains(BuiltIns(), x.c.Template.Mechanism) {
			own := mechanismFile(&x.c.Template.Spec)
			one.Mechanism, one.Concept.Mechanism = &own, own.Mechanism
		}
		file.Cases = append(file.Cases, one)
	}
	text, err := Encode(&file)
	if err == nil {
		err = renameio.WriteFile(f.Path(results.CasesFile), text, 0o644, renameio.WithTempDir(f.Dir))
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", results.CasesFile, err)
	}
	return nil
}

// readCases reads a cases.yaml; the mechanism of each case is compiled.
func readCases(path string) (*casesFile, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("the folder does not say what its candidates share: %w", err)
	}
	s, err := open(path, bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	var file casesFile
	s.decode(&file)
	if s.root != nil && file.Version != results.SchemaVersion {
		s.At("schema_version", "%d; this forkfront reads version %d", file.Version, results.SchemaVersion)
	}
	for i := range file.Cases {
		c := &file.Cases[i]
		at := item("cases", i) + ".concept.mechanism"
		switch {
		case c.Mechanism != nil:
			c.Concept.Spec = c.Mechanism.spec(s.under(item("cases", i) + ".mechanism"))
		case slices.Contains(BuiltIns(), c.Concept.Mechanism):
			s.mechanism(at, c.Concept.Mechanism, &c.Concept.Spec)
		default: // results hold all that they need: no other file is read for them
			s.At(at, "%q is not built in, and the file does not have it beside its concept; allowed are %s", c.Concept.Mechanism, strings.Join(BuiltIns(), ", "))
		}
	}
	return &file, s.Err()
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
