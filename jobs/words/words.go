package words

import (
	"fmt"
	"slices"
	"strings"
)

// Counted is a number with a noun whose plural takes an s: "1 case", "3 cases".
func Counted(n int, what string) string { return Plural(n, what, what+"s") }

// Plural is a number with a noun of another plural: "1 body", "2 bodies".
func Plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Commas joins what is not empty by commas.
func Commas(words ...string) string {
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), ", ")
}
