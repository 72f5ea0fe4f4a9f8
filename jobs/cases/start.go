package cases

import (
	"math"

	"forkfront/jobs/files"
	"forkfront/jobs/files/sections"
)

// begin returns the concept itself as the first candidate of its case: the variables at its points, with the shock
// nearest in length.
func (c *Case) begin(st *files.JobStart) []float64 {
	at := map[string]sections.Point{}
	for _, p := range st.Positions {
		at[p.Name] = p.At
	}
	x := make([]float64, len(c.Free))
	for i := range c.Free {
		switch f := &c.Free[i]; f.Kind {
		case FreeAlong:
			x[i] = at[c.Mechanism.Points[f.Point]][0]
		case FreeAhead:
			x[i] = at[c.Mechanism.Points[f.Point]][1]
		case FreeShockAngle:
			x[i] = (f.Variable.Low + f.Variable.High) / 2
		case FreeShock:
			for k := range c.Shocks {
				if math.Abs(c.Shocks[k].EyeToEyeMM-st.OwnShock.EyeToEyeMM) < math.Abs(c.Shocks[int(x[i])].EyeToEyeMM-st.OwnShock.EyeToEyeMM) {
					x[i] = float64(k)
				}
			}
		}
	}
	return x
}
