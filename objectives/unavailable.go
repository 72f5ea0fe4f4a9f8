package objectives

import (
	"slices"

	"forkfront/kinematics/mechanism"
	"forkfront/objectives/fork"
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
)

// Reasons why a measure is unavailable with a spring of the other kind.
const (
	noCoil = "an air spring has no coil"
	noAir  = "a coil holds no air"
)

// Given is what a file may say beyond what a fork consists of.
type Given struct {
	Ride    bool // the tyre, the damping that is wanted and a road
	Dampers bool // the dampers on sale
	Tests   bool // the test loads that forks are checked against
}

// Given is what the conditions of a case say.
func (c *Conditions) Given() Given {
	g := givenBy(c.Quarter)
	g.Tests = c.Structure != nil && c.Structure.Proof != nil
	return g
}

func givenBy(q *quarter.Setting) Given {
	return Given{Ride: q != nil, Dampers: q != nil && len(q.Dampers) > 0}
}

// Unavailable is why no fork of a mechanism with any of these shocks has the measure in a file that says what is given,
// whatever its coordinates; empty if one may have it.
func (m *Measure) Unavailable(of *mechanism.Mechanism, shocks []fork.Shock, given Given) string {
	switch {
	case m.given.lacking(given) != "":
		return m.given.lacking(given)
	case m.Needs >= ride.NeedDrive && !of.HasShock():
		return ride.Undriven
	case m.Needs >= NeedStructure && of.Unsized() != "":
		return of.Unsized()
	case len(shocks) == 0 || slices.ContainsFunc(shocks, func(k fork.Shock) bool { return m.spring.mismatch(&k) == "" }):
		return ""
	}
	return m.spring.mismatch(&shocks[0])
}

// AppliesTo reports whether the measure is defined for a shock, by the kind of its spring, in a file that says what is given.
func (m *Measure) AppliesTo(of *fork.Shock, given Given) bool {
	return m.spring.mismatch(of) == "" && m.given.lacking(given) == ""
}

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

// Reasons why a measure that needs more than the fork is unavailable.
const (
	NoRide    = "no ride section is given"
	noDampers = "no dampers are listed"
	noTests   = "no test loads are given"
)

// givenKind is what a measure needs beyond the fork.
type givenKind int

const (
	always       givenKind = iota
	givenRide              // a ride section
	givenDampers           // that and dampers on sale
	givenEven              // a ride section, and a wheel rate above 0 from sag on
	givenTests             // test loads, nothing of a ride section
)

// ofRide tells whether a ride section is needed.
func (k givenKind) ofRide() bool { return k != always && k != givenTests }

// lacking is which of what is needed is not given, or empty.
func (k givenKind) lacking(given Given) string {
	switch {
	case k.ofRide() && !given.Ride:
		return NoRide
	case k == givenTests && !given.Tests:
		return noTests
	case k == givenDampers && !given.Dampers:
		return noDampers
	}
	return ""
}

// lacks is why what a measure is given is not there, or empty.
func (f *findings) lacks(k givenKind) string {
	if !k.ofRide() { // tests are for the slow measures, which know themselves
		return ""
	}
	why := k.lacking(givenBy(f.damping))
	if why == "" && k == givenEven {
		return f.quarter.Uneven
	}
	return why
}
