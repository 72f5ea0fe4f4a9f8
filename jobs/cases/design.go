package cases

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
	"forkfront/objectives"
	"forkfront/objectives/fork"
)

// Design is the fork that the variables x, in their natural units, describe. Who makes many uses a Designer.
func (c *Case) Design(dst *objectives.Design, x []float64) { c.Designer().Design(dst, x) }

// Layout has the positions of all points at top-out that the variables x describe, in the order of the mechanism.
func (c *Case) Layout(x []float64) []kinematics.Vec[float64] {
	var d objectives.Design
	c.Designer().lay(&d, x)
	return d.Layout
}

// Design is the fork that the variables x, in their natural units, describe. Half widths and assembly may be the
// designer's own: they are valid until the next call.
func (w *Designer) Design(dst *objectives.Design, x []float64) {
	w.lay(dst, x)
	k := w.shapeOf(dst.Layout)
	dst.Mechanism, dst.Assembly = k.mechanism, w.placed(k, &dst.Shock)
}

// lay is Design without the mechanism and the assembly, which may have to be made.
func (w *Designer) lay(dst *objectives.Design, x []float64) {
	c := w.c
	dst.Shock = c.Shock
	dst.Layout = append(dst.Layout[:0], c.Fixed...)
	size := c.ShockOf(x)
	angle, polar := 0.0, false
	for i := range c.Free {
		switch f := &c.Free[i]; f.Kind {
		case FreeAlong:
			dst.Layout[f.Point].Along = x[i]
		case FreeAhead:
			dst.Layout[f.Point].Ahead = x[i]
		case FreeShockAngle:
			angle, polar = x[i], true
		case FreeLane:
			w.across.HalfWidthMM[f.Body] = f.LanesMM[int(math.Round(x[i]))]
		}
	}
	dst.Shock.EyeToEyeMM, dst.Shock.StrokeMM, dst.Shock.MassG = size.EyeToEyeMM, size.StrokeMM, size.MassG
	dst.Shock.PreloadMM, dst.Shock.Air = size.PreloadMM, size.Air
	dst.Across, dst.Material = w.across, c.MaterialOf(x)
	if polar {
		sin, cos := math.Sincos(angle)
		from, hung, way := c.ShockEyes()
		dst.Layout[hung] = kinematics.Vec[float64]{
			Along: dst.Layout[from].Along + way*size.EyeToEyeMM*cos, Ahead: dst.Layout[from].Ahead + way*size.EyeToEyeMM*sin,
		}
	}
}

// ShockOf is the shock that the variables choose, the only one where there is no choice.
func (c *Case) ShockOf(x []float64) ShockSize {
	for i := range c.Free {
		if c.Free[i].Kind == FreeShock {
			return c.Shocks[int(math.Round(x[i]))]
		}
	}
	return c.Shocks[0]
}

// MaterialOf is the material that the variables choose, the only one where there is no choice.
func (c *Case) MaterialOf(x []float64) *fork.Material {
	for i := range c.Free {
		if c.Free[i].Kind == FreeMaterial {
			return &c.Materials[int(math.Round(x[i]))]
		}
	}
	if len(c.Materials) == 0 {
		return nil
	}
	return &c.Materials[0]
}

// ShockEyes returns the eye of the shock that has its own coordinates and the one with an angle about it; way is 1
// where the latter is the lower one, else −1.
func (c *Case) ShockEyes() (from, hung int, way float64) {
	upper, lower := c.Mechanism.Point(scheme.PointShockUpper), c.Mechanism.Point(scheme.PointShockLower)
	if c.lowerFixed {
		return lower, upper, -1
	}
	return upper, lower, 1
}

// Polar tells whether an eye of the shock has an angle instead of coordinates.
func (c *Case) Polar() bool {
	for i := range c.Free {
		if c.Free[i].Kind == FreeShockAngle {
			return true
		}
	}
	return false
}
