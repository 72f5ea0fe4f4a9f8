package table

import "fmt"

// Aim is what an objective wants of its measure, in the measure's unit.
type Aim struct {
	Wants  string   `json:"wants"`            // "min", "max" or "band"
	Low    *float64 `json:"low,omitempty"`    // of the band
	High   *float64 `json:"high,omitempty"`   // of the band
	Enough *float64 `json:"enough,omitempty"` // values beyond it count as equal
}

func (a *Aim) check() error {
	switch a.Wants {
	case "min", "max", "band":
		return nil
	}
	return fmt.Errorf("aim %q: allowed are min, max and band", a.Wants)
}

// Better is 1 where low is better, -1 where high is, and 0 for a band.
func (a *Aim) Better() float64 { return map[string]float64{"min": 1, "max": -1}[a.Wants] }
