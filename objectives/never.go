package objectives

import (
	"slices"

	"forkfront/kinematics"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
)

// Reasons that hold for every fork of a mechanism, or with a spring of the other kind.
const (
	noCoil = "an air spring has no coil"
	noAir  = "a coil holds no air"
)

// Never tells why no fork of a mechanism with any of these shocks has the measure, whatever its
// coordinates; empty where one may have it.
func (m *Measure) Never(of *kinematics.Mechanism, shocks []fork.Shock) string {
	switch {
	case m.Needs >= ride.NeedDrive && !of.HasShock():
		return ride.Undriven
	case m.Needs >= NeedStructure && of.Unsized() != "":
		return of.Unsized()
	case len(shocks) == 0 || slices.ContainsFunc(shocks, func(k fork.Shock) bool { return m.spring.lacks(&k) == "" }):
		return ""
	}
	return m.spring.lacks(&shocks[0])
}

// Speaks tells whether the measure has a meaning for a shock: its spring is not of the other kind.
func (m *Measure) Speaks(of *fork.Shock) bool { return m.spring.lacks(of) == "" }

// springKind is a kind of spring that a measure speaks of.
type springKind int

const (
	anySpring springKind = iota
	coilSpring
	airSpring
)

// lacks tells why a shock's spring is not of the kind, or is empty.
func (k springKind) lacks(s *fork.Shock) string {
	switch {
	case k == coilSpring && s.Air != nil:
		return noCoil
	case k == airSpring && s.Air == nil:
		return noAir
	}
	return ""
}
