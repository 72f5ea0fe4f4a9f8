package fork

import "forkfront/kinematics"

// Across says how the parts of a mechanism stand across the plane. It is indexed like the
// mechanism's bodies, Shafts like its points.
type Across struct {
	HalfWidthMM []float64 // a pair of members at ± this; 0: one central member
	OneSide     []bool    // only on the side of the brake
	Shafts      []ShaftKind

	ShockHalfWidthMM float64 // where two shocks stand side by side
}

// ShaftKind is how a pivot's shaft runs.
type ShaftKind int

// Kinds of shafts: where it is not said, through where the pivot stays outside the wheel.
const (
	ShaftByWheel ShaftKind = iota
	ShaftThrough
	ShaftStub
)

// Tubes is how many tubes a member of a body has.
func (a *Across) Tubes(body int) float64 {
	if a.HalfWidthMM[body] == 0 || a.OneSide[body] {
		return 1
	}
	return 2
}

// DefaultAcross puts what carries the axle or the caliper, and two shocks, at ±72 mm and all else at ±45 mm, around a
// wheel of 61 mm (common practice without a source).
func DefaultAcross(m *kinematics.Mechanism) *Across {
	a := &Across{HalfWidthMM: make([]float64, len(m.Bodies)), OneSide: make([]bool, len(m.Bodies)), Shafts: make([]ShaftKind, len(m.Points)), ShockHalfWidthMM: 72}
	for b := range m.Bodies {
		a.HalfWidthMM[b] = 45
		if b == m.Wheel() || b == m.Brake() {
			a.HalfWidthMM[b] = 72
		}
	}
	return a
}

// ShockHalf is how far beside the mid-plane the shocks stand: one is in the middle.
func (a *Across) ShockHalf(shock *Shock) float64 {
	if shock.Count > 1 {
		return a.ShockHalfWidthMM
	}
	return 0
}
