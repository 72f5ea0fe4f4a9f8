package objectives

import (
	"forkfront/kinematics"
)

// Design is one candidate of a case: a mechanism, its coordinates at top-out, and its shock.
type Design struct {
	Mechanism *kinematics.Mechanism
	Layout    []kinematics.Vec[float64] // by point of the mechanism, mm
	Shock     Shock
	Across    *Across   // how its parts stand across the plane; nil: it gets no sizes
	Material  *Material // of its tubes
	Room      *Room     // its package; nil: it gets no clearance
}

// Score is what was found of one design: a value a measure, in the order of Measures; where Missing
// has a reason there is none.
type Score struct {
	Values    []float64
	Missing   []string
	ReachedMM float64
	Fault     string  // why the mechanism stops short; empty when it does not
	Closest   Gap     // the pair of clearance_mm; without a name where that is missing
	HoldsBar  float64 // pressure that the air spring holds; 0: not known, or a coil
}

// Scorer turns designs into scores. It is one worker's memory: after the first design it allocates
// only for the reasons of designs that do not work.
type Scorer struct {
	conditions *Conditions
	motion     kinematics.Motion
	plain      Subject[float64]
	tangent    Subject[complex128]
	trace      trace
	path       *loadPath
	clearing   clearing
	swings     swinging
}

// NewScorer gives one worker its memory. The conditions must be prepared.
func NewScorer(c *Conditions) *Scorer { return &Scorer{conditions: c} }

// Score studies one design.
func (sc *Scorer) Score(dst *Score, d *Design) {
	c := sc.conditions
	sc.trace.partials.forget()
	sc.motion.Sweep(d.Mechanism, &c.Chassis, d.Layout, c.TravelMM, c.Samples)
	s := &sc.plain
	s.Conditions, s.Shock, s.States = c, &d.Shock, sc.motion.States
	s.ReachedMM = sc.motion.ReachedMM
	s.Missing = [needs]string{}
	if sc.motion.Fault != "" {
		s.fail(NeedTravel, "%s (reached %.4g of %.4g mm)", sc.motion.Fault, s.ReachedMM, c.TravelMM)
	} else {
		if !d.Mechanism.HasShock() {
			s.fail(NeedDrive, undriven)
		}
		study(s, &sc.motion)
	}
	sc.structure(d)
	sc.clear(d)
	dst.ReachedMM, dst.Fault = s.ReachedMM, sc.motion.Fault
	dst.Closest, dst.HoldsBar = Gap{}, 0
	if d.Shock.Air != nil {
		dst.HoldsBar = d.Shock.Air.MaxBar
	}
	if s.Missing[NeedPackage] == "" {
		dst.Closest = s.nearest()
	}
	dst.Values, dst.Missing = sized(dst.Values), sized(dst.Missing)
	read(s, dst.Values, dst.Missing)
}

func sized[E any](s []E) []E {
	if len(s) != len(Measures) {
		return make([]E, len(Measures))
	}
	return s
}

// Subject is the fork studied last.
func (sc *Scorer) Subject() *Subject[float64] { return &sc.plain }

// Prepare fills in the telescopic baseline: the same travel and sag, and a linear spring along the
// steering axis.
func (c *Conditions) Prepare() {
	b := &c.Baseline
	b.States, b.trails = make([]kinematics.State[float64], c.Samples), make([]float64, c.Samples)
	for i := range b.States {
		c.Chassis.Telescopic(&b.States[i], nil, c.TravelMM*float64(i)/float64(c.Samples-1))
		b.trails[i] = b.States[i].TrailMM
	}
	b.Subject = &Subject[float64]{}
	s := b.Subject
	*s = Subject[float64]{Conditions: c, Shock: &Shock{Count: 1, StrokeMM: c.TravelMM}, States: b.States, ReachedMM: c.TravelMM}
	study(s, telescopic{&c.Chassis})
	s.fail(NeedStructure, "the telescopic fork is bought, not sized")
	if s.Missing[NeedSag] == "" {
		b.SpringNPerMM = s.spring.strength
	}
	if s.Missing[NeedDive] == "" {
		b.BrakeDiveMM, b.TrailLossMM = s.dive, trailLoss(s)
	}
	b.AntiDiveAtSag = antiDiveAtSag(s)
	b.Values, b.Missing = make([]float64, len(Measures)), make([]string, len(Measures))
	read(s, b.Values, b.Missing)
	for i := range Measures {
		if Measures[i].Linkage {
			b.Values[i], b.Missing[i] = 0, "a telescopic fork has none"
		}
	}
	c.replace()
}

// telescopic solves the baseline.
type telescopic struct{ chassis *kinematics.Chassis }

// Solve is exact at every travel.
func (t telescopic) Solve(dst *kinematics.State[float64], second *kinematics.Second[float64], travelMM float64) bool {
	t.chassis.Telescopic(dst, second, travelMM)
	return true
}
