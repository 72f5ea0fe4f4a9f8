package words

import "forkfront/objectives"

// Shown is a value to four digits, or a dash where there is none.
func Shown(v *float64) string {
	if v == nil {
		return "–"
	}
	return objectives.Digits(*v, 4)
}
