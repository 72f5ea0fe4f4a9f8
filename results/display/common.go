package display

import "strings"

// SplitCommon splits names that consist of parts between slashes into the parts that all of them have in common and, for
// each, those in which it differs. Names with different numbers of parts have nothing in common, nor does a single
// name or one that occurs twice.
func SplitCommon(names []string) (common string, rest []string) {
	var parts [][]string
	for _, name := range names {
		parts = append(parts, strings.Split(name, "/"))
		if len(parts[0]) != len(parts[len(parts)-1]) {
			return "", names
		}
	}
	if len(names) < 2 {
		return "", names
	}
	var shared []string
	differ := make([][]string, len(names))
	for i, part := range parts[0] {
		same := true
		for _, other := range parts {
			same = same && other[i] == part
		}
		if same {
			shared = append(shared, part)
			continue
		}
		for k := range parts {
			differ[k] = append(differ[k], parts[k][i])
		}
	}
	if len(shared) == len(parts[0]) {
		return "", names
	}
	for _, d := range differ {
		rest = append(rest, strings.Join(d, "/"))
	}
	return strings.Join(shared, "/"), rest
}
