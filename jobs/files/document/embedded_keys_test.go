package document

import (
	"reflect"
	"slices"
	"strings"
	"testing"
)

// Embedded keys stand among those of the struct that embeds them, in a file that is written and in one that is
// read.
func TestEmbeddedKeysStandWhereTheyAreEmbedded(t *testing.T) {
	type Inner struct {
		B float64 `yaml:"b" default:"2"`
		C float64 `yaml:"c" jsonschema:"minimum=0"`
	}
	type outer struct {
		A float64 `yaml:"a"`
		Inner
		D float64 `yaml:"d"`
	}
	if keys := keysOf(reflect.TypeFor[outer]()); !slices.Equal(keys, []string{"a", "b", "c", "d"}) {
		t.Errorf("keys are %v", keys)
	}
	s, err := Open("x", strings.NewReader("d: 4\nc: 3\na: 1\n"))
	if err != nil {
		t.Fatal(err)
	}
	var got outer
	if s.Decode(&got); s.Err() != nil || got != (outer{1, Inner{2, 3}, 4}) {
		t.Errorf("read as %+v, %v", got, s.Err())
	}
	if text, err := Encode(&got); err != nil || string(text) != "a: 1\nb: 2\nc: 3\nd: 4\n" {
		t.Errorf("written as %q, %v", text, err)
	}
	s, err = Open("x", strings.NewReader("c: -1\n"))
	if err != nil {
		t.Fatal(err)
	}
	if s.Decode(&got); s.Err() == nil || !strings.Contains(s.Err().Error(), "x:1:4: c: -1") {
		t.Errorf("a rule of an embedded key is not applied: %v", s.Err())
	}
}
