package spaceframe

import (
	"fmt"
	"math"

	"forkfront/kinematics"
	"forkfront/objectives/structure/fatigue"
	"forkfront/objectives/structure/loads"
)

// PivotResult is a pivot of a sized fork under the test loads, and over its duty: where a body turns on the shaft of
// another. Forces and stresses are those of the space frame.
type PivotResult struct {
	Pivot         string  `json:"pivot"`
	Turning       string  `json:"turning_body"`
	Bearing       string  `json:"bearing"` // its size, or "bush" with its bore
	ForceN        float64 `json:"force_n"` // largest radial force on one bearing or bush
	ForceIn       string  `json:"force_in"`
	BearingMargin float64 `json:"bearing_margin"`      // static rating over force and safety, or allowed over actual pressure of a bush
	ShaftMPa      float64 `json:"shaft_mpa,omitempty"` // largest stress of the shaft in the test with its least margin
	ShaftIn       string  `json:"shaft_in,omitempty"`
	ShaftMargin   float64 `json:"shaft_margin,omitempty"`
	LifeUsed      float64 `json:"life_used,omitempty"` // by the duty, of a rolling bearing's basic rating life
}

// shaftCurve is the fatigue curve of shafts: of 4130 steel without notches.
func shaftCurve() fatigue.Curve {
	curve, missing := fatigue.Of("4130", fatigue.Smooth, 0)
	if missing != "" {
		panic("structure: " + missing)
	}
	return curve
}

// joint finds the joint of a seat: that on whose shaft its body turns.
func (f *spaceFrame[T]) joint(s seat) int {
	for _, j := range f.z.Path.Pivots[s.pivot].Joints {
		if f.z.ShaftBodies[j][1] == s.body {
			return j
		}
	}
	return -1
}

// eachSeat calls do with the joint of every seat and the force in N on each of its bearings. A body in the mid-plane or on
// one side has both of its bearings at one seat, others one on each side; a slide has two bushes on each.
func (u *underLoad) eachSeat(do func(joint int, force float64)) {
	f := u.f
	seats := make([]float64, len(f.z.Pivots))
	for _, s := range f.seats {
		if j := f.joint(s); j >= 0 {
			seats[j]++
		}
	}
	for _, s := range f.seats {
		j := f.joint(s)
		if j < 0 {
			continue
		}
		on, by := f.OnBeams(s.node, u.moved), u.onNode[s.node]
		do(j, math.Hypot(on[0]-by[0], on[1]-by[1])*seats[j]/2)
	}
	for _, b := range f.bushes {
		do(b.joint, math.Hypot(f.SpringForce(b.springs[0], u.moved), f.SpringForce(b.springs[1], u.moved)))
	}
}

// ProvePivots checks the pivots of a sized fork against the test loads of its rules, impacts aside, and over the duty. It
// returns nil where there are none, and where the frame is loose.
func ProvePivots(z *Fork[float64]) (all []PivotResult) {
	rules := z.Rules.Proof
	if rules == nil {
		return nil
	}
	list := func() {
		if all == nil {
			all = listPivots(z)
		}
	}
	for i := range rules.Tests {
		test := &rules.Tests[i]
		f := solved(z, test.At)
		if f == nil {
			return nil
		}
		if test.Kind != loads.ImpactTest {
			list()
			f.tested(test).loadPivots(all, test, rules.Deviations)
		}
	}
	for i := range rules.Duty {
		d := &rules.Duty[i]
		f := solved(z, d.Case.At)
		if f == nil {
			return nil
		}
		if d.Case.Test == nil {
			list()
			f.under(&d.Case).turnPivots(all, d)
		}
	}
	return all
}

// loadPivots adds a test to the pivots.
func (u *underLoad) loadPivots(all []PivotResult, test *loads.Test, deviations float64) {
	z := u.f.z
	u.eachSeat(func(j int, force float64) {
		if r := &all[j]; force > r.ForceN {
			r.ForceN, r.ForceIn, r.BearingMargin = force, test.Name, z.Pivots[j].Margin(&z.Rules.Pivots, z.Path.SlideOf(j) != nil, force)
		}
	})
	allowed := z.Rules.Pivots.ShaftYieldMPa
	if test.Repeats() {
		allowed = shaftCurve().Stress(test.Cycles, test.Ratio(), deviations)
	}
	for beam, part := range u.f.parts {
		if part.kind != shaftPart {
			continue
		}
		stress := u.shaftStress(beam)
		for _, j := range z.Path.Pivots[part.number].Joints {
			if r := &all[j]; stress > 0 && (r.ShaftMargin == 0 || allowed/stress < r.ShaftMargin) {
				r.ShaftMPa, r.ShaftIn, r.ShaftMargin = stress, test.Name, allowed/stress
			}
		}
	}
}

// shaftStress is the largest stress at the ends of a piece of a hollow shaft in MPa, without that of its axial force.
func (u *underLoad) shaftStress(beam int) float64 {
	outside, bore := u.f.ring(u.f.parts[beam])
	modulus := math.Pi / 32 * math.Pow(outside, 3) * (1 - math.Pow(bore, 4))
	return largestStress(u.f.Ends(beam, u.moved), math.Inf(1), modulus)
}

// turnPivots adds a load of the duty to the pivots: each cycle goes from top-out to the stance of the load and back, at the
// force of the load throughout.
func (u *underLoad) turnPivots(all []PivotResult, d *loads.Duty) {
	z := u.f.z
	used := make([]float64, len(all))
	u.eachSeat(func(j int, force float64) {
		if p := &z.Pivots[j]; p.Rolling {
			used[j] = max(used[j], p.BearingMM.LifeUsed(force, d.Cycles*2*swing(z, j, d.Case.At)/(2*math.Pi)))
		}
	})
	for j := range used {
		all[j].LifeUsed += used[j]
	}
}

// swing is the angle in radians that the bodies of a joint turn against each other from top-out to a stance.
func swing(z *Fork[float64], joint int, at loads.Stance) float64 {
	turned := 0.0
	for i, sign := range [2]float64{-1, 1} {
		pose := &z.AtStance[at].State.Pose[z.ShaftBodies[joint][i]]
		turned += sign * math.Atan2(kinematics.Real(pose.Sin), kinematics.Real(pose.Cos))
	}
	return math.Abs(math.Remainder(turned, 2*math.Pi))
}

// listPivots lists the pivots of a fork.
func listPivots(z *Fork[float64]) (all []PivotResult) {
	for j := range z.Pivots {
		if s := z.Path.SlideOf(j); s != nil {
			all = append(all, PivotResult{
				Pivot: z.Path.Mechanism.SlideName(&s.Slide), Turning: z.Path.Mechanism.Bodies[s.Slider], Bearing: fmt.Sprintf("bushes %.1f", z.Pivots[j].ShaftMM),
			})
			continue
		}
		_, _, point := z.Path.Mechanism.Joint(j)
		r := PivotResult{Pivot: z.Path.Mechanism.Points[point], Turning: z.Path.Mechanism.Bodies[z.ShaftBodies[j][1]]}
		if p := &z.Pivots[j]; p.Rolling {
			r.Bearing = p.BearingMM.String()
		} else {
			r.Bearing = fmt.Sprintf("bush %.1f", p.ShaftMM)
		}
		all = append(all, r)
	}
	return all
}
