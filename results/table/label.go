package table

import "strings"

// Label is the column's name for people; an objective has that of its measure.
func (c *Column) Label() string { return Label(strings.TrimPrefix(c.Name, "objective_")) }

// Label is a name for people: without the unit at its end, and with spaces.
func Label(name string) string {
	for _, u := range unitSuffixes {
		if u.unit == UnitOfName(name) && strings.HasSuffix(name, u.suffix) {
			name = strings.TrimSuffix(name, u.suffix)
			break
		}
	}
	return hyphenated.Replace(strings.ReplaceAll(name, "_", " "))
}

// hyphenated are the words of names that are written with a hyphen.
var hyphenated = strings.NewReplacer("anti dive", "anti-dive", "fore aft", "fore-aft", "top out", "top-out", "bottom out", "bottom-out", "eye to eye", "eye-to-eye")
