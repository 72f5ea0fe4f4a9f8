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
	of := func(measure int) float64 { return b.Sized[objectives.Measures[measure].Name] }
	switch {
	case b.Unsized != "":
		fmt.Fprintf(w, "the telescopic fork has no sizes by the same rules: %s\n", b.Unsized)
	case b.Sized != nil:
		fmt.Fprintf(w, "the telescopic fork sized by the same rules: %.4g g (%g g of springs and dampers assumed), tubes up to %.3g mm; stiffness %.3g N/mm fore-aft, %.3g N/mm lateral, %.3g Nm/deg torsional\n",
			of(objectives.Mass), objectives.LegInternalsG, of(objectives.TubeDiameterMax), of(objectives.ForeAftStiffness), of(objectives.LateralStiffness), of(objectives.TorsionalStiffness))
	}
}
