package objectives

import (
	"slices"

	"forkfront/objectives/clearance"
	"forkfront/objectives/naming"
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
	"forkfront/objectives/simulation"
	"forkfront/objectives/structure"
)

// Sense tells which way is better. Whether it matters at all is the job's to say.
type Sense string

// Senses of a measure.
const (
	Low     Sense = "low"
	High    Sense = "high"
	Neutral Sense = "" // neither, or a band
)

// Needs of measures beyond those of the motion.
const (
	NeedStructure = ride.Need(ride.Needs) + iota // the fork can be given sizes
	NeedPackage                                  // its parts and what is around them are known
	needs
)

// Measure is a named number read off a fork that was scored. All that is shown of it (columns, help, the
// report's labels) follows from this declaration.
type Measure struct {
	Name, Unit, Doc string
	Formula         string // how it is computed, in a line
	Good            string // which values are good, and on whose word
	Sketch          string // what its page shows: a drawing by its name, or a curve by its column; empty: nothing
	Sense           Sense
	Needs           ride.Need // the highest need that it has; the lower ones are implied
	Resolution      float64   // difference below which two forks count as equal; 0: none stated
	Scale           float64   // an amount that is plainly a lot, by which violations are scaled
	OfLinkage       bool      // has no meaning for the telescopic baseline
	ToleranceOf     string    // the measure whose standard deviation it is; empty: none's
	Companion       bool      // listed beside the objective of a search that has only one

	event      *simulation.Reading // of which event it is a quantity; nil: none
	telescopic number[float64]     // a telescopicOf, of a measure that needs sizes: what is known of the telescopic fork; nil: nothing
	reading
}

// Slow reports whether a measure takes long: a study's Complete finds it. Those of events, which it does not find, are not
// among them.
func (m *Measure) Slow() bool { return m.value == nil && m.event == nil }

// Label is the measure's name in words, without its unit.
func (m *Measure) Label() string { return naming.Label(m.Name) }

// Named is the measure in words with the name by which files know it, "mass (mass_g)".
func (m *Measure) Named() string { return m.Label() + " (" + m.Name + ")" }

// reading is how a measure is taken: its value, and its value with a derivative. The value of a slow one is found by a study.
type reading struct {
	value     number[float64]        // a valueOf; nil: it takes long
	slope     number[complex128]     // a slopeOf; nil: it has none
	slopeless func(*Conditions) bool // cases in which it has none either; nil: no others
	second    bool                   // looks at second derivatives at sag, so that its own needs third ones
	spring    springKind
	given     givenKind
}

// number takes a number off what measures are read off. Whoever imports a type compiles all instantiated generic code that it
// leads to, and findings lead to all of kinematics and structure: so types that others import have interfaces in place of functions.
type number[T float64 | complex128] interface{ of(read any) T }

type (
	valueOf      func(*findings) float64
	slopeOf      func(*slopes) complex128
	telescopicOf func(*knownTelescopic) float64
)

func (f valueOf) of(read any) float64      { return f(read.(*findings)) }
func (f slopeOf) of(read any) complex128   { return f(read.(*slopes)) }
func (f telescopicOf) of(read any) float64 { return f(read.(*knownTelescopic)) }

func ofRide(value func(*ride.Ride[float64]) float64, slope func(*ride.Ride[complex128]) complex128) reading {
	return reading{
		value: valueOf(func(f *findings) float64 { return value(f.ride) }),
		slope: slopeOf(func(s *slopes) complex128 { return slope(s.ride) }),
	}
}

func ofSizes(value func(*structure.Sized[float64]) float64, slope func(*structure.Sized[complex128]) complex128) reading {
	return reading{
		value: valueOf(func(f *findings) float64 { return value(f.sized) }),
		slope: slopeOf(func(s *slopes) complex128 { return slope(s.sized) }),
	}
}

func ofGaps(value func(*clearance.Search) float64, slope func(*clearance.Search, *clearance.Tangent) complex128) reading {
	return reading{
		value: valueOf(func(f *findings) float64 { return value(f.gaps) }),
		slope: slopeOf(func(s *slopes) complex128 { return slope(s.gaps, &s.tangent) }),
	}
}

// ofQuarter is a reading of the quarter model, which looks at the wheel rate at sag.
func ofQuarter(value func(*quarter.Quarter[float64]) float64, slope func(*quarter.Quarter[complex128]) complex128) reading {
	return reading{
		value: valueOf(func(f *findings) float64 { return value(&f.quarter) }),
		slope: slopeOf(func(s *slopes) complex128 { return slope(&s.quarter) }),
		given: givenRide,
	}.curved()
}

// ofModel is a reading of its two masses.
func ofModel(value func(*quarter.Model[float64]) float64, slope func(*quarter.Model[complex128]) complex128) reading {
	return ofQuarter(
		func(q *quarter.Quarter[float64]) float64 { return value(&q.Model) },
		func(q *quarter.Quarter[complex128]) complex128 { return slope(&q.Model) },
	)
}

// ofFrame is a reading of a space frame: slow, with a slope.
func ofFrame(slope slopeOf) reading { return reading{slope: slope} }

// without marks a reading that has no slope in some cases.
func (r reading) without(slope func(*Conditions) bool) reading {
	r.slopeless = slope
	return r
}

// eventsInDuty tells whether a duty has events: rainflow counts the cycles of a motion that depends on the fork as well, so
// that the damage has no derivative.
func eventsInDuty(c *Conditions) bool {
	return c.Structure != nil && c.Structure.Proof != nil && len(c.Structure.Proof.Events) > 0
}

// curved marks a reading that looks at second derivatives.
func (r reading) curved() reading {
	r.second = true
	return r
}

// on marks a reading of one kind of spring.
func (r reading) on(k springKind) reading {
	r.spring = k
	return r
}

// with marks a reading of what a file may lack.
func (r reading) with(k givenKind) reading {
	r.given = k
	return r
}

// Index finds the number of a measure by name, or -1: see At.
func Index(name string) int {
	return slices.IndexFunc(numbered, func(m *Measure) bool { return m.Name == name })
}

// taken is what read needs of a measure, side by side in memory for all of them.
type taken struct {
	needs  ride.Need
	spring springKind
	given  givenKind
	value  valueOf
}

var takenOf = func() []taken {
	all := make([]taken, len(Measures))
	for i := range Measures {
		value, _ := Measures[i].value.(valueOf)
		all[i] = taken{Measures[i].Needs, Measures[i].spring, Measures[i].given, value}
	}
	return all
}()
