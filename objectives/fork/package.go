package fork

import (
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/solid"
	"forkfront/kinematics/stance"
)

// Package is the space that a fork of one mechanism takes up and the parts around it. Lengths are in mm.
type Package struct {
	TyreWidthMM   float64 // diameter of the tyre's section, which is a circle
	RimWidthMM    float64 // width of the disc within the tyre: rim and spokes
	HubWidthMM    float64 // between the faces that legs or arms are clamped to
	RotorRadiusMM float64 // radius of hub and rotor as one drum of the hub's width
	LockRad       float64 // steering angle to either side
	CrownRadiusMM float64 // the crown is round about the steering axis, its underside at root

	Shafts        []float64 // radius of the pin by point; 0: none
	Members       []float64 // radius by member, where members are not sized
	ShockRadiusMM float64

	Frame   []Capsule // parts fixed to the frame
	Steered []Capsule // parts that turn with the crown
}

// Settle decides which shafts of unspecified kind are through shafts: those of pivots that stay clear of the
// wheel, for a pivot of the ground over the whole travel of the wheel along the steering axis; and those of the
// shock's eyes if there is only one shock. A search decides this once for all candidates, so that a pivot cannot
// avoid a collision with the tyre by changing its shaft.
func (a *Across) Settle(m *mechanism.Mechanism, c *stance.Chassis, travelMM float64, layout []kinematics.Vec[float64], shock *Shock, p *Package) {
	for point, name := range m.Points {
		if a.Shafts[point] != ShaftByWheel {
			continue
		}
		a.Shafts[point] = ShaftThrough
		eye := name == scheme.PointShockUpper || name == scheme.PointShockLower
		if eye && shock.Count > 1 || p.withinWheel(m, c, travelMM, layout, point) {
			a.Shafts[point] = ShaftStub
		}
	}
}

// withinWheel reports whether a through shaft would intersect the wheel.
func (p *Package) withinWheel(m *mechanism.Mechanism, c *stance.Chassis, travelMM float64, layout []kinematics.Vec[float64], point int) bool {
	axle := layout[m.Point(scheme.PointAxle)]
	at := layout[point]
	if slices.Contains(m.PointBodies(point), m.Bodies[m.Ground()]) {
		axle.Along = min(axle.Along, max(axle.Along-travelMM, at.Along))
	}
	return kinematics.Distance(at, axle) < c.FrontRadiusMM+p.Shafts[point]
}

// Capsule is a round part that does not move with the suspension: on the frame, or on the steered side.
type Capsule struct {
	Name     string
	Ends     solid.Segment[float64]
	RadiusMM float64
	Joined   bool // head tube, down tube, stem, handlebar: gaps between parts that are joined are not checked
}
