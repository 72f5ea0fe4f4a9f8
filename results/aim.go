package results

import (
	"fmt"
	"math"

	"forkfront/objectives"
)

// Aim is what an objective wants of its measure, in the measure's unit.
type Aim struct {
	Wants  string   `json:"wants"`            // "min", "max" or "band"
	Low    *float64 `json:"low,omitempty"`    // of the band
	High   *float64 `json:"high,omitempty"`   // of the band
	Enough *float64 `json:"enough,omitempty"` // values beyond it count as equal
}

// AimOf returns the aim of a goal.
func AimOf(g *objectives.Goal) *Aim {
	switch g.Aim {
	case objectives.Within:
		return &Aim{Wants: "band", Low: &g.Band.Low, High: &g.Band.High}
	case objectives.Largest:
		return &Aim{Wants: "max", Enough: g.Enough}
	}
	return &Aim{Wants: "min", Enough: g.Enough}
}

func (a *Aim) check() error {
	switch a.Wants {
	case "min", "max", "band":
		return nil
	}
	return fmt.Errorf("aim %q: allowed are min, max and band", a.Wants)
}

// better is 1 where low is better, -1 where high is, and 0 for a band.
func (a *Aim) better() float64 { return map[string]float64{"min": 1, "max": -1}[a.Wants] }

// note says what the better way does not: the band, and what is enough where some value of the measure
// is beyond it.
func (a *Aim) note(t *Table, measure int) string {
	switch {
	case a.Wants == "band" && a.Low != nil && a.High != nil:
		return fmt.Sprintf("wanted %.4g to %.4g", *a.Low, *a.High)
	case a.Wants == "band":
		return "wanted in a band"
	case a.Enough == nil:
		return ""
	}
	for row := range t.Rows {
		if a.better()*(t.number(measure, row)-*a.Enough) < 0 {
			return fmt.Sprintf("%.4g is enough", *a.Enough)
		}
	}
	return ""
}

// readAim finds from the numbers of an objective and its measure alone what the objective wants; for
// files that do not say it. A search makes max(s·v, s·enough) small, s being 1 or -1, and of what fits
// neither it makes the distance outside a band small.
func readAim(objective, measure *Series) *Aim {
	least := math.Inf(1)
	for _, f := range objective.Floats {
		least = math.Min(least, f)
	}
	for _, a := range []*Aim{{Wants: "min"}, {Wants: "max"}} {
		sign, fits := a.better(), true
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
	return &Aim{Wants: "band"}
}
