package document

import (
	"fmt"
	"reflect"
)

// Field is one key of a mapping: the field of a struct that holds its value, and what its tags say about it.
type Field struct {
	Key string
	reflect.StructField
}

// FieldsOf lists the keys that a struct declares, in the order of its fields. The keys of an embedded struct
// stand where it is embedded, so that kinds of files with keys in common declare them once. A field tagged
// `yaml:"-"` is no key.
func FieldsOf(t reflect.Type) []Field {
	var all []Field
	for _, f := range reflect.VisibleFields(t) {
		key := f.Tag.Get("yaml")
		switch {
		case f.Anonymous || key == "-":
		case key == "":
			panic(fmt.Sprintf("jobs: %s.%s has no key", t, f.Name))
		default:
			all = append(all, Field{key, f})
		}
	}
	return all
}

func keysOf(t reflect.Type) []string {
	var keys []string
	for _, f := range FieldsOf(t) {
		keys = append(keys, f.Key)
	}
	return keys
}
