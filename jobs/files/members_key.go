package files

import (
	"reflect"

	"github.com/invopop/jsonschema"
	"go.yaml.in/yaml/v4"

	"forkfront/jobs/files/document"
	"forkfront/kinematics/scheme"
)

// Members are the straight members of each body, or the word least for all.
type Members struct {
	Least bool
	Of    map[string]BodyMembers
}

// BodyMembers are the straight members of one body, from point to point, or the word least.
type BodyMembers struct {
	Least  bool
	Listed [][2]string
}

// leastMembers is the word for the shortest tree.
const leastMembers = "least"

// Read reads both forms.
func (v *Members) Read(s *document.Source, path string, n *yaml.Node) {
	readLeastOr(s, path, n, &v.Least, yaml.MappingNode, &v.Of, "the members of each body as {BODY: [[from, to], …]}")
}

// Read reads both forms.
func (v *BodyMembers) Read(s *document.Source, path string, n *yaml.Node) {
	readLeastOr(s, path, n, &v.Least, yaml.SequenceNode, &v.Listed, "members as [[from, to], …]")
}

// readLeastOr reads the word least, or what a node of another kind holds.
func readLeastOr(s *document.Source, path string, n *yaml.Node, least *bool, kind yaml.Kind, other any, expected string) {
	switch {
	case n.Kind == yaml.ScalarNode && n.Value == leastMembers:
		*least = true
	case n.Kind == kind:
		s.Value(path, n, reflect.ValueOf(other).Elem(), nil)
	default:
		s.At(path, "%s; expected least, or %s", document.Said(n), expected)
	}
}

// Node is the form that was read.
func (v Members) Node() *yaml.Node { return leastOrNode(v.Least, v.Of) }

// Node is the form that was read.
func (v BodyMembers) Node() *yaml.Node { return leastOrNode(v.Least, v.Listed) }

func leastOrNode(least bool, other any) *yaml.Node {
	if least {
		other = leastMembers
	}
	return document.NodeOf(reflect.ValueOf(other))
}

// JSONSchema describes both forms.
func (Members) JSONSchema() *jsonschema.Schema {
	return leastOr(&jsonschema.Schema{Type: "object", AdditionalProperties: BodyMembers{}.JSONSchema()})
}

// JSONSchema describes both forms.
func (BodyMembers) JSONSchema() *jsonschema.Schema {
	two := uint64(2)
	pair := &jsonschema.Schema{Type: "array", Items: &jsonschema.Schema{Type: "string"}, MinItems: &two, MaxItems: &two}
	return leastOr(&jsonschema.Schema{Type: "array", Items: pair})
}

func leastOr(other *jsonschema.Schema) *jsonschema.Schema {
	return &jsonschema.Schema{OneOf: []*jsonschema.Schema{{Type: "string", Enum: []any{leastMembers}}, other}}
}

// set puts the members into a spec. A body that is left out has none, but not beside others with least, where that would be
// taken for a body that is to have them.
func (v *Members) set(s *document.Source, spec *scheme.MechanismSpec) {
	spec.Least = v.Least
	for _, body := range s.Keys("members") {
		of := v.Of[body]
		spec.Least = spec.Least || of.Least
		for _, ends := range of.Listed {
			spec.Members = append(spec.Members, scheme.MemberSpec{Body: body, From: ends[0], To: ends[1]})
		}
	}
	if !spec.Least || v.Least {
		return
	}
	for _, body := range spec.Bodies {
		of, has := v.Of[body]
		if !isFrame(spec, body) && !of.Least && len(of.Listed) == 0 {
			path := "members"
			if has {
				path += "." + body
			}
			s.At(path, "no members of %s; expected least or a list for each body, as others have least", body)
		}
	}
}

// isFrame tells whether a body is a ground that is part of the frame, and so has no members.
func isFrame(spec *scheme.MechanismSpec, body string) bool {
	return body == spec.Ground && len(spec.Steering) > 0
}

// membersOf is what a spec says of members.
func membersOf(spec *scheme.MechanismSpec) (v Members) {
	if spec.Least && len(spec.Members) == 0 {
		return Members{Least: true}
	}
	for _, m := range spec.Members {
		if v.Of == nil {
			v.Of = map[string]BodyMembers{}
		}
		of := v.Of[m.Body]
		of.Listed = append(of.Listed, [2]string{m.From, m.To})
		v.Of[m.Body] = of
	}
	for _, body := range spec.Bodies {
		if spec.Least && !isFrame(spec, body) && v.Of[body].Listed == nil {
			v.Of[body] = BodyMembers{Least: true}
		}
	}
	return v
}
