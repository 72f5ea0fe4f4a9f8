package words

import (
	"fmt"
	"slices"
	"strings"
)

func Counted(n int, what string) string { return Plural(n, what, what+"s") }

func Plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Commas puts a comma between what is not empty.
func Commas(words ...string) string {
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), ", ")
}
