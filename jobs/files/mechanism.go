package files

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"forkfront/jobs/files/document"
	"forkfront/jobs/mechanisms"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
)

// MechanismFile is a mechanism: bodies, points and their connections by name, without coordinates.
type MechanismFile struct {
	Mechanism string               `yaml:"mechanism" jsonschema:"required" jsonschema_description:"a name"`
	Ground    string               `yaml:"ground" jsonschema:"required" jsonschema_description:"the body that does not move"`
	Steering  Steering             `yaml:"steering" default:"ground" jsonschema_description:"ground: the whole mechanism turns with the steerer; or the points [lower_ball, upper_ball] of the steering axis"`
	Bodies    []string             `yaml:"bodies" jsonschema:"required,minItems=2" jsonschema_description:"all bodies, including the ground"`
	Pivots    map[string][]string  `yaml:"pivots" jsonschema_description:"the bodies that each pivot joins; a pivot named axle lies on the axle"`
	Slides    map[string]SlideFile `yaml:"slides" jsonschema_description:"sliding pairs"`
	Shafts    map[string]string    `yaml:"shafts" jsonschema_description:"the body that a pivot's shaft is fixed to; by default the one farthest from the mid-plane, of several the one nearest to the ground, then the one that the pivot lists first"`
	Axle      string               `yaml:"axle" jsonschema:"required" jsonschema_description:"body that carries the wheel axle"`
	Brake     string               `yaml:"brake" jsonschema_description:"body that carries the caliper; by default the axle's body"`
	Shock     *[2]string           `yaml:"shock" jsonschema_description:"bodies that carry shock_upper and shock_lower"`
	Members   Members              `yaml:"members" jsonschema_description:"straight members of each body, from point to point. Those of the crown or of rigid legs start at the point root, the underside of the crown. With least, the members of each body are the tree of the least total length over its points at top-out, worked out for each fork; results and exports list what it came to"`
}

// SlideFile lets the second body slide along a line of the first.
type SlideFile struct {
	Bodies  [2]string `yaml:"bodies" jsonschema:"required" jsonschema_description:"the guide and the body that slides along it"`
	Through [2]string `yaml:"through" jsonschema:"required" jsonschema_description:"two points of the guide that the line passes through"`
}

// BuiltIns lists the names of the built-in mechanisms, sorted.
func BuiltIns() []string {
	entries, err := mechanisms.Files.ReadDir(".")
	if err != nil {
		panic("jobs: the built-in mechanisms are not in the program: " + err.Error())
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = strings.TrimSuffix(e.Name(), ".yaml")
	}
	slices.Sort(names)
	return names
}

// ReadMechanism reads, checks and compiles a mechanism file; errors are those of ReadConcept.
func ReadMechanism(name string, r io.Reader) (*mechanism.Mechanism, *document.Source, error) {
	s, err := document.Open(name, r)
	if err != nil {
		return nil, s, err
	}
	var f MechanismFile
	s.Decode(&f)
	if err := s.Err(); err != nil {
		return nil, s, err
	}
	m := CompileAt(s, "", f.Spec(s))
	if err := s.Err(); err != nil {
		return nil, s, err
	}
	return m, s, nil
}

// CompileAt compiles a mechanism and notes its faults; at is the prefix of its paths in the file.
func CompileAt(s *document.Source, at string, spec scheme.MechanismSpec) *mechanism.Mechanism {
	m, faults := mechanism.Compile(spec)
	for _, fault := range faults {
		s.At(at+inFile(spec.Members, fault.Path), "%s", fault.Text)
	}
	return m
}

// inFile is the path of a value as the file has it: a spec numbers all members, a file those of
// each body.
func inFile(members []scheme.MemberSpec, path string) string {
	within := map[string]int{}
	for i, m := range members {
		if path == document.Item("members."+m.Body, i) {
			return document.Item("members."+m.Body, within[m.Body])
		}
		within[m.Body]++
	}
	return path
}

