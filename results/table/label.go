package table

import (
	"strings"

	"forkfront/objectives/naming"
)

// Label is the column's name for people; an objective has that of its measure.
func (c *Column) Label() string { return naming.Label(strings.TrimPrefix(c.Name, "objective_")) }
