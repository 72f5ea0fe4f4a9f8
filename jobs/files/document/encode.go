package document

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

// Encode writes a concept or mechanism as YAML from which its reader gets the same values, to the bit: numbers in the
// shortest form that reads as the same float64. Absent values (zero, where the file may omit them and has no other
// default) are left out.
func Encode(file any) ([]byte, error) {
	text, err := yaml.Marshal(NodeOf(reflect.ValueOf(file)))
	if err != nil {
		return nil, fmt.Errorf("write YAML: %w", err)
	}
	return text, nil
}

// written is a value with a form of its own in a file.
type written interface{ Node() *yaml.Node }

// NodeOf is a value as a YAML node, by the same tags as the decoder reads it.
func NodeOf(v reflect.Value) *yaml.Node {
	if own, is := v.Interface().(written); is && v.Kind() != reflect.Pointer {
		return own.Node()
	}
	switch v.Kind() {
	case reflect.Pointer:
		return NodeOf(v.Elem())
	case reflect.Struct:
		return structNode(v)
	case reflect.Map:
		return mapNode(v)
	case reflect.Slice, reflect.Array:
		return listNode(v)
	case reflect.String:
		n := &yaml.Node{}
		n.SetString(v.String())
		return n
	case reflect.Float64:
		return scalar("!!float", strconv.FormatFloat(v.Float(), 'g', -1, 64))
	case reflect.Int:
		return scalar("!!int", strconv.FormatInt(v.Int(), 10))
	case reflect.Uint64:
		return scalar("!!int", strconv.FormatUint(v.Uint(), 10))
	case reflect.Bool:
		return scalar("!!bool", strconv.FormatBool(v.Bool()))
	}
	panic(fmt.Sprintf("jobs: no way to write a %s", v.Type()))
}

// scalar is a plain value. A float without a point reads as whole, and a number is a number.
func scalar(tag, text string) *yaml.Node {
	if tag == "!!float" && !strings.ContainsAny(text, ".e") {
		tag = "!!int"
	}
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: tag, Value: text}
}

func structNode(v reflect.Value) *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode}
	for _, f := range FieldsOf(v.Type()) {
		if value := v.FieldByIndex(f.Index); !absent(f.Tag, value) {
			n.Content = append(n.Content, scalar("!!str", f.Key), NodeOf(value))
		}
	}
	return n
}

// absent tells whether a file may omit a field's value.
func absent(tag reflect.StructTag, v reflect.Value) bool {
	required := slices.Contains(strings.Split(tag.Get("jsonschema"), ","), "required")
	switch v.Kind() {
	case reflect.Pointer:
		return v.IsNil()
	case reflect.Slice, reflect.Map:
		return v.Len() == 0 && !required
	}
	unset := tag.Get("default")
	return v.IsZero() && !required && (unset == "" || unset == "0")
}

func mapNode(v reflect.Value) *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode}
	keys := v.MapKeys()
	slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(a.String(), b.String()) })
	for _, key := range keys {
		n.Content = append(n.Content, NodeOf(key), NodeOf(v.MapIndex(key)))
	}
	return n
}

// listNode stays on one line where it holds no mappings.
func listNode(v reflect.Value) *yaml.Node {
	n := &yaml.Node{Kind: yaml.SequenceNode, Style: yaml.FlowStyle}
	for i := range v.Len() {
		item := NodeOf(v.Index(i))
		if item.Kind == yaml.MappingNode {
			n.Style = 0
		}
		n.Content = append(n.Content, item)
	}
	return n
}
