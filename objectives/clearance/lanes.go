package clearance

import (
	"slices"

	"forkfront/kinematics/mechanism"
	"forkfront/objectives/fork"
)

// Movable is the assembly with parts that Place may move to other lanes: one worker's own.
func (r *Assembly) Movable() *Assembly {
	own := *r
	own.parts, own.pairs = slices.Clone(r.parts), slices.Clone(r.pairs)
	return &own
}

// Place moves the parts of bodies to other lanes, which must not be in the mid-plane. All else about the fork must be as when the assembly was
// made: which bodies and shafts are on one side, which shafts run through, the shock.
func (r *Assembly) Place(m *mechanism.Mechanism, x *fork.Across, shock *fork.Shock) {
	for i := range r.parts {
		p := &r.parts[i]
		var inner, outer float64
		switch {
		case p.shaft:
			inner, outer = extent(m, x, shock, p.points[0], p.bodies)
		case p.member >= 0:
			inner = x.HalfWidthMM[p.bodies[0]]
			outer = inner
		default:
			continue
		}
		if p.mirror {
			inner, outer = -inner, -outer
		}
		p.ends[0].shift.Left, p.ends[1].shift.Left = inner, outer
	}
	for i := range r.pairs {
		r.pairs[i].lateral = r.lateral(&r.pairs[i])
	}
}
