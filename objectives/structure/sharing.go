package structure

import (
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/statics"
)

// Where pivots have stub shafts, what each side carries depends on sizes: the torque of the brake, which adds to the loads
// in the plane on the caliper's side and subtracts on the other, and the loads out of the plane that both cause. So tubes
// are sized twice, the second time by the loads that are found with the first sizes; for those an estimate does where few
// forces are redundant. The remaining error of stresses is 1 % or less in most forks, and 3 % where a body lies on only one
// side.

// rounds are how often matrices of stiffness are worked out, each time with the sizes found before: two times for the loads on either
// side, and at last for the final stiffness. Each round keeps its factors for derivatives.
const rounds = 3

// shareAll finds what each side carries and sizes the tubes again, calling size with 1 for the first loads and with 2 for
// the final ones. Loads out of the plane at sag can then be found. Where all shafts run from side to side the first sizes stay.
func (z *Sized[T]) shareAll(size func(pass int)) {
	z.round = 0
	z.tubeRigidities()
	if z.antisymmetric == nil {
		z.stiffness(loads.AtSag)
		return
	}
	if z.redundancy.Few {
		z.estimate()
	} else {
		z.share() // sizes of forks that are so redundant settle slowly: from an estimate single ones were off by 7 %
	}
	size(1)
	z.round = 1
	z.tubeRigidities()
	z.share()
	size(2)
}

// estimate finds what the members carry on the worse side for a first size. Where a shaft from side to side holds the
// caliper's body, it shares the torque, and loads are alike on both sides. Otherwise one stance is worked out, the first
// with a brake's torque in the order below; at others the torque is shared as it is there. Loads in the plane cause none
// out of it except at that stance.
func (z *Sized[T]) estimate() {
	at := loads.Stances
	if z.torqueCrosses {
		clear(z.opposed)
	} else {
		if at = z.firstBraked(); z.twistedAt(loads.TopOut) || z.twistedAt(loads.AtSag) || z.twistedAt(loads.FullTravel) {
			z.opposedLoads(at)
		}
	}
	clear(z.loads)
	for k := range z.applied {
		if z.cases[k].At != at && !z.idleOnSides(k) && z.applied[k].Couple != 0 {
			z.shareCase(k)
		}
	}
	if at != loads.Stances {
		z.shareAt(at)
	}
}

// firstBraked is the stance that is worked out for the estimate.
func (z *Sized[T]) firstBraked() loads.Stance {
	for _, at := range [loads.Stances]loads.Stance{loads.AtSag, loads.FullTravel, loads.TopOut} {
		if z.brakesAt(at) {
			return at
		}
	}
	return loads.AtSag
}

// share finds what they carry with all loads at all stances. The stance at which stiffness is found comes last.
func (z *Sized[T]) share() {
	for _, at := range [loads.Stances]loads.Stance{loads.TopOut, loads.FullTravel, loads.AtSag} {
		if at != loads.AtSag && !z.loadedAt(at) {
			continue
		}
		z.standAt(at)
		if z.twistedAt(at) {
			z.opposedLoads(at)
		}
		z.shareAt(at)
	}
}

// brakesAt tells whether a load case has a brake's torque at a stance.
func (z *Sized[T]) brakesAt(at loads.Stance) bool {
	for k := range z.applied {
		if z.cases[k].At == at && z.applied[k].Couple != 0 {
			return true
		}
	}
	return false
}

// twistedAt tells whether one that may govern has.
func (z *Sized[T]) twistedAt(at loads.Stance) bool {
	for k := range z.applied {
		if z.cases[k].At == at && !z.idleOnSides(k) && z.applied[k].Couple != 0 {
			return true
		}
	}
	return false
}

// loadedAt tells whether a load case that may govern acts in the plane at a stance.
func (z *Sized[T]) loadedAt(at loads.Stance) bool {
	for k := range z.applied {
		if z.cases[k].At == at && !z.idleOnSides(k) && z.applied[k].InPlane() {
			return true
		}
	}
	return false
}

// shareAt finds what the members carry in the load cases in the plane at a stance.
func (z *Sized[T]) shareAt(at loads.Stance) {
	z.factorSymmetric(at)
	for k := range z.applied {
		if z.cases[k].At == at && !z.idleOnSides(k) && z.applied[k].InPlane() {
			z.symmetricLoads(k)
			z.shareCase(k)
		}
	}
}

