package score

import (
	"strings"

	"forkfront/objectives"
)

// Change is the increase of a value, with its sign.
func Change(a, b *float64) string {
	if a == nil || b == nil {
		return "–"
	}
	text := objectives.Digits(*b-*a, 4)
	if strings.HasPrefix(text, "-") {
		return text
	}
	return "+" + text
}
