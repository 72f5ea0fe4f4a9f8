package files

import (
	"reflect"

	"github.com/invopop/jsonschema"
	"go.yaml.in/yaml/v4"

	"forkfront/jobs/files/document"
)

// Members are the straight members of each body, or the word least.
type Members struct {
	Least bool
	Of    map[string][][2]string // by body, from point to point
}

// leastMembers is the word for the shortest tree.
const leastMembers = "least"

// Read reads both forms.
func (v *Members) Read(s *document.Source, path string, n *yaml.Node) {
	switch {
	case n.Kind == yaml.ScalarNode && n.Value == leastMembers:
		v.Least = true
	case n.Kind == yaml.MappingNode:
		s.Value(path, n, reflect.ValueOf(&v.Of).Elem(), nil)
	default:
		s.At(path, "%s; expected least, or the members of each body as {BODY: [[from, to], …]}", document.Said(n))
	}
}

// Node is the form that was read.
func (v Members) Node() *yaml.Node {
	if v.Least {
		return document.NodeOf(reflect.ValueOf(leastMembers))
	}
	return document.NodeOf(reflect.ValueOf(v.Of))
}

// JSONSchema describes both forms.
func (Members) JSONSchema() *jsonschema.Schema {
	two := uint64(2)
	pair := &jsonschema.Schema{Type: "array", Items: &jsonschema.Schema{Type: "string"}, MinItems: &two, MaxItems: &two}
	return &jsonschema.Schema{OneOf: []*jsonschema.Schema{
		{Type: "string", Enum: []any{leastMembers}},
		{Type: "object", AdditionalProperties: &jsonschema.Schema{Type: "array", Items: pair}},
	}}
}
