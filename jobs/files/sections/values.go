package sections

import (
	"reflect"
	"time"

	"github.com/invopop/jsonschema"
	"go.yaml.in/yaml/v4"

	"forkfront/jobs/files/document"
)

// Band is a wanted range [low, high], both ends included.
type Band [2]float64

// Check notes a band whose lower end is above its upper end.
func (b Band) Check(s *document.Source, path string) {
	if b[0] > b[1] {
		s.At(path, "lower bound %g is above upper bound %g; swap them?", b[0], b[1])
	}
}

// CheckRatio notes a band of leverage ratios that is negative, empty or whose ends are exchanged.
func (b Band) CheckRatio(s *document.Source, path string) {
	b.Check(s, path)
	if b[0] < 0 {
		s.At(path, "lower bound %g; must be 0 or more", b[0])
	} else if b[1] == 0 && s.Has(path) {
		s.At(path, "upper bound 0; must be more than 0")
	}
}

// Point is [along, ahead] in the fork frame, in mm.
type Point [2]float64

// Range is what a variable may be: [low, high], or one number where it is fixed (low = high).
type Range struct{ Low, High float64 }

// Fixed tells whether the range is a single value.
func (r Range) Fixed() bool { return r.Low == r.High }

// Read reads both forms.
func (r *Range) Read(s *document.Source, path string, n *yaml.Node) {
	if n.Kind != yaml.SequenceNode {
		if n.Kind != yaml.ScalarNode {
			s.At(path, "%s; expected a number or [low, high]", document.Said(n))
			return
		}
		r.Low, _ = s.Number(path, n)
		r.High = r.Low
		return
	}
	if len(n.Content) != 2 {
		s.At(path, "%d values; expected a number or [low, high]", len(n.Content))
		return
	}
	var ok [2]bool
	r.Low, ok[0] = s.Number(path+"[0]", n.Content[0])
	r.High, ok[1] = s.Number(path+"[1]", n.Content[1])
	if ok[0] && ok[1] && r.Low > r.High {
		s.At(path, "lower bound %g is above upper bound %g; swap them?", r.Low, r.High)
	}
}

// Node is the shorter of both forms.
func (r Range) Node() *yaml.Node {
	if r.Fixed() {
		return document.NodeOf(reflect.ValueOf(r.Low))
	}
	return document.NodeOf(reflect.ValueOf([2]float64{r.Low, r.High}))
}

// JSONSchema describes both forms.
func (Range) JSONSchema() *jsonschema.Schema {
	two := uint64(2)
	number := &jsonschema.Schema{Type: "number"}
	return &jsonschema.Schema{
		Description: "a number if it is fixed, otherwise [low, high]",
		OneOf:       []*jsonschema.Schema{number, {Type: "array", Items: number, MinItems: &two, MaxItems: &two}},
	}
}

// Duration is a length of time such as 90s, 10m or 8h.
type Duration struct{ time.Duration }

// Read reads the text form.
func (d *Duration) Read(s *document.Source, path string, n *yaml.Node) {
	v, err := time.ParseDuration(n.Value)
	if n.Kind != yaml.ScalarNode || err != nil || v <= 0 {
		s.At(path, "%s; expected a time above 0 with its unit, such as 90s, 10m or 8h", document.Said(n))
		return
	}
	d.Duration = v
}

// Node is the text form.
func (d Duration) Node() *yaml.Node { return document.NodeOf(reflect.ValueOf(d.String())) }

// JSONSchema describes the text form.
func (Duration) JSONSchema() *jsonschema.Schema {
	return &jsonschema.Schema{Type: "string", Pattern: `^([0-9]+(\.[0-9]+)?(ms|s|m|h))+$`, Description: "a time with its unit, such as 90s, 10m or 8h"}
}
