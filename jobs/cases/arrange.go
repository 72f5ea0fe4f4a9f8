package cases

import (
	"math/rand/v2"

	"forkfront/kinematics"
	"forkfront/objectives"
	"forkfront/objectives/clearance"
)

// layoutsTried is the number of layouts from which the arrangements of a case are found.
const layoutsTried = 1000

// arrange finds the arrangements that the bounds of a case allow, from layouts that are always the same.
func (c *Case) arrange() *clearance.Arrangements {
	rng := rand.New(rand.NewPCG(1, 1))
	layouts, x := make([][]kinematics.Vec[float64], layoutsTried), make([]float64, len(c.Free))
	var d objectives.Design
	designer := c.Designer()
	for k := range layouts {
		for i := range c.Free {
			if v := &c.Free[i].Variable; v.Levels > 0 {
				x[i] = float64(rng.IntN(v.Levels))
			} else {
				x[i] = v.Low + rng.Float64()*(v.High-v.Low)
			}
		}
		d.Layout = nil
		designer.lay(&d, x)
		layouts[k] = d.Layout
	}
	return c.Assembly.Arrangements(layouts)
}

// Niche is a number for the arrangement of the fork that the variables x describe.
func (p *problem) Niche(x []float64) uint64 {
	if p.c.arrangements == nil {
		return 0
	}
	p.designer.lay(&p.laid, x)
	return p.c.arrangements().Of(p.laid.Layout)
}
