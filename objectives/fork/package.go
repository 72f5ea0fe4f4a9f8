package fork

import (
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/solid"
)

// Package is the room that a fork takes and finds, for one mechanism. Lengths in mm.
type Package struct {
	TyreWidthMM   float64 // the tyre's tube is as wide as it is high
	RimWidthMM    float64 // width of the disc within the tyre: rim and spokes
	HubWidthMM    float64 // between the faces that legs or arms bear on
	RotorRadiusMM float64 // how far hub and rotor reach from the axle, at the hub's width
	LockRad       float64 // steering angle to either side
	CrownRadiusMM float64 // the crown is round about the steering axis, its underside at root

	Shafts        []float64 // radius of the pin by point; 0: none
	Members       []float64 // radius by member, where a fork gets no sizes
	ShockRadiusMM float64

	Frame   []Capsule // what is fixed to the frame
	Steered []Capsule // what turns with the crown
}

// Settle decides which shafts go through where it is not said: those of pivots that stay clear of the
// wheel, which a pivot of the ground must do all along the steering axis up to full travel; and of the
// shock's eyes, where there is one shock in the middle. A search decides it once, for all of its
// candidates, so that a pivot does not escape the tyre by changing its shaft.
func (a *Across) Settle(m *kinematics.Mechanism, c *kinematics.Chassis, travelMM float64, layout []kinematics.Vec[float64], shock *Shock, p *Package) {
	for point, name := range m.Points {
		if a.Shafts[point] != ShaftByWheel {
			continue
		}
		a.Shafts[point] = ShaftThrough
		eye := name == kinematics.PointShockUpper || name == kinematics.PointShockLower
		if eye && shock.Count > 1 || p.withinWheel(m, c, travelMM, layout, point) {
			a.Shafts[point] = ShaftStub
		}
	}
}

// withinWheel tells whether a shaft would meet the wheel.
func (p *Package) withinWheel(m *kinematics.Mechanism, c *kinematics.Chassis, travelMM float64, layout []kinematics.Vec[float64], point int) bool {
	axle := layout[m.Point(kinematics.PointAxle)]
	at := layout[point]
	if slices.Contains(m.PointBodies(point), m.Bodies[m.Ground()]) {
		axle.Along = min(axle.Along, max(axle.Along-travelMM, at.Along))
	}
	return kinematics.Distance(at, axle) < c.FrontRadiusMM+p.Shafts[point]
}

// Capsule is a round part that stays where it is: on the frame, or on what steers.
type Capsule struct {
	Name     string
	Ends     solid.Segment[float64]
	RadiusMM float64
	Joined   bool // head tube, down tube, stem, handlebar: what is built together is not held against each other
}
