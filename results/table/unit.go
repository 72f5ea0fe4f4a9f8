package table

import (
	"fmt"
	"slices"
	"strings"

	"forkfront/objectives/naming"
)

// unitSpellings maps other spellings of a unit to the one in package naming.
var unitSpellings = map[string]string{
	"pct": "%", "percent": "%", "°": "deg", "n": "N", "n_per_mm": "N/mm", "N mm": "N·mm",
	"kg cm²": "kg·cm²", "kg·cm2": "kg·cm²", "kg cm2": "kg·cm²", "kg_cm2": "kg·cm²",
	"Nm/deg": "N·m/deg", "N·m/°": "N·m/deg", "Nm/°": "N·m/deg", "N m/deg": "N·m/deg",
	"N/mm2": "N/mm²", "MPa": "N/mm²", "N s/m": "N·s/m", "m/s2": "m/s²", "1": "", "-": "", "–": "",
}

// checkUnit compares the unit of a column with the end of its name. Text and truth values have
// no unit, and their names may end as they like.
func (c *Column) checkUnit() error {
	unit := c.Unit
	if canonical, ok := unitSpellings[unit]; ok {
		unit = canonical
	}
	if unit != "" && !slices.Contains(naming.Units(), unit) {
		return fmt.Errorf("%s: unknown unit %q; allowed are %s", c.Name, c.Unit, strings.Join(naming.Units(), ", "))
	}
	if c.Kind == Text || c.Kind == Bool {
		if unit != "" {
			return fmt.Errorf("%s: a column of %s has no unit, got %q", c.Name, c.Kind, c.Unit)
		}
		return nil
	}
	if named := naming.Unit(c.Name); named != unit {
		return fmt.Errorf("%s: the unit is %q but the name ends as one in %q does", c.Name, c.Unit, named)
	}
	return nil
}
