package fork

import (
	"forkfront/kinematics/mechanism"
)

// Across is the lateral arrangement of the parts of a mechanism. Its slices are indexed like the mechanism's bodies,
// Shafts like its points.
type Across struct {
	HalfWidthMM []float64 // a pair of members at ± this; 0: one central member
	OneSide     []bool    // a single member, on the side of the brake
	Shafts      []ShaftKind

	ShockHalfWidthMM float64 // of two shocks side by side
}

// ShaftKind is the kind of a pivot's shaft: one through the mid-plane, or a stub on either side.
type ShaftKind int

// Kinds of shafts. ShaftByWheel is replaced by Settle: through where the pivot stays clear of the wheel.
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

// DefaultAcross places the bodies that carry the axle or the caliper, and paired shocks, at ±72 mm and all others at
// ±45 mm, and a guide where the body that slides on it is, for a tyre 61 mm wide (common practice without a source).
func DefaultAcross(m *mechanism.Mechanism) *Across {
	a := &Across{HalfWidthMM: make([]float64, len(m.Bodies)), OneSide: make([]bool, len(m.Bodies)), Shafts: make([]ShaftKind, len(m.Points)), ShockHalfWidthMM: 72}
	for b := range m.Bodies {
		a.HalfWidthMM[b] = 45
		if b == m.Wheel() || b == m.Brake() {
			a.HalfWidthMM[b] = 72
		}
	}
	for _, s := range m.Slides() {
		wide := max(a.HalfWidthMM[s.Guide], a.HalfWidthMM[s.Slider])
		a.HalfWidthMM[s.Guide], a.HalfWidthMM[s.Slider] = wide, wide
	}
	return a
}

// ShockHalf is the distance of each shock from the mid-plane, in mm: 0 for a single one.
func (a *Across) ShockHalf(shock *Shock) float64 {
	if shock.Count > 1 {
		return a.ShockHalfWidthMM
	}
	return 0
}
