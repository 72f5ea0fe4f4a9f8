package objectives

import (
	"forkfront/kinematics"
	"forkfront/objectives/clearance"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
	"forkfront/objectives/structure"
)

// Design is one candidate of a case: a mechanism, its coordinates at top-out, and its shock.
type Design struct {
	Mechanism *kinematics.Mechanism
	Layout    []kinematics.Vec[float64] // by point of the mechanism, mm
	Shock     fork.Shock
	Across    *fork.Across        // how its parts stand across the plane; nil: it gets no sizes
	Material  *fork.Material      // of its tubes
	Room      *clearance.Assembly // its package; nil: it gets no clearance
}

// Score is what was found of one design: one value per measure, in the order of Measures; where Missing
// has a reason there is none.
type Score struct {
	Values    []float64
	Missing   []string
	ReachedMM float64
	Fault     string        // why the mechanism stops short; empty when it does not
	Closest   clearance.Gap // the pair of clearance_mm; without a name where that is missing
	HoldsBar  float64       // pressure that the air spring holds; 0: not known, or a coil
}

// Scorer turns designs into scores. It is one worker's memory: after the first design it allocates
// only for the reasons of designs that do not work.
type Scorer struct {
	conditions *Conditions
	motion     kinematics.Motion
	ride       ride.Ride[float64]
	derivative ride.Derivative
	sizer      structure.Sizer
	search     clearance.Search
	radii      []float64 // of members, mm
	found      findings
	slopes     slopes
	studies    uint64 // so many designs have been scored
}

// NewScorer gives one worker its memory.
func NewScorer(c *Conditions) *Scorer { return &Scorer{conditions: c} }

// Score scores one design. What is slower to find is asked of the study, until the scorer goes on to another
// design.
func (sc *Scorer) Score(dst *Score, d *Design) Study {
	c := sc.conditions
	sc.studies++
	sc.derivative.Forget()
	sc.motion.Sweep(d.Mechanism, &c.Chassis, d.Layout, c.TravelMM, c.Samples)
	r, f := &sc.ride, &sc.found
	ride.Study(r, &c.Setting, c.Baseline.Baseline, &d.Shock, &sc.motion, d.Mechanism)
	f.ride, f.missing = r, missingOf(r)
	sc.size(d)
	sc.clear(d)
	dst.ReachedMM, dst.Fault = r.ReachedMM, sc.motion.Fault
	dst.Closest, dst.HoldsBar = clearance.Gap{}, 0
	if d.Shock.Air != nil {
		dst.HoldsBar = d.Shock.Air.MaxBar
	}
	if f.missing[NeedPackage] == "" {
		dst.Closest = sc.search.Closest()
	}
	dst.Values, dst.Missing = perMeasure(dst.Values), perMeasure(dst.Missing)
	f.read(dst.Values, dst.Missing)
	return Study{sc, d, sc.studies}
}

func perMeasure[E any](s []E) []E {
	if len(s) != len(Measures) {
		return make([]E, len(Measures))
	}
	return s
}

// size gives the fork its sizes.
func (sc *Scorer) size(d *Design) {
	f := &sc.found
	if f.missing[NeedStructure] == "" {
		f.sized, f.missing[NeedStructure] = sc.sizer.Size(sc.conditions.Structure, f.ride, d.Mechanism, d.Layout, d.Across, d.Material)
	}
}

// clear looks through the fork's room.
func (sc *Scorer) clear(d *Design) {
	f := &sc.found
	if f.missing[NeedPackage] = f.crowded(d, sc.conditions.Structure != nil); f.missing[NeedPackage] != "" {
		return
	}
	var radii []float64
	if sc.conditions.Structure != nil {
		sc.radii = sc.radii[:0]
		for i := range f.sized.Members {
			sc.radii = append(sc.radii, f.sized.Members[i].DiameterMM*0.5)
		}
		radii = sc.radii
	}
	f.gaps = &sc.search
	f.gaps.Find(d.Room, &sc.motion, d.Mechanism, d.Layout, radii)
}

// crowded tells why a fork can have no clearance, or is empty.
func (f *findings) crowded(d *Design, sized bool) string {
	switch {
	case f.missing[ride.NeedTravel] != "":
		return f.missing[ride.NeedTravel]
	case d.Room == nil:
		return "no package is given"
	case d.Room.Missing != "":
		return d.Room.Missing
	case sized:
		return f.missing[NeedStructure]
	}
	return ""
}
