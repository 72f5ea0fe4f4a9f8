package jobs

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	validator "github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"forkfront/jobs/files"
)

func compiled(t *testing.T, kind string) *validator.Schema {
	t.Helper()
	text, err := files.Schema(kind)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := validator.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := validator.NewCompiler()
	if err := c.AddResource(kind+".json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile(kind + ".json")
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

func loosely(t *testing.T, path string) any {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := yaml.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// What the decoder takes, the schema takes.
func TestSchemaTakesWhatTheDecoderTakes(t *testing.T) {
	checked := 0
	for _, c := range []struct{ kind, files string }{
		{"job", "examples/demo.yaml"}, {"job", "examples/trail.yaml"}, {"job", "testdata/valid.yaml"}, {"concept", "examples/*-*.yaml"}, {"mechanism", "mechanisms/*.yaml"},
	} {
		schema := compiled(t, c.kind)
		files, _ := filepath.Glob(c.files)
		for _, path := range files {
			checked++
			if err := schema.Validate(loosely(t, path)); err != nil {
				t.Errorf("%s: %v", path, err)
			}
		}
	}
	if checked < 10 {
		t.Fatalf("%d files checked; more are there", checked)
	}
}

// What lies in one value, the schema refuses as the decoder does. The other broken files break a
// rule between values, or none that JSON knows.
func TestSchemaRefusesWhatTheDecoderRefuses(t *testing.T) {
	schema := compiled(t, "job")
	for _, name := range strings.Fields(`a-list budget-without-unit dotted-key fraction-for-count head-angle negative-seed negative-travel
		no-value quoted-number sag-outside several-at-once three-bounds unknown-key unknown-nested-key wrong-sense wrong-type`) {
		if schema.Validate(loosely(t, "testdata/broken/"+name+".yaml")) == nil {
			t.Errorf("%s: the schema takes it, the decoder does not", name)
		}
	}
}

func TestSchemaShowsDefaults(t *testing.T) {
	text, err := files.Schema("concept")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"default": 20`, `"default": "pitching"`, `"default": "coil"`} {
		if !bytes.Contains(text, []byte(want)) {
			t.Errorf("%s is not in the schema", want)
		}
	}
	if _, err := files.Schema("jobs"); err == nil {
		t.Error("a schema of an unknown kind was given")
	}
}
