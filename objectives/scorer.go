package objectives

import (
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/objectives/clearance"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
	"forkfront/objectives/simulation"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/spaceframe"
)

// Design is one candidate of a case: a mechanism, its coordinates at top-out, and its shock.
type Design struct {
	Mechanism *mechanism.Mechanism
	Layout    []kinematics.Vec[float64] // by point of the mechanism, mm
	Shock     fork.Shock
	Across    *fork.Across        // lateral positions of its parts; nil: it is not sized
	Material  *fork.Material      // of its tubes
	Assembly  *clearance.Assembly // it in its package; nil: it has no clearance
}

// Score is the result for one design: one value per measure, by its number (see At); where Missing has a reason,
// there is no value.
type Score struct {
	Values         []float64
	Missing        []string
	ReachedMM      float64
	Fault          string        // why the mechanism stops short; empty when it does not
	Closest        clearance.Gap // the pair of clearance_mm; without a name where that is missing
	MaxPressureBar float64       // pressure that the air spring is built for; 0: unknown, or a coil
}

// Scorer turns designs into scores. It is one worker's memory: after the first design it allocates
// only for the reasons of designs that do not work.
type Scorer struct{ worker }

// worker is a scorer, behind an interface as readings are.
type worker interface {
	// Score scores one design. What is slower to compute is computed by the study, until the scorer scores
	// another design.
	Score(dst *Score, d *Design) Study
}

// NewScorer returns a scorer for one worker.
func NewScorer(c *Conditions) *Scorer { return &Scorer{newScorer(c)} }

type scorer struct {
	conditions *Conditions
	motion     kinematics.Motion
	ride       ride.Ride[float64]
	derivative ride.Derivative
	sizer      structure.Sizer
	search     clearance.Search
	radii      []float64                 // of tubes, mm
	extended   []kinematics.Vec[float64] // memory for the layout of a fork with slides
	found      findings
	slopes     slopes
	studies    uint64                // number of designs scored
	simulator  *simulation.Simulator // of the events of a duty; nil until there are some
	traces     *simulation.Traces
}

func newScorer(c *Conditions) *scorer { return &scorer{conditions: c} }

func (sc *scorer) Score(dst *Score, d *Design) Study {
	c := sc.conditions
	sc.studies++
	sc.derivative.Forget()
	sc.motion.Sweep(d.Mechanism, &c.Chassis, d.Layout, c.TravelMM, c.Samples)
	r, f := &sc.ride, &sc.found
	ride.Study(r, &c.Setting, c.Baseline.Baseline, &d.Shock, &sc.motion, d.Mechanism)
	f.ride, f.proof, f.missing = r, nil, missingOf(r)
	f.damp(c)
	sc.size(d)
	sc.clear(d)
	dst.ReachedMM, dst.Fault = r.ReachedMM, sc.motion.Fault
	dst.Closest, dst.MaxPressureBar = clearance.Gap{}, 0
	if d.Shock.Air != nil {
		dst.MaxPressureBar = d.Shock.Air.MaxBar
	}
	if f.missing[NeedPackage] == "" {
		dst.Closest = sc.search.Closest()
	}
	dst.Values, dst.Missing = perMeasure(dst.Values), perMeasure(dst.Missing)
	f.read(dst.Values, dst.Missing)
	dst.unsimulated()
	return Study{sc, d, sc.studies}
}

func perMeasure[E any](s []E) []E {
	if len(s) != len(numbered) {
		return make([]E, len(numbered))
	}
	return s
}

// size sizes the fork.
func (sc *scorer) size(d *Design) {
	f := &sc.found
	if f.missing[NeedStructure] == "" {
		f.sized, f.missing[NeedStructure] = sc.sizer.Size(sc.conditions.Structure, f.ride, d.Mechanism, d.Layout, d.Across, d.Material)
		f.whole = spaceframe.Fork[float64]{Sized: f.sized}
	}
}

// clear finds the smallest gaps of the fork in its package.
func (sc *scorer) clear(d *Design) {
	f := &sc.found
	if f.missing[NeedPackage] = f.noClearance(d, sc.conditions.Structure != nil); f.missing[NeedPackage] != "" {
		return
	}
	var radii []float64
	if sc.conditions.Structure != nil {
		sc.radii = sc.radii[:0]
		sc.radii = structure.Radii(f.sized, sc.radii)
		radii = sc.radii
	}
	f.gaps = &sc.search
	f.gaps.Find(d.Assembly, &sc.motion, d.Mechanism, sc.wholeLayout(d), radii)
}

// wholeLayout is the layout of a fork with the points of its sliding tubes.
func (sc *scorer) wholeLayout(d *Design) []kinematics.Vec[float64] {
	if len(d.Mechanism.Slides()) == 0 {
		return d.Layout
	}
	sc.extended = mechanism.ExtendLayout(d.Mechanism, sc.extended[:0], d.Layout, sc.ride.Full(), sc.conditions.overlap())
	return sc.extended
}

// overlap is the one wanted of sliding tubes at top-out, in mm.
func (c *Conditions) overlap() float64 {
	if c.Structure == nil {
		return parts.DefaultSlideRules().OverlapMM
	}
	return c.Structure.Slides.OverlapMM
}

// noClearance is why a fork has no clearance, or empty.
func (f *findings) noClearance(d *Design, sized bool) string {
	switch {
	case f.missing[ride.NeedTravel] != "":
		return f.missing[ride.NeedTravel]
	case d.Assembly == nil:
		return "no package is given"
	case d.Assembly.Missing != "":
		return d.Assembly.Missing
	case sized:
		return f.missing[NeedStructure]
	}
	return ""
}
