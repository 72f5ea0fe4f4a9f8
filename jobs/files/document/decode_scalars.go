package document

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

// Largest and smallest bound the numbers of files: others are meaningless in the units of the files, and their
// squares overflow or underflow.
const (
	Largest  = 1e9
	smallest = 1e-9
)

// Number is the number at a path; ok is false, and a fault noted, where there is none.
func (s *Source) Number(path string, n *yaml.Node) (float64, bool) {
	var f float64
	tag := n.ShortTag()
	if n.Kind != yaml.ScalarNode || tag != "!!int" && tag != "!!float" || n.Decode(&f) != nil {
		s.At(path, "%s; expected a number", Said(n))
		return 0, false
	}
	if math.IsNaN(f) || math.IsInf(f, 0) {
		s.At(path, "%s; expected a finite number", n.Value)
		return 0, false
	}
	if size := math.Abs(f); size > Largest || size < smallest && f != 0 {
		s.At(path, "%s; expected 0 or a number between %g and %g, of either sign", n.Value, smallest, Largest)
		return 0, false
	}
	return f, true
}

func (s *Source) whole(path string, n *yaml.Node, dst reflect.Value, rules []string) {
	unsigned := dst.Kind() == reflect.Uint64
	if n.Kind != yaml.ScalarNode || n.ShortTag() != "!!int" || n.Decode(dst.Addr().Interface()) != nil || unsigned && dst.Uint() > math.MaxInt64 {
		want := "a whole number"
		if unsigned {
			want += " from 0 to 2^63 − 1" // what a column of whole numbers holds
		}
		s.At(path, "%s; expected %s", Said(n), want)
		return
	}
	if !unsigned {
		s.limits(path, n, float64(dst.Int()), rules)
	}
}

func (s *Source) truth(path string, n *yaml.Node, dst reflect.Value) {
	if n.Kind != yaml.ScalarNode || n.ShortTag() != "!!bool" || n.Decode(dst.Addr().Interface()) != nil {
		s.At(path, "%s; expected true or false", Said(n))
	}
}

func (s *Source) text(path string, n *yaml.Node, dst reflect.Value, rules []string) {
	if n.Kind != yaml.ScalarNode || n.ShortTag() == "!!null" {
		s.At(path, "%s; expected text", Said(n))
		return
	}
	if n.ShortTag() != "!!str" {
		s.At(path, "%s; expected text: put it in quotes", Said(n))
		return
	}
	if strings.TrimSpace(n.Value) == "" {
		s.At(path, "empty; expected text")
		return
	}
	dst.SetString(n.Value)
	var allowed []string
	for _, r := range rules {
		if v, ok := strings.CutPrefix(r, "enum="); ok {
			allowed = append(allowed, v)
		}
	}
	if len(allowed) > 0 && !slices.Contains(allowed, n.Value) {
		s.At(path, "%q; allowed are %s", n.Value, strings.Join(allowed, ", "))
	}
}

// limits compares a number, or the length of a list, with the rules of its field.
func (s *Source) limits(path string, n *yaml.Node, v float64, rules []string) {
	for _, r := range rules {
		name, text, _ := strings.Cut(r, "=")
		limit, _ := strconv.ParseFloat(text, 64)
		switch {
		case name == "minimum" && v < limit:
			s.At(path, "%s; must be at least %s", Said(n), text)
		case name == "exclusiveMinimum" && v <= limit:
			s.At(path, "%s; must be more than %s", Said(n), text)
		case name == "maximum" && v > limit:
			s.At(path, "%s; must be at most %s", Said(n), text)
		case name == "exclusiveMaximum" && v >= limit:
			s.At(path, "%s; must be less than %s", Said(n), text)
		case name == "minItems" && v < limit:
			s.At(path, "%g entries; expected at least %s", v, text)
		}
	}
}
