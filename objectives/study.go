package objectives

import (
	"slices"

	"forkfront/kinematics"
	"forkfront/objectives/clearance"
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/spaceframe"
)

// Study is a fork that was scored, and answers what takes longer to compute. It is valid until its scorer scores
// another design; its methods panic after that.
type Study struct {
	scorer worker // a *scorer
	design *Design
	number uint64
}

// of is the scorer, still at the fork.
func of(st Study) *scorer {
	sc := st.scorer.(*scorer)
	if st.number != sc.studies {
		panic("objectives: a study was used after its scorer had scored another design")
	}
	return sc
}

// Ride is the motion of the fork, with its spring.
func (st Study) Ride() *ride.Ride[float64] { return &of(st).ride }

// Missing is why the fork does not have what a need stands for; empty where it does.
func (st Study) Missing(n ride.Need) string { return of(st).found.missing[n] }

// Dampers are the damping coefficients that each shock needs over the travel, by sample after top-out, for the ratio wanted, in
// N·s/m at its shaft: NaN where there is none, and none at all without a ride section or a spring that balances at sag.
func (st Study) Dampers() []float64 {
	f := &of(st).found
	if f.damping == nil || f.missing[ride.NeedSag] != "" {
		return nil
	}
	return quarter.Needed(nil, &f.quarter)
}

// Sizes are the fork's sizes, nil where it has none. It is no method, since whoever imports a type compiles all that the results of
// its methods lead to.
func Sizes(st Study) *structure.Sized[float64] {
	if f := &of(st).found; f.missing[NeedStructure] == "" {
		return f.sized
	}
	return nil
}

// Parts lists the parts of a fork with sizes, without their stresses: none where it has none.
func (st Study) Parts() []structure.Item {
	if z := Sizes(st); z != nil {
		return structure.Parts(z)
	}
	return nil
}

// BillOfMaterials lists the parts of a fork with sizes, with their stresses: none where it has none.
func (st Study) BillOfMaterials() []structure.Item {
	if Sizes(st) != nil {
		return spaceframe.BillOfMaterials(&of(st).found.whole)
	}
	return nil
}

// Forces are those of every load case in a fork with sizes: none where it has none.
func (st Study) Forces() []structure.CaseForces {
	if z := Sizes(st); z != nil {
		return structure.Forces(z)
	}
	return nil
}

// Proof is the fork with its score under the test loads and over the duty, its pivots too: nil where there are none.
func (st Study) Proof(score *Score) *spaceframe.Proof {
	p := st.proofOfTubes(score)
	if Sizes(st) != nil && p != nil {
		p.Pivots = spaceframe.ProvePivots(&of(st).found.whole)
	}
	return p
}

func (st Study) proofOfTubes(score *Score) *spaceframe.Proof {
	if Sizes(st) == nil {
		why := st.Missing(NeedStructure)
		return &spaceframe.Proof{Missing: why, MissingDamage: why}
	}
	f := &of(st).found
	f.proof = spaceframe.Prove(&f.whole, historiesOf(st, score))
	return f.proof
}

// Gaps lists every pair of parts of the fork with its smallest gap: none where it has no clearance. The
// smallest is that of the score.
func (st Study) Gaps() []clearance.Gap {
	if st.Missing(NeedPackage) != "" {
		return nil
	}
	return of(st).search.Gaps()
}

// Crossing is by how much parts that reach through each other would have to be moved apart, in mm (see clearance.Search), with
// wantedMM as the smallest gap that is wanted: 0 where the fork has no clearance.
func (st Study) Crossing(wantedMM float64) float64 {
	if st.Missing(NeedPackage) != "" {
		return 0
	}
	return of(st).search.Crossing(wantedMM)
}

// CrossingSlope is the derivative of Crossing along a direction of the layout, as Slope gives those of measures.
func (st Study) CrossingSlope(direction []kinematics.Vec[float64], wantedMM float64) float64 {
	if st.Crossing(wantedMM) == 0 {
		return 0
	}
	sc, d := of(st), st.design
	f, s := &sc.found, &sc.slopes
	if s.bodiesOf != st.number || !slices.Equal(s.bodiesAlong, direction) { // unless Slope has just found them
		s.ride = sc.derivative.Along(f.ride, &sc.motion, d.Mechanism, d.Layout, direction, ride.Wanted{Bodies: true})
		s.bodies(sc, f, d.Mechanism)
		s.bodiesOf = 0
	}
	return imag(f.gaps.CrossingDerivative(&s.tangent, wantedMM)) / scalar.Step
}

// Complete adds the slow measures to the fork's score: stiffness out of the plane, test loads, and tolerances. That in the plane
// it makes more exact.
func (st Study) Complete(dst *Score) { st.CompleteSome(dst, nil) }

// CompleteSome is Complete for what some measures (indices into Measures; nil: all of them) need.
func (st Study) CompleteSome(dst *Score, which []int) {
	wanted := func(is func(i int) bool) bool { return which == nil || slices.ContainsFunc(which, is) }
	if which == nil {
		st.refine(dst)
	}
	if wanted(func(i int) bool { return i == LateralStiffness || i == TorsionalStiffness }) {
		st.outOfPlane(dst)
	}
	if wanted(func(i int) bool { return i == ProofMargin || i == FatigueDamage }) {
		st.proof(dst)
	}
	if wanted(func(i int) bool { return At(i).ToleranceOf != "" }) {
		for _, t := range st.Tolerances() {
			dst.put(t.of, t.Deviation, t.Why)
		}
	}
}

// proof adds what test loads and duty ask for.
func (st Study) proof(dst *Score) {
	p := st.proofOfTubes(dst)
	if p == nil {
		p = &spaceframe.Proof{Missing: noTests, MissingDamage: noTests}
	}
	dst.put(ProofMargin, p.Margin, p.Missing)
	dst.put(FatigueDamage, p.Damage, p.MissingDamage)
}

// refine makes the fore-aft stiffness that of the final sizes; that of a search is a lower bound.
func (st Study) refine(dst *Score) {
	if z := Sizes(st); z != nil {
		structure.Refine(z)
		dst.put(ForeAftStiffness, structure.ForeAftStiffness(z), "")
	}
}

// outOfPlane adds stiffness out of the plane.
func (st Study) outOfPlane(dst *Score) {
	sc := of(st)
	side, torsion, why := 0.0, 0.0, sc.found.missing[NeedStructure]
	if why == "" {
		var ok bool
		if side, torsion, ok = spaceframe.OutOfPlane(&sc.found.whole); !ok {
			why = "the space frame is loose out of the plane"
		}
	}
	dst.put(LateralStiffness, side, why)
	dst.put(TorsionalStiffness, torsion, why)
}

// put sets a measure, or the reason why it has no value.
func (s *Score) put(i int, value float64, why string) {
	if why == "" && value-value != 0 { // no number, or infinite
		why = notFinite
	}
	if why != "" {
		value = 0
	}
	s.Values[i], s.Missing[i] = value, why
}
