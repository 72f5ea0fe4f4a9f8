package table

import (
	"fmt"
	"regexp"
	"strings"
)

// Kind is the type of a column's values.
type Kind int

// The kinds of a column and what a file stores for them.
const (
	Float Kind = iota // double, always finite
	Int               // 64-bit signed integer
	Text              // UTF-8 text, dictionary encoded
	Bool              // true or false
)

var kindNames = []string{"float", "int", "text", "bool"}

// String returns the name of the kind as it stands in the column dictionary of a file.
func (k Kind) String() string {
	if k < 0 || int(k) >= len(kindNames) {
		return fmt.Sprintf("Kind(%d)", int(k))
	}
	return kindNames[k]
}

// MarshalText writes the kind by name.
func (k Kind) MarshalText() ([]byte, error) {
	if k < 0 || int(k) >= len(kindNames) {
		return nil, fmt.Errorf("unknown kind of column %d; allowed are %s", int(k), strings.Join(kindNames, ", "))
	}
	return []byte(kindNames[k]), nil
}

// UnmarshalText reads the kind by name.
func (k *Kind) UnmarshalText(text []byte) error {
	for i, name := range kindNames {
		if name == string(text) {
			*k = Kind(i)
			return nil
		}
	}
	return fmt.Errorf("unknown kind of column %q; allowed are %s", text, strings.Join(kindNames, ", "))
}

// Column says what one column of a table holds. It goes into the file's footer as it stands here.
type Column struct {
	Name     string `json:"name"`               // lower_snake_case, ending in the unit
	Unit     string `json:"unit,omitempty"`     // one of Units, empty for a number without one
	Doc      string `json:"doc,omitempty"`      // one line for people
	Sense    string `json:"sense,omitempty"`    // which way is better: "low" or "min", "high" or "max", "band", or empty
	Source   string `json:"source,omitempty"`   // what it comes from: "variable", "placed", "measure", "contact", "objective", "constraint"
	Kind     Kind   `json:"kind"`               //
	Optional bool   `json:"optional,omitempty"` // whether NULL is allowed
	Aim      *Aim   `json:"aim,omitempty"`      // of an objective: what is wanted of its measure
}

var columnName = regexp.MustCompile(`^[a-z][a-z0-9]*([_.][a-z0-9]+)*$`)

// checkColumns refuses a list of columns that a file could not hold, or that readers could
// misunderstand. Every complaint is in the one error.
func checkColumns(columns []Column) error {
	if len(columns) == 0 {
		return fmt.Errorf("a table needs at least one column")
	}
	var wrong []string
	seen := map[string]int{}
	for i := range columns {
		c := &columns[i]
		if first, ok := seen[c.Name]; ok {
			wrong = append(wrong, fmt.Sprintf("columns %d and %d are both named %q", first, i, c.Name))
		}
		seen[c.Name] = i
		if err := c.check(); err != nil {
			wrong = append(wrong, fmt.Sprintf("column %d: %v", i, err))
		}
	}
	if wrong != nil {
		return fmt.Errorf("%s", strings.Join(wrong, "; "))
	}
	return nil
}

func (c *Column) check() error {
	if !columnName.MatchString(c.Name) {
		return fmt.Errorf("name %q: allowed are lower-case letters and digits, with _ or . between parts", c.Name)
	}
	if _, err := c.Kind.MarshalText(); err != nil {
		return fmt.Errorf("%s: %w", c.Name, err)
	}
	switch c.Sense {
	case "", "min", "max", "low", "high", "band":
	default:
		return fmt.Errorf("%s: sense %q: allowed are min, max, low, high, band or none", c.Name, c.Sense)
	}
	if c.Aim != nil {
		if err := c.Aim.check(); err != nil {
			return fmt.Errorf("%s: %w", c.Name, err)
		}
	}
	return c.checkUnit()
}

// Better is 1 where low is better, -1 where high is, and 0 where neither is.
func (c *Column) Better() float64 {
	switch c.Sense {
	case "low", "min":
		return 1
	case "high", "max":
		return -1
	}
	return 0
}
