package score

import (
	"fmt"
	"io"

	"forkfront/objectives"
)

// size sizes the telescopic fork by the rules for all forks, of tubes of the material of a design.
func (b *baseline) size(c *objectives.Conditions, d *objectives.Design) {
	if c.Structure == nil || d.Material == nil {
		return
	}
	s := c.SizedTelescopic(d.Material)
	if b.Unsized = s.Missing[objectives.Mass]; b.Unsized != "" {
		return
	}
	b.Sized = map[string]float64{}
	for i := range objectives.Measures {
		if m := &objectives.Measures[i]; m.Needs == objectives.NeedStructure && s.Missing[i] == "" {
			b.Sized[m.Name] = s.Values[i]
		}
	}
}

// writeSized shows what the sizes come to, beside what is given.
func (b *baseline) writeSized(w io.Writer) {
	of := func(measure, digits int) string {
		return objectives.Digits(b.Sized[objectives.Measures[measure].Name], digits)
	}
	switch {
	case b.Unsized != "":
		fmt.Fprintf(w, "the telescopic fork has no sizes by the same rules: %s\n", b.Unsized)
	case b.Sized != nil:
		fmt.Fprintf(w, "the telescopic fork sized by the same rules: %s g (%g g of springs and dampers assumed), tubes up to %s mm; stiffness %s N/mm fore-aft, %s N/mm lateral, %s Nm/deg torsional\n",
			of(objectives.Mass, 4), objectives.LegInternalsG, of(objectives.TubeDiameterMax, 3), of(objectives.ForeAftStiffness, 3), of(objectives.LateralStiffness, 3), of(objectives.TorsionalStiffness, 3))
	}
}
