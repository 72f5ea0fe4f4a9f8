package results

import (
	"strings"
	"unicode"
)

// Hidden tells whether a character steers a terminal instead of showing there: control characters,
// line and paragraph separators, and those that turn the direction of text (Unicode Standard Annex 9).
func Hidden(r rune) bool {
	return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069'
}

// Shown is a text as it may go to a terminal: in place of each hidden character stands U+FFFD.
func Shown(text string) string {
	return strings.Map(func(r rune) rune {
		if Hidden(r) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// Quoted is a word as a POSIX shell takes it, as it is where that is safe and in single quotes else.
func Quoted(word string) string {
	safe := word != "" && strings.IndexFunc(word, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("@%+=:,./-_", r))
	}) < 0
	if safe {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}
