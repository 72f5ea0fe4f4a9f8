package files

import (
	"fmt"
	"math"
	"reflect"
	"slices"

	"github.com/invopop/jsonschema"
	"go.yaml.in/yaml/v4"

	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/topology"
)

// ShockPairs are the pairs of bodies that a job has the shock of a mechanism between, in turn.
type ShockPairs struct {
	All   bool        // every pair that leaves no body without load
	Pairs [][2]string // the body of the upper eye first
}

// allPairs is the word for all of them.
const allPairs = "all"

// Read reads both forms.
func (p *ShockPairs) Read(s *document.Source, path string, n *yaml.Node) {
	wrong := func(n *yaml.Node, path string) {
		s.At(path, "%s; expected all, [body, body], or a list of such pairs", document.Said(n))
	}
	switch {
	case n.Kind == yaml.ScalarNode && n.Value == allPairs:
		p.All = true
		return
	case n.Kind != yaml.SequenceNode || len(n.Content) == 0:
		wrong(n, path)
		return
	}
	if n.Content[0].Kind == yaml.ScalarNode { // one pair
		p.Pairs = make([][2]string, 1)
		s.Value(path, n, reflect.ValueOf(&p.Pairs[0]).Elem(), nil)
		return
	}
	for i, pair := range n.Content {
		at := document.Item(path, i)
		if pair.Kind != yaml.SequenceNode {
			wrong(pair, at)
			continue
		}
		var bodies [2]string
		s.Value(at, pair, reflect.ValueOf(&bodies).Elem(), nil)
		p.Pairs = append(p.Pairs, bodies)
	}
}

// Node is the shorter of both forms.
func (p ShockPairs) Node() *yaml.Node {
	if p.All {
		return document.NodeOf(reflect.ValueOf(allPairs))
	}
	return document.NodeOf(reflect.ValueOf(p.Pairs))
}

// label tells a job's mechanisms apart.
func (jm *JobMechanism) label() string {
	switch p := jm.ShockBetween; {
	case p == nil:
		return jm.Mechanism
	case p.All:
		return jm.Mechanism + " " + allPairs
	default:
		return fmt.Sprintf("%s %s", jm.Mechanism, p.Pairs)
	}
}

// JSONSchema describes the three forms.
func (ShockPairs) JSONSchema() *jsonschema.Schema {
	two, one := uint64(2), uint64(1)
	pair := &jsonschema.Schema{Type: "array", Items: &jsonschema.Schema{Type: "string"}, MinItems: &two, MaxItems: &two}
	return &jsonschema.Schema{
		Description: "all, one pair of bodies, or a list of pairs",
		OneOf:       []*jsonschema.Schema{{Type: "string", Enum: []any{allPairs}}, pair, {Type: "array", Items: pair, MinItems: &one}},
	}
}

// addShockPairs turns each mechanism with pairs for its shock into one mechanism per pair, which is all that the rest of
// the program sees.
func (j *JobFile) addShockPairs(s *document.Source) {
	var all []JobMechanism
	for i := range j.Mechanisms {
		jm := &j.Mechanisms[i]
		at := document.Item("mechanisms", i)
		if jm.ShockBetween == nil {
			all = append(all, *jm)
			continue
		}
		pairs := jm.ShockBetween
		jm.ShockBetween = nil
		if jm.Spec.Name == "" || s.Faulty(at) {
			all = append(all, *jm)
			continue // of values that the variants would repeat
		}
		axle := sections.Point{}
		if len(j.Bikes) > 0 {
			axle = sections.Point{j.Bikes[0].AxleToCrownMM, j.Bikes[0].ForkOffsetMM}
		}
		all = append(all, jm.variants(s, at+".shock_between", pairs, axle)...)
	}
	j.Mechanisms = all
}

// variants are the mechanism with its shock between each pair.
func (jm *JobMechanism) variants(s *document.Source, at string, pairs *ShockPairs, axle sections.Point) (all []JobMechanism) {
	own := jm.Spec.Shock
	if own == [2]string{} {
		s.At(at, "mechanism %q drives no shock; remove it", jm.Spec.Name)
		return nil
	}
	listed := pairs.Pairs
	if pairs.All {
		listed = pairsOf(&jm.Spec)
	}
	for i, p := range listed {
		path := at
		if len(listed) > 1 && !pairs.All {
			path = document.Item(at, i)
		}
		spec, reason := jm.between(p)
		switch {
		case reason == "" && slices.Contains(listed[:i], p), reason == "" && slices.Contains(listed[:i], [2]string{p[1], p[0]}):
			s.At(path, "%s and %s; this pair is listed twice", p[0], p[1])
		case reason == "":
			// One pair has the entry's ranges to itself.
			all = append(all, jm.variant(spec, len(listed) == 1, axle))
		case !pairs.All:
			s.At(path, "%s", reason)
		}
	}
	return all
}

