package structure

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/scalar"
)

// sharingPasses is how often the loads are shared between the sides and the tubes sized again. The remaining error of
// stresses is 1 % or less in most forks, and 3 % where a body lies on only one side.
const sharingPasses = 2

// share finds what the members carry on the worse side in all load cases in the plane: the loads in the plane, of which
// each tube of a pair takes half; the torque of the brake, which adds to it on the caliper's side and subtracts on the
// other; and the loads out of the plane that both cause. How the torque is shared is found at sag, and in the last pass
// at full travel as well, where it differs a little.
func (z *Sized[T]) share(last bool) {
	cases := z.rules.Cases
	shared := false
	z.tubeRigidities()
	for _, at := range [stances]Stance{AtSag, FullTravel, TopOut} {
		sd, assembled, factored := &z.atStance[at], false, false
		shared = shared && !last // at an earlier stance
		for k := range cases {
			idle := len(z.notGoverning) > 0 && z.notGoverning[k]
			if cases[k].At != at || idle && last {
				continue
			}
			a := on(&cases[k], z.ride.Setting, sd.state)
			if a.couple != 0 && !shared { // also by a case that governs nothing: others depend on it
				z.opposedLoads(sd)
				shared = true
			}
			if idle || a.force == (plane.Vec[T]{}) && a.couple == 0 {
				continue
			}
			if !assembled {
				z.stiffness(sd)
				assembled, factored = true, z.symmetric.pattern.Len() > 0 && z.outOfPlane.matrix.Factor()
			}
			z.shareCase(sd, &a, factored, z.demands[k*len(z.Members):(k+1)*len(z.Members)])
			z.harden(k)
		}
	}
}

// shareCase does so for one load case. factored tells whether the stiffness out of the plane could be factored.
func (z *Sized[T]) shareCase(sd *placed[T], a *applied[T], factored bool, demands []demand[T]) {
	o := &z.outOfPlane
	push := z.statics.solve(sd, a)
	z.statics.onTurningBodies(z.shaftBodies)
	o.displacements = plane.Resize(o.displacements, z.symmetric.pattern.Len())
	clear(o.displacements)
	if factored {
		o.collectForces(z, sd, a.force, push)
		o.load(z)
		o.matrix.Solve(o.displacements)
	}
	for i, mb := range z.path.members {
		size := TubeSection(&z.rules.Tubes, z.least[i].DiameterMM)
		in := &z.statics.internal[i]
		var both, one tubeLoads[T]
		if factored {
			both.outOfPlaneStart, both.outOfPlaneEnd, both.twist = o.tube(z, &z.symmetric.tubes[i], sd)
		}
		if a.couple != 0 {
			one = z.opposite.tubes[i]
		}
		pair := z.across.Tubes(mb.Body) == 2
		switch {
		case pair:
			both.axial, both.start, both.end = in.axial*0.5, in.start*0.5, in.end*0.5
		case z.across.HalfWidthMM[mb.Body] == 0: // half of it is in the mesh
			both, one = tubeLoads[T]{internal: *in}, tubeLoads[T]{outOfPlaneStart: 2 * one.outOfPlaneStart, outOfPlaneEnd: 2 * one.outOfPlaneEnd, twist: 2 * one.twist}
		default:
			both.internal, one.internal = *in, internal[T]{}
		}
		demands[i] = both.governing(&one, a.couple, pair, &size)
	}
	if a.side != 0 {
		z.addSideLoad(sd, a, demands)
	}
}

// governing is the demand at the more stressed end of the more stressed tube of a member: both are the loads that the two
// sides have in common, and one those that each unit of the brake's torque adds on the caliper's side and subtracts on
// the other, where there is a pair. Stresses are compared for the given section.
func (both *tubeLoads[T]) governing(one *tubeLoads[T], torque T, pair bool, s *section[T]) (worst demand[T]) {
	byArea, byModulus := kinematics.Inverse(s.Area), kinematics.Inverse(s.modulus)
	most := -1.0
	var compression T
	for side, by := range [2]T{torque, -torque} {
		if side == 1 && (!pair || torque == 0) {
			break
		}
		r := *both
		r.add(one, by)
		if kinematics.Real(r.axial) < 0 {
			compression = scalar.Higher(compression, -r.axial)
		}
		first, second := r.start*r.start+r.outOfPlaneStart*r.outOfPlaneStart, r.end*r.end+r.outOfPlaneEnd*r.outOfPlaneEnd
		square := scalar.Higher(first, second) + r.twist*r.twist*kinematics.Lift[T](mises*mises)
		d := demand[T]{axial: kinematics.Abs(r.axial), bending: scalar.Root(square)}
		if stress := kinematics.Real(d.axial*byArea + d.bending*byModulus); stress > most {
			worst, most = d, stress
		}
	}
	worst.compression = compression
	return worst
}

// add adds a multiple of another load.
func (r *tubeLoads[T]) add(by *tubeLoads[T], times T) {
	r.axial += by.axial * times
	r.start += by.start * times
	r.end += by.end * times
	r.outOfPlaneStart += by.outOfPlaneStart * times
	r.outOfPlaneEnd += by.outOfPlaneEnd * times
	r.twist += by.twist * times
}
