package spaceframe

import (
	"forkfront/kinematics"
	"forkfront/kinematics/stance"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/frame"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// Stresses are the largest stress of each member over all load cases, its tubes and both their ends, as a fraction of the
// allowed stress, by the space frame: N/A + √(M² + ¾ T²)/Z with the moments in the plane and out of it. Where
// all shafts run from side to side sizes come from a simpler model. It is false where the frame is a mechanism.
func Stresses(z *Fork[float64]) ([]float64, bool) {
	worst := make([]float64, len(z.Members))
	for k := range z.Rules.Cases {
		f := solved(z, z.Rules.Cases[k].At)
		if f == nil {
			return nil, false
		}
		d := f.Solve(f.loads(&z.Rules.Cases[k]))
		for side := range f.tubes {
			for i, beam := range f.tubes[side] {
				if beam >= 0 {
					worst[i] = max(worst[i], z.Severities[k]*stressed(z, i, f.Ends(beam, d)))
				}
			}
		}
	}
	return worst, true
}

// loads are those of a case: forces at the hub, and the torque of the brake on the caliper's side.
func (f *spaceFrame[T]) loads(c *loads.Case) map[int]frame.Load[T] {
	z := f.z
	state := z.AtStance[c.At].State
	a := loads.Apply(c, z.Ride.Setting, state)
	return f.applying(&a, state)
}

// applying is what acts on a fork at a state as loads on nodes.
func (f *spaceFrame[T]) applying(a *loads.Applied[T], state *stance.State[T]) map[int]frame.Load[T] {
	z := f.z
	side, moment := kinematics.Lift[T](a.Side), kinematics.Lift[T](-z.Ride.Setting.Chassis.FrontRadiusMM*a.Side)
	loads := map[int]frame.Load[T]{f.hub: {a.Force.Along, a.Force.Ahead, side, moment * state.CosHead, moment * state.SinHead}}
	if n := z.Path.Caliper; n >= 0 {
		caliper := loads[f.nodes[0][n]]
		caliper[5] += a.Couple
		loads[f.nodes[0][n]] = caliper
	}
	return loads
}

// stressed is the stress in a member's tube under what acts on its ends, as a fraction of the allowed stress.
func stressed(z *Fork[float64], member int, ends [12]float64) float64 {
	size := parts.TubeSection(&z.Rules.Tubes, z.Members[member].DiameterMM)
	return largestStress(ends, size.Area, size.Modulus) / structure.AllowedMPa(z.Sized)
}

// largestStress is that at the ends of a beam in MPa, by its area in mm² and its section modulus in mm³:
// |N|/A + √(M² + ¾ T²)/Z.
func largestStress[T kinematics.Scalar](ends [12]T, area, modulus T) (worst T) {
	for e := range 2 {
		on := ends[6*e : 6*e+6]
		moment := scalar.Root(on[4]*on[4] + on[5]*on[5] + 0.75*on[3]*on[3])
		worst = scalar.Higher(worst, kinematics.Abs(on[0])/area+moment/modulus)
	}
	return worst
}

// BillOfMaterials lists the parts of a sized fork with their stresses by the space frame, which is most of its cost:
// structure.Parts lists the same without them.
func BillOfMaterials(z *Fork[float64]) []structure.Item {
	all := structure.Parts(z.Sized)
	if stresses, ok := Stresses(z); ok {
		for i, stress := range stresses { // the tubes come first, in the order of the members
			item := &all[z.Path.Part[i]]
			item.Stress = max(item.Stress, stress)
		}
	}
	return all
}