// Spec is the mechanism in the model's terms, in the order of the file.
func (f *MechanismFile) Spec(s *document.Source) scheme.MechanismSpec {
	spec := scheme.MechanismSpec{
		Name: f.Mechanism, Ground: f.Ground, Steering: f.Steering, Bodies: f.Bodies, Axle: f.Axle, Brake: f.Brake,
	}
	for _, name := range s.Keys("pivots") {
		spec.Pivots = append(spec.Pivots, scheme.PivotSpec{Name: name, Bodies: f.Pivots[name]})
	}
	for _, name := range s.Keys("slides") {
		slide := f.Slides[name]
		spec.Slides = append(spec.Slides, scheme.SlideSpec{Name: name, Bodies: slide.Bodies, Through: slide.Through})
	}
	for _, pivot := range s.Keys("shafts") {
		spec.Shafts = append(spec.Shafts, scheme.ShaftSpec{Pivot: pivot, Body: f.Shafts[pivot]})
	}
	f.Members.set(s, &spec)
	if f.Shock != nil {
		spec.Shock = *f.Shock
	}
	return spec
}

// LoadMechanism returns a built-in mechanism by its name, an enumerated one by its code, or one from a file whose path is
// relative to a folder. The error is Faults when the file is wrong.
func LoadMechanism(name, folder string) (*mechanism.Mechanism, error) {
	if slices.Contains(BuiltIns(), name) {
		f, err := mechanisms.Files.Open(name + ".yaml")
		if err != nil {
			return nil, fmt.Errorf("open built-in mechanism: %w", err)
		}
		defer f.Close()
		m, _, err := ReadMechanism(name, f)
		return m, err
	}
	if t, isCode, err := enumerated(name); isCode {
		if err != nil {
			return nil, err
		}
		return Compile(t.Spec()), nil
	}
	path := name
	if !filepath.IsAbs(path) {
		path = filepath.Join(folder, path)
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is not a regular file", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	m, _, err := ReadMechanism(path, f)
	return m, err
}

// MechanismAt loads what the value at a path names. What is wrong with a mechanism file is noted
// with the places in that file.
func MechanismAt(s *document.Source, path, name string, spec *scheme.MechanismSpec) *mechanism.Mechanism {
	if name == "" {
		return nil // noted already
	}
	m, err := LoadMechanism(name, document.Folder(s.File))
	_, code, wrong := enumerated(name)
	var faults document.Faults
	switch {
	case err == nil:
		*spec = m.Spec
		return m
	case errors.As(err, &faults):
		s.Add(faults)
	case code && wrong != nil:
		s.At(path, "%v", wrong)
	case errors.Is(err, os.ErrNotExist):
		s.At(path, "%q is neither a built-in mechanism nor a file; %s", name, document.Suggest(name, BuiltIns()))
	default:
		s.At(path, "%q could not be read: %v", name, err)
	}
	return nil
}

// mechanismOf is the mechanism of a concept or of a job's entry at a path: the one that came with it, else the one
// that it names.
func mechanismOf(s *document.Source, path, name string, spec *scheme.MechanismSpec) *mechanism.Mechanism {
	at := document.Join(path, "mechanism")
	if spec.Name == "" {
		return MechanismAt(s, at, name, spec)
	}
	m, faults := mechanism.Compile(*spec)
	for _, fault := range faults {
		s.At(at, "%s: %s", fault.Path, fault.Text)
	}
	if len(faults) > 0 {
		return nil
	}
	return m
}

// Compile returns a mechanism whose spec was checked when it was read.
func Compile(spec scheme.MechanismSpec) *mechanism.Mechanism {
	m, faults := mechanism.Compile(spec)
	if len(faults) > 0 {
		panic(fmt.Sprintf("jobs: a mechanism that was read does not compile: %v", faults))
	}
	return m
}

// FileOf is a mechanism as a file of its own states it.
func FileOf(spec *scheme.MechanismSpec) MechanismFile {
	f := MechanismFile{
		Mechanism: spec.Name, Ground: spec.Ground, Steering: spec.Steering, Bodies: spec.Bodies, Axle: spec.Axle, Brake: spec.Brake,
		Pivots: map[string][]string{}, Slides: map[string]SlideFile{}, Shafts: map[string]string{}, Members: membersOf(spec),
	}
	for _, p := range spec.Pivots {
		f.Pivots[p.Name] = p.Bodies
	}
	for _, p := range spec.Slides {
		f.Slides[p.Name] = SlideFile{p.Bodies, p.Through}
	}
	for _, p := range spec.Shafts {
		f.Shafts[p.Pivot] = p.Body
	}
	if spec.Shock != [2]string{} {
		f.Shock = &spec.Shock
	}
	return f
}
