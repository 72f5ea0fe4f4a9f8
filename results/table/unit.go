package table

import (
	"fmt"
	"slices"
	"strings"
)

// unitSuffixes lists every unit that a column may have and how names of such columns end. A unit
// in the name survives every reader; metadata does not.
var unitSuffixes = []struct{ unit, suffix string }{
	{"mm", "_mm"},
	{"deg", "_deg"},
	{"rad", "_rad"},
	{"%", "_pct"},
	{"N", "_n"},
	{"N/mm", "_n_per_mm"},
	{"N/mm²", "_n_per_mm2"},
	{"N·mm", "_n_mm"},
	{"N·m/deg", "_nm_per_deg"},
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
}

// unitSpellings maps other spellings of a unit to the one in unitSuffixes.
var unitSpellings = map[string]string{
	"pct": "%", "percent": "%", "°": "deg", "n": "N", "n_per_mm": "N/mm", "N mm": "N·mm",
	"kg cm²": "kg·cm²", "kg·cm2": "kg·cm²", "kg cm2": "kg·cm²", "kg_cm2": "kg·cm²",
	"Nm/deg": "N·m/deg", "N·m/°": "N·m/deg", "Nm/°": "N·m/deg", "N m/deg": "N·m/deg",
	"N/mm2": "N/mm²", "MPa": "N/mm²", "N s/m": "N·s/m", "m/s2": "m/s²", "1": "", "-": "", "–": "",
}

// Units returns the units that a column may have; it may also have none.
func Units() []string {
	units := make([]string, len(unitSuffixes))
	for i, u := range unitSuffixes {
		units[i] = u.unit
	}
	return units
}

// UnitOfName returns the unit that the end of a column's name announces, or "" for none. The
// longest ending counts: spring_rate_n_per_mm is in N/mm, not in mm.
func UnitOfName(name string) string {
	unit, longest := "", 0
	for _, u := range unitSuffixes {
		if strings.HasSuffix(name, u.suffix) && len(u.suffix) > longest {
			unit, longest = u.unit, len(u.suffix)
		}
	}
	return unit
}

// checkUnit compares the unit of a column with the end of its name. Text and truth values have
// no unit, and their names may end as they like.
func (c *Column) checkUnit() error {
	unit := c.Unit
	if canonical, ok := unitSpellings[unit]; ok {
		unit = canonical
	}
	if unit != "" && !slices.Contains(Units(), unit) {
		return fmt.Errorf("%s: unknown unit %q; allowed are %s", c.Name, c.Unit, strings.Join(Units(), ", "))
	}
	if c.Kind == Text || c.Kind == Bool {
		if unit != "" {
			return fmt.Errorf("%s: a column of %s has no unit, got %q", c.Name, c.Kind, c.Unit)
		}
		return nil
	}
	if named := UnitOfName(c.Name); named != unit {
		return fmt.Errorf("%s: the unit is %q but the name ends as one in %q does", c.Name, c.Unit, named)
	}
	return nil
}
