package document

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

// Custom is a type that reads its own value, for values that have more than one form.
type Custom interface {
	Read(s *Source, path string, n *yaml.Node)
}

// Decode reads the whole file into a struct and notes every fault. What a field allows is declared once, in its tags:
// `yaml` its key; `jsonschema` required, minimum, exclusiveMinimum, maximum, exclusiveMaximum, minItems and enum;
// `default` the value where the file has none, as YAML.
func (s *Source) Decode(dst any) {
	if s.Root != nil {
		s.Value("", s.Root, reflect.ValueOf(dst).Elem(), nil)
	}
}

// Value reads the value at a path into dst, by the rules of a field's tag.
func (s *Source) Value(path string, n *yaml.Node, dst reflect.Value, rules []string) {
	if n.Kind == yaml.AliasNode {
		return // noted by index
	}
	if c, ok := dst.Addr().Interface().(Custom); ok {
		c.Read(s, path, n)
		return
	}
	switch dst.Kind() {
	case reflect.Pointer:
		dst.Set(reflect.New(dst.Type().Elem()))
		s.Value(path, n, dst.Elem(), rules)
	case reflect.Struct:
		s.Mapping(path, n, dst)
	case reflect.Map:
		s.table(path, n, dst)
	case reflect.Slice, reflect.Array:
		s.list(path, n, dst, rules)
	case reflect.Float64:
		if f, ok := s.Number(path, n); ok {
			dst.SetFloat(f)
			s.limits(path, n, f, rules)
		}
	case reflect.Int, reflect.Uint64:
		s.whole(path, n, dst, rules)
	case reflect.String:
		s.text(path, n, dst, rules)
	case reflect.Bool:
		s.truth(path, n, dst)
	default:
		panic(fmt.Sprintf("jobs: decode has no rule for %s at %q", dst.Type(), path))
	}
}

// Said is a value as a message quotes it.
func Said(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.MappingNode:
		return "a mapping"
	case n.Kind == yaml.SequenceNode:
		return "a list"
	case n.Kind == yaml.AliasNode:
		return "an alias"
	case n.ShortTag() == "!!null":
		return "no value"
	case n.ShortTag() == "!!str":
		if len(n.Value) > 60 {
			return strconv.Quote(n.Value[:60]) + "…"
		}
		return strconv.Quote(n.Value)
	}
	return n.Value
}

// Mapping reads the mapping at a path into a struct, by the tags of its fields.
func (s *Source) Mapping(path string, n *yaml.Node, dst reflect.Value) {
	if n.Kind != yaml.MappingNode {
		s.At(path, "%s; expected a mapping with %s", Said(n), strings.Join(keysOf(dst.Type()), ", "))
		return
	}
	names := keysOf(dst.Type())
	for _, key := range s.keys[path] {
		if !slices.Contains(names, key) {
			s.unknown(path, n, key, names)
		}
	}
	for _, f := range FieldsOf(dst.Type()) {
		s.field(Join(path, f.Key), dst.FieldByIndex(f.Index), f.Tag)
	}
}

// unknown notes a key that does nothing, at the key rather than its value.
func (s *Source) unknown(path string, n *yaml.Node, key string, names []string) {
	f := Fault{File: s.File, Path: Join(path, key)}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			f.Line, f.Col = n.Content[i].Line, n.Content[i].Column
			break
		}
	}
	f.Text = "unknown key; " + Suggest(key, names)
	s.faults = append(s.faults, f)
}

func (s *Source) field(path string, dst reflect.Value, tag reflect.StructTag) {
	rules := strings.Split(tag.Get("jsonschema"), ",")
	if n := s.at[path]; n != nil {
		s.Value(path, n, dst, rules)
		return
	}
	if slices.Contains(rules, "required") {
		s.At(path, "missing; it is required")
		return
	}
	if text := tag.Get("default"); text != "" {
		fill(dst, text)
	}
}

// fill sets a field to its documented default.
func fill(dst reflect.Value, text string) {
	d := &Source{File: "default", at: map[string]*yaml.Node{}, keys: map[string][]string{}}
	d.parse([]byte(text))
	if d.Root != nil {
		d.Value("", d.Root, dst, nil)
	}
	if err := d.Err(); err != nil {
		panic(fmt.Sprintf("jobs: default %q does not fit %s: %v", text, dst.Type(), err))
	}
}

func (s *Source) table(path string, n *yaml.Node, dst reflect.Value) {
	if n.Kind != yaml.MappingNode {
		s.At(path, "%s; expected a mapping of names", Said(n))
		return
	}
	dst.Set(reflect.MakeMap(dst.Type()))
	for _, key := range s.keys[path] {
		v := reflect.New(dst.Type().Elem()).Elem()
		child := Join(path, key)
		s.Value(child, s.at[child], v, nil)
		dst.SetMapIndex(reflect.ValueOf(key), v)
	}
}

func (s *Source) list(path string, n *yaml.Node, dst reflect.Value, rules []string) {
	if n.Kind != yaml.SequenceNode {
		s.At(path, "%s; expected a list", Said(n))
		return
	}
	if dst.Kind() == reflect.Array {
		if len(n.Content) != dst.Len() {
			s.At(path, "%d values; expected exactly %d", len(n.Content), dst.Len())
			return
		}
	} else {
		dst.Set(reflect.MakeSlice(dst.Type(), len(n.Content), len(n.Content)))
		s.limits(path, n, float64(len(n.Content)), rules)
	}
	for i, v := range n.Content {
		s.Value(fmt.Sprintf("%s[%d]", path, i), v, dst.Index(i), ofEntries(rules))
	}
}

// ofEntries are the rules of a list for its entries rather than their number: the allowed values.
func ofEntries(rules []string) []string {
	return slices.DeleteFunc(slices.Clone(rules), func(r string) bool { return !strings.HasPrefix(r, "enum=") })
}
