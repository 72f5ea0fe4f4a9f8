package jobs

import (
	"strings"

	"forkfront/objectives"
)

// shown is a value to four digits, or a dash where there is none.
func shown(v *float64) string {
	if v == nil {
		return "–"
	}
	return objectives.Digits(*v, 4)
}

// change is by how much a value went up, with its sign.
func change(a, b *float64) string {
	if a == nil || b == nil {
		return "–"
	}
	text := objectives.Digits(*b-*a, 4)
	if strings.HasPrefix(text, "-") {
		return text
	}
	return "+" + text
}
