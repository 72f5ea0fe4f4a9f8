package files

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
)

// JobStart is an existing concept to search around: its mechanism, with its points as measured, each
// with how far it may move.
type JobStart struct {
	Concept        string             `yaml:"concept" jsonschema:"required" jsonschema_description:"path of a concept file"`
	WithinMM       float64            `yaml:"within_mm" jsonschema:"minimum=0" default:"10" jsonschema_description:"how far each point may move along and ahead; ball joints on the steering axis move only along"`
	Hold           []string           `yaml:"hold" jsonschema_description:"bodies that exist already: all their points stay where they are"`
	PointsWithinMM map[string]float64 `yaml:"points_within_mm" jsonschema_description:"exceptions for individual points; 0 fixes a point. One eye of the shock moves about the other at the shock's length: the upper one if shock_lower is fixed"`

	Name      string            `yaml:"-"`          // of the concept
	Around    JobMechanism      `yaml:"-"`          // the mechanism, with bounds about the concept's points
	OwnShock  sections.JobShock `yaml:"-"`          // the concept's, for a job that lists none
	Positions []Position        `yaml:"-"`          // of the concept's points
	File      *ConceptFile      `yaml:"-" json:"-"` // as it was read; nil in a job that is resumed
}

// Position is a named point at top-out.
type Position struct {
	Name string
	At   sections.Point
}

// check reads the concept and sets the bounds about its points.
func (st *JobStart) check(s *document.Source, path string, j *JobFile) {
	if st.Concept == "" {
		return // noted already
	}
	name := st.Concept
	if !filepath.IsAbs(name) {
		name = filepath.Join(document.Folder(s.File), name)
	}
	in, err := os.Open(name)
	if err != nil {
		s.At(path+".concept", "%q could not be read: %v", st.Concept, err)
		return
	}
	defer in.Close()
	c, _, err := ReadConcept(name, in)
	if err != nil {
		s.At(path+".concept", "%v", err)
		return
	}
	m := Compile(c.Spec)
	for _, point := range s.Keys(path + ".points_within_mm") {
		if _, there := c.PointsMM[point]; !there {
			s.At(path+".points_within_mm."+point, "unknown point; %s", document.Suggest(point, m.RequiredPoints()))
		} else if st.PointsWithinMM[point] < 0 {
			s.At(path+".points_within_mm."+point, "%g; must be 0 or more", st.PointsWithinMM[point])
		} else if body := st.heldBy(m, point); body != "" && st.PointsWithinMM[point] > 0 {
			s.At(path+".points_within_mm."+point, "%g; the point is on %s, which hold keeps as it is; use one of the two", st.PointsWithinMM[point], body)
		}
	}
	for i, body := range st.Hold {
		if !slices.Contains(m.Bodies, body) {
			s.At(document.Item(path+".hold", i), "%q is not a body of %s; %s", body, m.Name, document.Suggest(body, m.Bodies))
		}
	}
	for i := range j.Bikes {
		if b := &j.Bikes[i]; math.Abs(b.AxleToCrownMM-c.Bike.AxleToCrownMM) > 0.01 || math.Abs(b.ForkOffsetMM-c.Bike.ForkOffsetMM) > 0.01 {
			s.At(path+".concept", "%s is for an axle at [%g, %g]; %s has it at [%g, %g]", c.Concept,
				c.Bike.AxleToCrownMM, c.Bike.ForkOffsetMM, j.BikeName(i), b.AxleToCrownMM, b.ForkOffsetMM)
		}
	}
	st.Name, st.File = c.Concept, c
	st.around(c, m)
	if len(j.Start) == 1 && len(j.Mechanisms) == 0 {
		j.inherit(s, c)
	}
}

