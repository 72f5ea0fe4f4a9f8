// Package display turns text into what may be shown: in a terminal, on a shell's command line, to people who
// read results.
package display

import (
	"strings"
	"unicode"
)

// IsHidden reports whether a character controls a terminal instead of being shown: control characters, line and
// paragraph separators, and those that change the direction of text (Unicode Standard Annex 9).
func IsHidden(r rune) bool {
	return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069'
}

// Printable is text that is safe to print to a terminal: each hidden character is replaced by U+FFFD.
func Printable(text string) string {
	return strings.Map(func(r rune) rune {
		if IsHidden(r) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// ShellWord is a word quoted for a POSIX shell: unchanged where that is safe, in single quotes otherwise.
func ShellWord(word string) string {
	safe := word != "" && strings.IndexFunc(word, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("@%+=:,./-_", r))
	}) < 0
	if safe {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}
