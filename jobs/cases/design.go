package cases

import (
	"math"
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
	"forkfront/objectives"
	"forkfront/objectives/clearance"
	"forkfront/objectives/fork"
)

// Design is the fork that the variables x, in their natural units, describe.
//
// Where the search chooses lanes, dst keeps half widths and an assembly of its own for the next call.
func (c *Case) Design(dst *objectives.Design, x []float64) {
	across, assembly := c.ownLanes(dst)
	dst.Mechanism, dst.Shock = c.Mechanism, c.Shock
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
		}
	}
	dst.Shock.EyeToEyeMM, dst.Shock.StrokeMM, dst.Shock.MassG = size.EyeToEyeMM, size.StrokeMM, size.MassG
	dst.Shock.PreloadMM, dst.Shock.Air = size.PreloadMM, size.Air
	dst.Across, dst.Material, dst.Assembly = across, c.MaterialOf(x), assembly
	if across != c.Across {
		c.choose(dst, x)
	}
	if polar {
		sin, cos := math.Sincos(angle)
		from, hung, way := c.ShockEyes()
		dst.Layout[hung] = kinematics.Vec[float64]{
			Along: dst.Layout[from].Along + way*size.EyeToEyeMM*cos, Ahead: dst.Layout[from].Ahead + way*size.EyeToEyeMM*sin,
		}
	}
}

// ownLanes are the half widths and the assembly of the case or, where lanes are chosen, those that are a design's own.
func (c *Case) ownLanes(d *objectives.Design) (*fork.Across, *clearance.Assembly) {
	if !slices.ContainsFunc(c.Free, func(f Free) bool { return f.Kind == FreeLane }) {
		return c.Across, c.Assembly
	}
	if d.Mechanism == c.Mechanism && d.Across != nil && d.Across != c.Across {
		return d.Across, d.Assembly
	}
	across := *c.Across
	across.HalfWidthMM = slices.Clone(c.Across.HalfWidthMM)
	if c.Assembly == nil {
		return &across, nil
	}
	return &across, c.Assembly.Movable()
}

// choose moves the bodies of a design to the lanes that the variables choose.
func (c *Case) choose(d *objectives.Design, x []float64) {
	moved := false
	for i := range c.Free {
		if f := &c.Free[i]; f.Kind == FreeLane {
			now := &d.Across.HalfWidthMM[f.Body]
			mm := f.LanesMM[int(math.Round(x[i]))]
			moved = moved || *now != mm
			*now = mm
		}
	}
	if moved && d.Assembly != nil {
		d.Assembly.Place(d.Mechanism, d.Across, &d.Shock)
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