// inherit takes what a job leaves out from the one concept that it starts from: otherwise a search near a fork would
// evaluate it with another package, other loads or another sag than its own file.
func (j *JobFile) inherit(s *document.Source, c *ConceptFile) {
	for _, common := range j.common(c) {
		key := common.key
		if key != "package" && !s.Has(key) {
			common.job.Set(common.concept)
		}
	}
	if !s.Has("materials") {
		j.Materials = []sections.Material{c.Material}
	}
	if !s.Has("package") && !s.Has("packages") {
		j.Package = c.Package
	}
}

// around makes the bounds. One of the shock's eyes has polar coordinates, so that the shock keeps its length: the
// lower one, or the upper one where the lower is fixed. Ball joints stay at their distance ahead, which keeps the
// steering axis where it is.
func (st *JobStart) around(c *ConceptFile, m *mechanism.Mechanism) {
	st.Around = JobMechanism{Mechanism: c.Mechanism, ShockCount: 1, BoundsMM: map[string]Bounds{}, Spec: c.Spec, Across: c.Across}
	if c.Shock != nil {
		st.Around.ShockCount = c.Shock.Count
	}
	polar := st.polar(m)
	lowerBall, upperBall, balls := m.Balls()
	for name, p := range c.PointsMM {
		st.Positions = append(st.Positions, Position{name, p})
		if name == polar {
			continue
		}
		by := st.within(m, name)
		b := Bounds{Along: sections.Range{Low: p[0] - by, High: p[0] + by}, Ahead: sections.Range{Low: p[1] - by, High: p[1] + by}}
		if i := m.Point(name); balls && (i == lowerBall || i == upperBall) {
			b.Ahead = sections.Range{Low: p[1], High: p[1]}
		}
		st.Around.BoundsMM[name] = b
	}
	slices.SortFunc(st.Positions, func(a, b Position) int { return strings.Compare(a.Name, b.Name) })
	if !m.HasShock() {
		return
	}
	upper, lower := c.PointsMM[scheme.PointShockUpper], c.PointsMM[scheme.PointShockLower]
	length := math.Hypot(lower[0]-upper[0], lower[1]-upper[1])
	angle := math.Atan2(lower[1]-upper[1], lower[0]-upper[0])
	turn := st.within(m, polar) / length
	st.Around.ShockAngleRad = &sections.Range{Low: angle - turn, High: angle + turn}
	stroke := strokeOf(c, length)
	st.OwnShock = sections.JobShock{Name: fmt.Sprintf("%.4gx%.4g", length, stroke), EyeToEyeMM: length, StrokeMM: stroke}
	st.OwnShock.Spring = "coil"
	if c.Shock != nil {
		st.OwnShock.ShockProperties = c.Shock.ShockProperties
	}
}

// polar is the eye of the shock that has an angle; empty without a shock.
func (st *JobStart) polar(m *mechanism.Mechanism) string {
	switch {
	case !m.HasShock():
		return ""
	case st.within(m, scheme.PointShockLower) == 0 && st.within(m, scheme.PointShockUpper) > 0:
		return scheme.PointShockUpper
	}
	return scheme.PointShockLower
}

// strokeOf is the concept's stroke, or the one that a concept without gets.
func strokeOf(c *ConceptFile, length float64) float64 {
	if c.Shock != nil && c.Shock.StrokeMM > 0 {
		return c.Shock.StrokeMM
	}
	return sections.StrokeShare * length
}

// within is how far a point may move to either side, along and ahead, mm.
func (st *JobStart) within(m *mechanism.Mechanism, point string) float64 {
	if st.heldBy(m, point) != "" {
		return 0
	}
	if by, there := st.PointsWithinMM[point]; there {
		return by
	}
	return st.WithinMM
}

// heldBy is the body by which a point is held, or empty.
func (st *JobStart) heldBy(m *mechanism.Mechanism, point string) string {
	i := m.Point(point)
	if i < 0 {
		return ""
	}
	for _, body := range m.PointBodies(i) {
		if slices.Contains(st.Hold, body) {
			return body
		}
	}
	return ""
}