// opposedLoads finds the internal forces of the tubes on the caliper's side per newton millimetre of brake torque, half of
// which acts forward on one side and half backward on the other.
func (z *Sized[T]) opposedLoads(at loads.Stance) {
	if !z.redundancy.Few {
		if z.plain == nil {
			z.opposite[z.round][at].solve(z, nil, &z.AtStance[at], z.opposed)
		} else {
			z.opposite[0][0].solve(z, &z.plain.opposite[z.round][at], &z.AtStance[at], z.opposed)
		}
		return
	}
	r := &z.redundants[at]
	r.place(z, &z.AtStance[at])
	r.opposed.place(z, r, &z.AtStance[at])
	r.opposed.solve(z, r, z.opposed)
}

// factorSymmetric prepares for loads out of the plane that are alike on both sides.
func (z *Sized[T]) factorSymmetric(at loads.Stance) {
	if !z.redundancy.Few {
		z.stiffness(at)
		return
	}
	z.redundants[at].place(z, &z.AtStance[at])
	z.redundants[at].factor(z)
}

// symmetricLoads finds the loads out of the plane of one side in all tubes in a load case.
func (z *Sized[T]) symmetricLoads(k int) {
	at := z.cases[k].At
	sd, f := &z.AtStance[at], &z.planar[k]
	if z.redundancy.Few {
		z.cross(f, sd, z.applied[k].Force.Times(0.5))
		z.redundants[at].symmetricLoads(z, sd, f, z.loads)
		return
	}
	o := &z.outOfPlane
	if !o.factored {
		clear(z.loads)
		return
	}
	o.solve(z, k, sd, z.applied[k].Force, f)
	for i := range z.loads {
		if z.idleIn(k, i) {
			continue
		}
		r := &z.loads[i]
		r.OutOfPlaneStart, r.OutOfPlaneEnd, r.Twist = o.tube(z, &z.symmetric.Tubes[i], sd)
	}
}

// shareCase finds what the members carry in load case k, with the loads out of the plane that were found for it and the
// torque shared as it was found last.
func (z *Sized[T]) shareCase(k int) {
	a := &z.applied[k]
	demands := z.demands[k*len(z.Members) : (k+1)*len(z.Members)]
	for i, mb := range z.Path.Members {
		if z.idleIn(k, i) {
			continue
		}
		both := z.loads[i]
		both.Internal = z.planar[k].Internal[i]
		var one statics.TubeLoads[T]
		if a.Couple != 0 {
			one = z.opposed[i]
		}
		pair := z.Across.Tubes(mb.Body) == 2
		switch {
		case pair:
		case z.Across.HalfWidthMM[mb.Body] == 0: // half of it is in the mesh
			both, one = statics.TubeLoads[T]{Internal: both.Twice()}, statics.TubeLoads[T]{OutOfPlaneStart: 2 * one.OutOfPlaneStart, OutOfPlaneEnd: 2 * one.OutOfPlaneEnd, Twist: 2 * one.Twist}
		default:
			both.Internal, one.Internal = both.Twice(), statics.Internal[T]{}
		}
		demands[i] = both.Governing(&one, a.Couple, pair, &z.sections[i])
	}
	if a.Side != 0 {
		z.addSideLoad(&z.AtStance[z.cases[k].At], a, demands)
	}
	z.harden(k)
}

// standAt prepares the stiffness of tubes for a stance, at which those of slides have other lengths.
func (z *Sized[T]) standAt(at loads.Stance) {
	if len(z.Path.Sliding) > 0 {
		z.measureSlides(at)
		z.tubeRigidities()
	}
}

// measureSlides finds the lengths of the members that slide at a stance. Those of a tube add up to the same at every
// travel.
func (z *Sized[T]) measureSlides(at loads.Stance) {
	for _, i := range z.Path.Sliding {
		z.lengths[i] = z.lengthAt(&z.AtStance[at], i)
		z.inverse[i] = 1 / z.lengths[i]
	}
}

// lengthAt is the length of a member at a stance, in mm.
func (z *Sized[T]) lengthAt(sd *statics.Placed[T], member int) T {
	mb := &z.Path.Members[member]
	return statics.Apart(sd.Places[mb.From], sd.Places[mb.To])
}
