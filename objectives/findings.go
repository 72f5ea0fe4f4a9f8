package objectives

import (
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/objectives/clearance"
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/spaceframe"
)

// findings are what measures are read off: a fork's motion, its sizes and the gaps between its parts, as far
// as it has them.
type findings struct {
	ride    *ride.Ride[float64]
	damping *quarter.Setting         // nil: nothing is known of damper, tyre and road
	quarter quarter.Quarter[float64] // where there is damping and the static load balances at sag
	sized   *structure.Sized[float64]
	whole   spaceframe.Fork[float64] // it with its space frames
	gaps    *clearance.Search
	proof   *spaceframe.Proof // nil until it is asked for
	missing [needs]string     // by need; empty: met
}

// slopes are the same with a derivative.
type slopes struct {
	ride    *ride.Ride[complex128]
	damping *quarter.Setting
	quarter quarter.Quarter[complex128]
	sized   *structure.Sized[complex128]
	whole   spaceframe.Fork[complex128]
	plain   *spaceframe.Fork[float64] // what it has the derivatives of
	proof   *spaceframe.Proof
	gaps    *clearance.Search
	tangent clearance.Tangent
	members []complex128 // radius by tube, mm

	extended []kinematics.Vec[complex128] // memory for the layout of a fork with slides

	bodiesOf    uint64                    // the study whose bodies have derivatives, 0: none
	bodiesAlong []kinematics.Vec[float64] // and along which direction
}

// damp finds the quarter model of a fork whose motion is studied.
func (f *findings) damp(c *Conditions) {
	if f.damping = c.Quarter; f.damping != nil && f.missing[ride.NeedSag] == "" {
		quarter.Study(&f.quarter, f.damping, f.ride)
	}
}

// missingOf are the needs that a ride does not meet.
func missingOf(r *ride.Ride[float64]) (all [needs]string) {
	copy(all[:], r.Missing[:])
	all[NeedStructure] = r.Missing[ride.Needs-1] // a need that is not met takes all later ones with it
	all[NeedPackage] = all[NeedStructure]
	return all
}

// read takes all measures. missing is the reason of an empty one.
func (f *findings) read(values []float64, missing []string) {
	values, missing = values[:len(takenOf)], missing[:len(takenOf)]
	for i := range takenOf {
		m := &takenOf[i]
		why := f.missing[m.needs]
		if f.damping == nil && m.given.ofRide() {
			why = NoRide // whatever else the fork lacks
		}
		if why == "" {
			why = m.spring.mismatch(f.ride.Shock)
		}
		if why == "" {
			why = f.lacks(m.given)
		}
		if why == "" && m.value == nil {
			why = unsearched
		}
		x := 0.0
		if why == "" {
			if x = m.value(f); x-x != 0 { // no number, or infinite
				x, why = 0, notFinite
			}
		}
		values[i], missing[i] = x, why
	}
}

// Reasons of measures without a value.
const (
	unsearched = "not worked out in a search"
	notFinite  = "it comes to no finite number" // the formula overflows or divides by nothing: a wheel of 1e70 mm, say
)

// Slope gives the derivative of measures (indices into Measures; nil: all but the slow ones) along one direction of the
// layout, of a fork that moves through its travel. dst has one entry per measure; those that are missing, have none, or
// are not asked for, are 0. The direction is in mm per unit, by point.
func (st Study) Slope(dst []float64, direction []kinematics.Vec[float64], which []int) {
	sc, d := of(st), st.design
	f, s := &sc.found, &sc.slopes
	w := ride.Wanted{Bodies: which == nil, Second: which == nil}
	for _, i := range which {
		w.Bodies = w.Bodies || Measures[i].Needs >= NeedStructure
		w.Second = w.Second || Measures[i].second
		if Measures[i].given == givenTests && f.proof == nil && f.missing[NeedStructure] == "" {
			f.proof = spaceframe.Prove(&f.whole, nil)
		}
	}
	s.ride = sc.derivative.Along(f.ride, &sc.motion, d.Mechanism, d.Layout, direction, w)
	s.bodiesOf = 0
	clear(dst)
	if s.damping = sc.conditions.Quarter; w.Second && s.damping != nil && f.missing[ride.NeedSag] == "" {
		quarter.Differentiate(&s.quarter, &f.quarter, s.ride)
	}
	if w.Bodies {
		s.bodies(sc, f, d.Mechanism)
		s.bodiesOf, s.bodiesAlong = st.number, append(s.bodiesAlong[:0], direction...)
	}
	one := func(i int) {
		if m := &Measures[i]; f.missing[m.Needs] == "" && m.spring.mismatch(&d.Shock) == "" && f.lacks(m.given) == "" && m.slope != nil {
			dst[i] = imag(m.slope.of(s)) / scalar.Step
		}
	}
	for _, i := range which {
		one(i)
	}
	if which == nil {
		for i := range Measures {
			if !Measures[i].Slow() {
				one(i)
			}
		}
	}
}

// HasSlope reports whether Slope gives the measure a derivative for the forks of a case.
func (m *Measure) HasSlope(c *Conditions) bool {
	return m.slope != nil && (m.slopeless == nil || !m.slopeless(c))
}

// bodies gives sizes and gaps their derivatives.
func (s *slopes) bodies(sc *scorer, f *findings, m *mechanism.Mechanism) {
	s.members = s.members[:0]
	if f.missing[NeedStructure] == "" {
		s.sized = sc.sizer.Slopes(s.ride, sc.derivative.Layout)
		s.whole = spaceframe.Fork[complex128]{Sized: s.sized}
		s.plain, s.proof = &f.whole, f.proof
		s.members = structure.Radii(s.sized, s.members)
	} else if f.missing[NeedPackage] == "" {
		for _, r := range f.gaps.Members() {
			s.members = append(s.members, complex(r, 0))
		}
	}
	s.gaps = f.gaps
	layout := sc.derivative.Layout
	if len(m.Slides()) > 0 && f.missing[NeedPackage] == "" {
		s.extended = mechanism.ExtendLayout(m, s.extended[:0], layout, s.ride.Full(), sc.conditions.overlap())
		layout = s.extended
	}
	s.tangent = clearance.Tangent{Motion: &sc.derivative.Tangent, Layout: layout, Members: s.members}
}
