package report

import (
	"math"
	"strconv"
	"strings"
)

// Numbers of candidates are packed to the four digits that the page shows, as whole number × 10^exponent: a number that
// is rounded twice can end otherwise than in the other tables. A column is four planes, one byte of each row in each:
// the low and the high bytes of the whole numbers, two's complement, and the low and the high bytes of the exponents,
// to which exponentBias is added. Planes deflate better than numbers and, unlike text, are read without parsing.
const (
	digits       = 4
	exponentBias = 512
	noValue      = math.MinInt16 // the whole number of a missing value
	planes       = 4
)

// appendValues adds the planes of a column. NaN is a missing value.
func appendValues(dst []byte, values []float64) []byte {
	began, n := len(dst), len(values)
	dst = append(dst, make([]byte, planes*n)...)
	plane := func(k int) []byte { return dst[began+k*n : began+(k+1)*n] }
	for row, v := range values {
		whole, exponent := decimal(v)
		w, e := uint16(whole), uint16(exponent+exponentBias)
		for k, b := range [planes]byte{byte(w), byte(w >> 8), byte(e), byte(e >> 8)} {
			plane(k)[row] = b
		}
	}
	return dst
}

// decimal is v to a number of digits: whole × 10^exponent.
func decimal(v float64) (whole, exponent int) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return noValue, 0
	}
	if v == 0 {
		return 0, 0
	}
	text := strconv.FormatFloat(v, 'e', digits-1, 64) // as -1.234e+05
	mantissa, power, _ := strings.Cut(text, "e")
	whole, err := strconv.Atoi(strings.Replace(mantissa, ".", "", 1))
	if err == nil {
		exponent, err = strconv.Atoi(power)
	}
	if err != nil {
		panic("report: a number written as " + text)
	}
	return whole, exponent - (digits - 1)
}
