package picks

import (
	"fmt"
	"math"

	"forkfront/results/table"
)

// note says what the sense does not: the band, and what is enough where some value of the measure is
// beyond it.
func note(a *table.Aim, t *table.Table, measure int) string {
	switch {
	case a.Wants == "band" && a.Low != nil && a.High != nil:
		return fmt.Sprintf("target %.4g to %.4g", *a.Low, *a.High)
	case a.Wants == "band":
		return "target band"
	case a.Enough == nil:
		return ""
	}
	for row := range t.Rows {
		if a.Better()*(t.Number(measure, row)-*a.Enough) < 0 {
			return fmt.Sprintf("%.4g is enough", *a.Enough)
		}
	}
	return ""
}

// inferAim finds what an objective asks for from its numbers and those of its measure, for files that do
// not state it. A search minimises max(s·v, s·enough), s being 1 or -1; what fits neither is the distance
// outside a band.
func inferAim(objective, measure *table.Series) *table.Aim {
	least := math.Inf(1)
	for _, f := range objective.Floats {
		least = math.Min(least, f)
	}
	for _, a := range []*table.Aim{{Wants: "min"}, {Wants: "max"}} {
		sign, fits := a.Better(), true
		for row, f := range objective.Floats {
			v := sign * measure.Floats[row]
			fits = fits && f == math.Max(v, least)
			if v < least {
				enough := sign * least
				a.Enough = &enough
			}
		}
		if within := a.Enough != nil && least == 0; fits && !within { // all 0 beyond some value: met a band, more likely
			return a
		}
	}
	return &table.Aim{Wants: "band"}
}
