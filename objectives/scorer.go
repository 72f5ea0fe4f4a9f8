package objectives

import (
	"forkfront/kinematics"
)

// Design is one candidate of a case: a mechanism, its coordinates at top-out, and its shock.
type Design struct {
	Mechanism *kinematics.Mechanism
	Layout    []kinematics.Vec[float64] // by point of the mechanism, mm
	Shock     Shock
}

// Score is what was found of one design: a value a measure, in the order of Measures; where Missing
// has a reason there is none.
type Score struct {
	Values    []float64
	Missing   []string
	ReachedMM float64
	Fault     string // why the mechanism stops short; empty when it does not
}

// Scorer turns designs into scores. It is one worker's memory: after the first design it allocates
// only for the reasons of designs that do not work.
type Scorer struct {
	conditions *Conditions
	motion     kinematics.Motion
	shadow     kinematics.Shadow
	plain      Subject[float64]
	tangent    Subject[complex128]
}

// NewScorer gives one worker its memory. The conditions must be prepared.
func NewScorer(c *Conditions) *Scorer { return &Scorer{conditions: c} }

// Score studies one design.
func (sc *Scorer) Score(dst *Score, d *Design) {
	c := sc.conditions
	sc.motion.Sweep(d.Mechanism, &c.Chassis, d.Layout, c.TravelMM, c.Samples)
	s := &sc.plain
	s.Conditions, s.Shock, s.States = c, &d.Shock, sc.motion.States
	s.ReachedMM = sc.motion.ReachedMM
	s.Missing = [needs]string{}
	if sc.motion.Fault != "" {
		s.fail(NeedTravel, "%s (reached %.4g of %.4g mm)", sc.motion.Fault, s.ReachedMM, c.TravelMM)
	} else {
		s.study(&sc.motion)
	}
	dst.ReachedMM, dst.Fault = s.ReachedMM, sc.motion.Fault
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

// step is that of the complex derivative: its square vanishes against any value here.
const step = 1e-40

// Slope gives the derivative of every measure along one direction of the layout, for the design
// scored last, which must have moved through. Entries of measures that are missing are 0.
func (sc *Scorer) Slope(dst []float64, d *Design, direction []kinematics.Vec[float64], layout []kinematics.Vec[complex128]) {
	for i := range d.Layout {
		layout[i] = kinematics.Vec[complex128]{
			Along: complex(d.Layout[i].Along, direction[i].Along*step),
			Ahead: complex(d.Layout[i].Ahead, direction[i].Ahead*step),
		}
	}
	s, c := &sc.tangent, sc.conditions
	s.Conditions, s.Shock = c, &d.Shock
	s.Missing = [needs]string{}
	sc.shadow.Set(&sc.motion, d.Mechanism, layout)
	if len(s.States) != c.Samples {
		s.States = make([]kinematics.State[complex128], c.Samples)
	}
	for i := range s.States {
		sc.shadow.Follow(&s.States[i], nil, &sc.motion.States[i], complex(sc.motion.States[i].TravelMM, 0))
	}
	s.study(&sc.shadow)
	for i := range Measures {
		dst[i] = 0
		if s.Missing[Measures[i].Needs] == "" {
			dst[i] = imag(Measures[i].slope(s)) / step
		}
	}
}

// Prepare fills in the telescopic baseline: the same travel and sag, and a linear spring along the
// steering axis.
func (c *Conditions) Prepare() {
	b := &c.Baseline
	b.States = make([]kinematics.State[float64], c.Samples)
	for i := range b.States {
		c.Chassis.Telescopic(&b.States[i], nil, c.TravelMM*float64(i)/float64(c.Samples-1))
	}
	b.Subject = &Subject[float64]{}
	s := b.Subject
	*s = Subject[float64]{Conditions: c, Shock: &Shock{Count: 1, StrokeMM: c.TravelMM}, States: b.States, ReachedMM: c.TravelMM}
	s.study(telescopic{&c.Chassis})
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
}

// telescopic solves the baseline.
type telescopic struct{ chassis *kinematics.Chassis }

// Solve is exact at every travel.
func (t telescopic) Solve(dst *kinematics.State[float64], second *kinematics.Second[float64], travelMM float64) bool {
	t.chassis.Telescopic(dst, second, travelMM)
	return true
}
