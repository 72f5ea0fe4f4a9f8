package files

import (
	"fmt"
	"reflect"
)

// field is one key of a mapping: the field of a struct that holds its value, and what its tags say about it.
type field struct {
	key string
	reflect.StructField
}

// fieldsOf lists the keys that a struct declares, in the order of its fields. The keys of an embedded struct
// stand where it is embedded, so that kinds of files with keys in common declare them once. A field tagged
// `yaml:"-"` is no key.
func fieldsOf(t reflect.Type) []field {
	var all []field
	for _, f := range reflect.VisibleFields(t) {
		key := f.Tag.Get("yaml")
		switch {
		case f.Anonymous || key == "-":
		case key == "":
			panic(fmt.Sprintf("jobs: %s.%s has no key", t, f.Name))
		default:
			all = append(all, field{key, f})
		}
	}
	return all
}

func keysOf(t reflect.Type) []string {
	var keys []string
	for _, f := range fieldsOf(t) {
		keys = append(keys, f.key)
	}
	return keys
}
