package display

import "strings"

// Apart shortens names that consist of parts between slashes to the parts in which they differ. Names with
// different numbers of parts, and a name that is alone, stay as they are.
func Apart(names []string) []string {
	var parts [][]string
	for _, name := range names {
		parts = append(parts, strings.Split(name, "/"))
		if len(parts[0]) != len(parts[len(parts)-1]) {
			return names
		}
	}
	short := make([]string, len(names))
	for k := range parts {
		var kept []string
		for i, part := range parts[k] {
			for _, other := range parts {
				if other[i] != part {
					kept = append(kept, part)
					break
				}
			}
		}
		if short[k] = strings.Join(kept, "/"); kept == nil {
			return names
		}
	}
	return short
}
