package objectives

import (
	"slices"

	"forkfront/kinematics"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
)

// Reasons why a measure is unavailable with a spring of the other kind.
const (
	noCoil = "an air spring has no coil"
	noAir  = "a coil holds no air"
)

// Unavailable is why no fork of a mechanism with any of these shocks has the measure, whatever its
// coordinates; empty if one may have it.
func (m *Measure) Unavailable(of *kinematics.Mechanism, shocks []fork.Shock) string {
	switch {
	case m.Needs >= ride.NeedDrive && !of.HasShock():
		return ride.Undriven
	case m.Needs >= NeedStructure && of.Unsized() != "":
		return of.Unsized()
	case len(shocks) == 0 || slices.ContainsFunc(shocks, func(k fork.Shock) bool { return m.spring.mismatch(&k) == "" }):
		return ""
	}
	return m.spring.mismatch(&shocks[0])
}

// AppliesTo reports whether the measure is defined for a shock, by the kind of its spring.
func (m *Measure) AppliesTo(of *fork.Shock) bool { return m.spring.mismatch(of) == "" }

// springKind is the kind of spring for which a measure is defined.
type springKind int

const (
	anySpring springKind = iota
	coilSpring
	airSpring
)

// mismatch is why a shock's spring is not of the kind, or empty.
func (k springKind) mismatch(s *fork.Shock) string {
	switch {
	case k == coilSpring && s.Air != nil:
		return noCoil
	case k == airSpring && s.Air == nil:
		return noAir
	}
	return ""
}
