package jobs

import (
	"fmt"
	"strconv"
	"strings"
)

// digits is a number to n significant digits for people to read. From where that would have an exponent,
// 10 000 where n is 4, it is whole and in plain digits.
func digits(v float64, n int) string {
	v += 0 // takes the sign off a zero
	text := fmt.Sprintf("%.*g", n, v)
	if strings.Contains(text, "e+") {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return text
}

// shown is a value to four digits, or a dash where there is none.
func shown(v *float64) string {
	if v == nil {
		return "–"
	}
	return digits(*v, 4)
}

// change is by how much a value went up, with its sign.
func change(a, b *float64) string {
	if a == nil || b == nil {
		return "–"
	}
	text := digits(*b-*a, 4)
	if strings.HasPrefix(text, "-") {
		return text
	}
	return "+" + text
}
