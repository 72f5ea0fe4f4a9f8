// Package naming reads the names of measures and columns: the unit that a name ends in, and the words that people read
// instead of it.
package naming

import "strings"

// suffixes lists every unit that a column may have and how names of such columns end. A unit
// in the name survives every reader; metadata does not.
var suffixes = []struct{ unit, suffix string }{
	{"mm", "_mm"},
	{"deg", "_deg"},
	{"rad", "_rad"},
	{"%", "_pct"},
	{"N", "_n"},
	{"N/mm", "_n_per_mm"},
	{"N/mm²", "_n_per_mm2"},
	{"N·mm", "_n_mm"},
	{"N·m/deg", "_nm_per_deg"},
	{"N·m", "_nm"},
	{"bar", "_bar"},
	{"g", "_g"},
	{"kg", "_kg"},
	{"kg·cm²", "_kg_cm2"},
	{"s", "_s"},
	{"g₀", "_g0"},
	{"1/mm", "_per_mm"},
	{"Hz", "_hz"},
	{"N·s/m", "_ns_per_m"},
	{"m/s²", "_m_per_s2"},
	{"m/s", "_m_per_s"},
}

// Units returns the units that a column may have; it may also have none.
func Units() []string {
	units := make([]string, len(suffixes))
	for i, u := range suffixes {
		units[i] = u.unit
	}
	return units
}

// Unit returns the unit that the end of a name announces, or "" for none. The longest ending
// counts: spring_rate_n_per_mm is in N/mm, not in mm.
func Unit(name string) string {
	unit, _ := split(name)
	return unit
}

// split returns the unit at the end of a name, and the name without it.
func split(name string) (unit, rest string) {
	rest = name
	for _, u := range suffixes {
		if without, ok := strings.CutSuffix(name, u.suffix); ok && len(without) < len(rest) {
			unit, rest = u.unit, without
		}
	}
	return unit, rest
}

// Label is a name for people: without the unit at its end, with spaces, and with its extreme in front.
func Label(name string) string {
	_, rest := split(name)
	if of, ok := strings.CutSuffix(rest, "_min"); ok {
		rest = "smallest_" + of
	} else if of, ok := strings.CutSuffix(rest, "_max"); ok {
		rest = "largest_" + of
	}
	return hyphenated.Replace(strings.ReplaceAll(rest, "_", " "))
}

// hyphenated are the words of names that are written with a hyphen.
var hyphenated = strings.NewReplacer("anti dive", "anti-dive", "fore aft", "fore-aft", "top out", "top-out", "bottom out", "bottom-out", "eye to eye", "eye-to-eye")
