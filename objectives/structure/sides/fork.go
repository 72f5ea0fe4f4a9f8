package sides

import (
	"slices"

	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
	"forkfront/objectives/structure/loadpath"
	"forkfront/objectives/structure/parts"
)

// Fork is the fork that a mesh is made for.
type Fork struct {
	Path        *loadpath.Path
	Across      *fork.Across
	ShaftBodies [][2]int // by joint: the body that the pivot's shaft is fixed to, and the one that turns on it
	Through     []bool   // by joint: the shaft runs from side to side
	Shocks      int
	ShockHalf   float64 // half width of the shocks, mm
	Tilt        string  // that of the rules of pivots
}

// passed are the displacements that a shaft shares with a body that turns on it.
func (z *Fork) passed() []int {
	if z.Tilt == parts.TiltFree {
		return tilting
	}
	return allButTurn
}

// key is what determines a mesh.
type key struct {
	path    *loadpath.Path
	half    []float64
	oneSide []bool
	through []bool // by joint
	shock   float64
	shocks  int
	tilt    string
}

// fits tells whether a mesh is that of a fork.
func (k *key) fits(z *Fork) bool {
	return k.path == z.Path && k.tilt == z.Tilt && k.shocks == z.Shocks && k.shock == z.ShockHalf &&
		slices.Equal(k.half, z.Across.HalfWidthMM) && slices.Equal(k.oneSide, z.Across.OneSide) && slices.Equal(k.through, z.Through)
}

// Fits tells whether a mesh is that of a fork.
func (h *Mesh) Fits(of *Fork) bool { return h.built.fits(of) }

// keep tells whether a mesh still fits a fork, and if not records what the new one is determined by.
func (k *key) keep(z *Fork) bool {
	if k.fits(z) {
		return true
	}
	k.path, k.tilt, k.shocks, k.shock = z.Path, z.Tilt, z.Shocks, z.ShockHalf
	k.half = append(k.half[:0], z.Across.HalfWidthMM...)
	k.oneSide = append(k.oneSide[:0], z.Across.OneSide...)
	k.through = append(k.through[:0], z.Through...)
	return false
}

// Stubs tells whether some shafts do not run from side to side, or something slides: where all do, the first of
// them shares the torque of the brake between the sides.
func (z *Fork) Stubs() bool {
	if len(z.Path.Slides) > 0 {
		return true // nor do bushes
	}
	for j, pair := range z.ShaftBodies {
		_, _, point := z.Path.Mechanism.Joint(j)
		if !z.Through[j] && z.Across.HalfWidthMM[pair[0]] > 0 && z.Across.HalfWidthMM[pair[1]] > 0 && z.Path.Mechanism.Points[point] != scheme.PointAxle {
			return true
		}
	}
	return false
}

// TorqueCrosses tells whether a shaft that runs from side to side holds the caliper's body, beside that of the wheel.
func (z *Fork) TorqueCrosses() bool {
	m := z.Path.Mechanism
	for j, pair := range z.ShaftBodies {
		_, _, point := m.Joint(j)
		if z.Through[j] && m.Points[point] != scheme.PointAxle && (pair[0] == m.Brake() || pair[1] == m.Brake()) {
			return true
		}
	}
	return false
}
