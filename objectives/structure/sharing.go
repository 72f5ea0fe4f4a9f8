package structure

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/scalar"
)

// sharings is how often the loads are shared between the sides, and between the plane and what is across it, and the
// tubes sized again. What is left changes stresses by 1 % or less, but where a body lies on one side alone.
const sharings = 2

// share gives the members what they bear on the worse side in all load cases in the plane: the loads in the plane, of
// which each tube of a pair takes half; the torque of the brake, which comes on top on the caliper's side and is taken
// off on the other; and what both bring about out of the plane. How the torque is shared is found at sag; the last time
// at full travel too, where it is a little different.
func (z *Sized[T]) share(last bool) {
	cases := z.rules.Cases
	torn := false
	z.tubeRigidities()
	for _, at := range [stances]Stance{AtSag, FullTravel, TopOut} {
		sd, laid, firm := &z.stands[at], false, false
		torn = torn && !last // by an earlier stance
		for k := range cases {
			idle := len(z.idle) > 0 && z.idle[k]
			if cases[k].At != at || idle && last {
				continue
			}
			a := on(&cases[k], z.ride.Setting, sd.state)
			if a.couple != 0 && !torn { // by an idle case too: others follow from it
				z.tear(sd)
				torn = true
			}
			if idle || a.force == (plane.Vec[T]{}) && a.couple == 0 {
				continue
			}
			if !laid {
				z.stiffness(sd)
				laid, firm = true, z.mesh.pattern.Len() > 0 && z.offsets.matrix.Factor()
			}
			z.shareCase(sd, &a, firm, z.demands[k*len(z.Members):(k+1)*len(z.Members)])
		}
	}
}

// shareCase does so for one load case. firm tells whether the stiffness out of the plane is factored.
func (z *Sized[T]) shareCase(sd *stand[T], a *applied[T], firm bool, demands []demand[T]) {
	o := &z.offsets
	push := z.statics.solve(sd, a)
	z.statics.onShafts(z.couples)
	o.moved = plane.Resize(o.moved, z.mesh.pattern.Len())
	clear(o.moved)
	if firm {
		o.gather(z, sd, a.force, push)
		o.load(z)
		o.matrix.Solve(o.moved)
	}
	for i, mb := range z.path.members {
		size := TubeSection(&z.rules.Tubes, z.least[i].DiameterMM)
		in := &z.statics.inside[i]
		var both, one torn[T]
		if firm {
			both.outStart, both.outEnd, both.twist = o.tube(z, &z.mesh.tubes[i], sd)
		}
		if a.couple != 0 {
			one = z.opposed.tubes[i]
		}
		pair := z.across.Tubes(mb.Body) == 2
		switch {
		case pair:
			both.axial, both.start, both.end = in.axial*0.5, in.start*0.5, in.end*0.5
		case z.across.HalfWidthMM[mb.Body] == 0: // half of it is in the mesh
			both, one = torn[T]{inside: *in}, torn[T]{outStart: 2 * one.outStart, outEnd: 2 * one.outEnd, twist: 2 * one.twist}
		default:
			both.inside, one.inside = *in, inside[T]{}
		}
		demands[i] = both.worse(&one, a.couple, pair, &size)
	}
	if a.side != 0 {
		z.aside(sd, a, demands)
	}
}

// worse is what the more stressed end of the more stressed tube of a member bears: both is what is alike on both sides,
// and one what each unit of the brake's torque adds on the caliper's side and takes off on the other, where there is a
// pair. The section is the one by which stresses are compared.
func (both *torn[T]) worse(one *torn[T], torque T, pair bool, s *section[T]) (worst demand[T]) {
	byArea, byModulus := kinematics.Inverse(s.Area), kinematics.Inverse(s.modulus)
	most := -1.0
	var pressing T
	for side, by := range [2]T{torque, -torque} {
		if side == 1 && (!pair || torque == 0) {
			break
		}
		r := *both
		r.add(one, by)
		if kinematics.Real(r.axial) < 0 {
			pressing = scalar.Higher(pressing, -r.axial)
		}
		first, second := r.start*r.start+r.outStart*r.outStart, r.end*r.end+r.outEnd*r.outEnd
		square := scalar.Higher(first, second) + r.twist*r.twist*kinematics.Lift[T](mises*mises)
		d := demand[T]{axial: kinematics.Abs(r.axial), bending: scalar.Root(square)}
		if stress := kinematics.Real(d.axial*byArea + d.bending*byModulus); stress > most {
			worst, most = d, stress
		}
	}
	worst.pressing = pressing
	return worst
}

// add adds so many times what another load brings.
func (r *torn[T]) add(by *torn[T], times T) {
	r.axial += by.axial * times
	r.start += by.start * times
	r.end += by.end * times
	r.outStart += by.outStart * times
	r.outEnd += by.outEnd * times
	r.twist += by.twist * times
}
