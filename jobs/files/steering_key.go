package files

import (
	"fmt"

	"github.com/invopop/jsonschema"
	"go.yaml.in/yaml/v4"

	"forkfront/jobs/files/document"
)

// Steering is the word ground, or the two ball joints [lower, upper] that the axis runs through.
type Steering []string

// Read reads both forms.
func (v *Steering) Read(s *document.Source, path string, n *yaml.Node) {
	if n.Kind == yaml.ScalarNode && n.Value == "ground" {
		*v = nil
		return
	}
	if n.Kind != yaml.SequenceNode || len(n.Content) != 2 {
		s.At(path, "%s; expected ground or [lower_ball, upper_ball]", document.Said(n))
		return
	}
	for i, c := range n.Content {
		if c.Kind != yaml.ScalarNode || c.ShortTag() != "!!str" {
			s.At(fmt.Sprintf("%s[%d]", path, i), "%s; expected the name of a point", document.Said(c))
			return
		}
		*v = append(*v, c.Value)
	}
}

// JSONSchema describes both forms.
func (Steering) JSONSchema() *jsonschema.Schema {
	two := uint64(2)
	return &jsonschema.Schema{OneOf: []*jsonschema.Schema{
		{Type: "string", Enum: []any{"ground"}},
		{Type: "array", Items: &jsonschema.Schema{Type: "string"}, MinItems: &two, MaxItems: &two},
	}}
}