// pairsOf lists all pairs of bodies. The mechanism's own is as it has it; of the others, the body nearer to the ground is
// first.
func pairsOf(spec *scheme.MechanismSpec) (all [][2]string) {
	near := distances(spec)
	for i, a := range spec.Bodies {
		for _, b := range spec.Bodies[i+1:] {
			p := [2]string{a, b}
			if near[b] < near[a] || spec.Shock == [2]string{b, a} {
				p = [2]string{b, a}
			}
			all = append(all, p)
		}
	}
	return all
}

// distances are how many joints each body is away from the ground.
func distances(spec *scheme.MechanismSpec) map[string]int {
	near := map[string]int{spec.Ground: 0}
	joints := [][]string{}
	for _, p := range spec.Pivots {
		joints = append(joints, p.Bodies)
	}
	for i := range spec.Slides {
		joints = append(joints, spec.Slides[i].Bodies[:])
	}
	for d := 0; d < len(spec.Bodies); d++ {
		for _, on := range joints {
			if !slices.ContainsFunc(on, func(b string) bool { n, known := near[b]; return known && n == d }) {
				continue
			}
			for _, b := range on {
				if _, known := near[b]; !known {
					near[b] = d + 1
				}
			}
		}
	}
	return near
}

// between is the mechanism with its shock between two bodies, or why there is none.
func (jm *JobMechanism) between(p [2]string) (spec scheme.MechanismSpec, reason string) {
	for _, body := range p {
		if !slices.Contains(jm.Spec.Bodies, body) {
			return spec, fmt.Sprintf("%q is not a body of %s; %s", body, jm.Spec.Name, document.Suggest(body, jm.Spec.Bodies))
		}
	}
	spec = jm.Spec.Between(p[0], p[1])
	if _, faults := mechanism.Compile(spec); len(faults) > 0 {
		return spec, faults[0].Text
	}
	// What has no topology of its own, such as a pin through three bodies, is not tried for bodies without load.
	if _, err := topology.Of(&jm.Spec); err == nil {
		if _, err := topology.Of(&spec); err != nil {
			return spec, fmt.Sprintf("with the shock between %s and %s, %v", p[0], p[1], err)
		}
	}
	return spec, ""
}

// variant is the entry with another spec. The ranges of the shock are its own where the shock has them to itself or where the eye stays on its
// body; else the upper eye may be where the other points of its body may be, and the lower one in any direction.
func (jm *JobMechanism) variant(spec scheme.MechanismSpec, alone bool, axle sections.Point) JobMechanism {
	v := *jm
	v.Mechanism, v.Spec = spec.Name, spec
	if alone || spec.Shock == jm.Spec.Shock {
		return v
	}
	v.ShockAngleRad = &sections.Range{Low: -math.Pi, High: math.Pi}
	if spec.Shock[0] != jm.Spec.Shock[0] {
		v.BoundsMM = map[string]Bounds{}
		for name, b := range jm.BoundsMM {
			v.BoundsMM[name] = b
		}
		v.BoundsMM[scheme.PointShockUpper] = jm.around(spec.Shock[0], axle)
	}
	return v
}

// around is the smallest range that has those of the pivots of a body. The axle counts where there are fewer than two.
func (jm *JobMechanism) around(body string, axle sections.Point) Bounds {
	m := Compile(jm.Spec)
	var on []Bounds
	for i, name := range m.Points {
		b, given := jm.BoundsMM[name]
		if given && name != scheme.PointShockUpper && name != scheme.PointRoot && slices.Contains(m.PointBodies(i), body) {
			on = append(on, b)
		}
	}
	if len(on) < 2 && slices.Contains(m.PointBodies(m.Point(scheme.PointAxle)), body) {
		on = append(on, Bounds{Along: sections.Range{Low: axle[0], High: axle[0]}, Ahead: sections.Range{Low: axle[1], High: axle[1]}})
	}
	if len(on) == 0 { // a body that is only on a slide
		return jm.BoundsMM[scheme.PointShockUpper]
	}
	hull := on[0]
	for _, b := range on[1:] {
		hull.Along = sections.Range{Low: math.Min(hull.Along.Low, b.Along.Low), High: math.Max(hull.Along.High, b.Along.High)}
		hull.Ahead = sections.Range{Low: math.Min(hull.Ahead.Low, b.Ahead.Low), High: math.Max(hull.Ahead.High, b.Ahead.High)}
	}
	return hull
}
