package files

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"github.com/invopop/jsonschema"
	"go.yaml.in/yaml/v4"

	"forkfront/jobs/files/document"
)

// Schema writes the JSON Schema (2020-12) of the files of one kind: job, concept or mechanism. It follows from the
// same tags as the decoder. What it cannot express, such as a lower bound above the upper one, only the decoder
// refuses.
func Schema(kind string) ([]byte, error) {
	files := map[string]any{"job": &JobFile{}, "concept": &ConceptFile{}, "mechanism": &MechanismFile{}}
	file, ok := files[kind]
	if !ok {
		return nil, fmt.Errorf("schema %q: allowed are job, concept, mechanism", kind)
	}
	r := jsonschema.Reflector{FieldNameTag: "yaml", RequiredFromJSONSchemaTags: true, ExpandedStruct: true, Anonymous: true, Mapper: seedSchema}
	schema := r.Reflect(file)
	schema.Title = "forkfront " + kind
	t := reflect.TypeOf(file).Elem()
	defaults(schema, t)
	for name, d := range schema.Definitions {
		if part := partOf(t, name); part != nil {
			defaults(d, part)
		}
		listMeasures(d)
	}
	return json.MarshalIndent(schema, "", "  ")
}

// seedSchema says what an unsigned number allows: what the tables can hold. The reflector calls it an integer
// only.
func seedSchema(t reflect.Type) *jsonschema.Schema {
	if t.Kind() != reflect.Uint64 {
		return nil
	}
	return &jsonschema.Schema{Type: "integer", Minimum: json.Number("0"), Maximum: json.Number(strconv.Itoa(math.MaxInt64))}
}

// defaults writes the default tags of a struct into its schema.
func defaults(schema *jsonschema.Schema, t reflect.Type) {
	for _, f := range document.FieldsOf(t) {
		text := f.Tag.Get("default")
		if schema.Properties == nil || text == "" {
			continue
		}
		property, ok := schema.Properties.Get(f.Key)
		var v any
		if err := yaml.Unmarshal([]byte(text), &v); ok && err == nil {
			property.Default = v
		}
	}
}

// partOf finds the struct of a name within another.
func partOf(t reflect.Type, name string) reflect.Type {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Map || t.Kind() == reflect.Array {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || !strings.HasPrefix(t.PkgPath(), "forkfront/jobs") || reflect.PointerTo(t).Implements(reflect.TypeFor[document.Custom]()) {
		return nil
	}
	if t.Name() == name {
		return t
	}
	for _, f := range document.FieldsOf(t) {
		if part := partOf(f.Type, name); part != nil {
			return part
		}
	}
	return nil
}
