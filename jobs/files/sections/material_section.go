package sections

import (
	"fmt"
	"reflect"
	"strings"

	"github.com/invopop/jsonschema"
	"go.yaml.in/yaml/v4"

	"forkfront/jobs/files/document"
	"forkfront/objectives/fork"
)

// Material is the name of a built-in material, or a material of one's own with its values.
type Material struct {
	Name        string  `yaml:"name" jsonschema:"required" jsonschema_description:"a name"`
	YoungGPa    float64 `yaml:"young_gpa" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"modulus of elasticity"`
	DensityKGM3 float64 `yaml:"density_kg_m3" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"density"`
	YieldMPa    float64 `yaml:"yield_mpa" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"yield strength in the condition of the finished fork, welded or not"`
}

// ownMaterial is the mapping form, read as any other mapping.
type ownMaterial Material

// Read reads both forms.
func (m *Material) Read(s *document.Source, path string, n *yaml.Node) {
	if n.Kind == yaml.MappingNode {
		var own ownMaterial
		s.Mapping(path, n, reflect.ValueOf(&own).Elem())
		*m = Material(own)
		return
	}
	known := fork.MaterialNamed(n.Value) // 4130 reads as a number
	if n.Kind != yaml.ScalarNode || known == nil {
		s.At(path, "%s; expected a built-in material (%s), or a custom one with name, young_gpa, density_kg_m3 and yield_mpa", document.Said(n), materialNames())
		return
	}
	*m = Material{known.Name, known.YoungMPa / 1000, known.DensityKGM3, known.YieldMPa}
}

// Model is the material in the units of the model: Young's modulus in MPa.
func (m *Material) Model() *fork.Material {
	return &fork.Material{Name: m.Name, YoungMPa: m.YoungGPa * 1000, DensityKGM3: m.DensityKGM3, YieldMPa: m.YieldMPa}
}

func materialNames() string {
	var names []string
	for i := range fork.Materials {
		names = append(names, fork.Materials[i].Name)
	}
	return strings.Join(names, ", ")
}

// JSONSchema describes both forms.
func (Material) JSONSchema() *jsonschema.Schema {
	r := jsonschema.Reflector{FieldNameTag: "yaml", RequiredFromJSONSchemaTags: true, ExpandedStruct: true, Anonymous: true, DoNotReference: true}
	mapping := r.Reflect(&ownMaterial{})
	mapping.Version = ""
	named := &jsonschema.Schema{Type: "string"}
	number := &jsonschema.Schema{Type: "integer"}
	for i := range fork.Materials {
		named.Enum = append(named.Enum, fork.Materials[i].Name)
	}
	number.Enum = []any{4130}
	return &jsonschema.Schema{
		Description: fmt.Sprintf("a built-in material (MIL-HDBK-5J: %s), or a custom one", materialNames()),
		OneOf:       []*jsonschema.Schema{named, number, mapping},
	}
}
