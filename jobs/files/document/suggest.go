package document

import (
	"fmt"
	"strings"
)

// Suggest names the allowed word that was most likely meant, or lists all of them.
func Suggest(word string, allowed []string) string {
	best, least := "", len(word)/3+2
	for _, a := range allowed {
		if d := edits(word, a); d < least {
			best, least = a, d
		}
	}
	if best != "" {
		return fmt.Sprintf("did you mean %q?", best)
	}
	return "allowed are " + strings.Join(allowed, ", ")
}

// edits counts the single-letter changes from one word to another (Levenshtein distance). Words
// longer than any name of ours are not compared.
func edits(a, b string) int {
	const longest = 64
	if len(a) > longest || len(b) > longest {
		return longest
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before := row[0]
		row[0] = i + 1
		for j := range len(b) {
			swap := before
			if a[i] != b[j] {
				swap++
			}
			before = row[j+1]
			row[j+1] = min(swap, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
