package objectives

import (
	"fmt"
	"strconv"
	"strings"
)

// Digits is a value to n significant digits for people to read. From where that would have an exponent,
// 10 000 where n is 4, it is whole and in plain digits.
func Digits(v float64, n int) string {
	v += 0 // takes the sign off a zero
	text := fmt.Sprintf("%.*g", n, v)
	if strings.Contains(text, "e+") {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return text
}
