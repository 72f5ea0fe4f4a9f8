package structure

import (
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/sides"
	"forkfront/objectives/structure/skyline"
	"forkfront/objectives/structure/statics"
)

// opposedRedundants is one worker's memory for the redundant forces under opposed torques on the two sides, at one stance.
// Loads in the plane are the redundant ones, then that of the torque. Their pairs are the lower triangle of a matrix,
// without the last entry.
type opposedRedundants[T kinematics.Scalar] struct {
	placed          bool
	loads           []tubeColumn[T] // by tube and load
	byArea, byBend  []T             // by tube and pair: products with L/(E A) and L/(E I) are twice the energy
	mixed           []triple[T]     // by tube and load: the same with a redundant load out of the plane
	entries, forces []T             // of matrix and right-hand side: the part of the shafts
	matrix          skyline.Matrix[T]
	x               []T
	columns         []statics.Planar[T] // by load
	onShafts        []shaftColumn[T]
}

// tubeColumn is what a load in the plane causes in a tube: force, the mean of the bending moments at its ends and the
// second less the first, and out of the plane the bending moment and the twisting moment.
type tubeColumn[T kinematics.Scalar] struct{ axial, middle, change, bending, twist T }

// place finds what depends on the stance, but not on the sizes of tubes.
func (o *opposedRedundants[T]) place(z *Sized[T], r *redundants[T], sd *statics.Placed[T]) {
	if o.placed {
		return
	}
	o.placed = true
	plan, n := z.redundancy, len(z.Members)
	last := len(plan.Columns)
	o.loads = plane.Resize(o.loads, n*(last+1))
	o.columns = plane.Resize(o.columns, last+1)
	for k := range o.columns {
		z.solveColumn(&o.columns[k], sd, k)
		for i := range z.Members {
			in := &o.columns[k].Internal[i]
			bending, twist := z.outOfPlaneOf(&o.columns[k], i, sd.Along[i])
			o.loads[i*(last+1)+k] = tubeColumn[T]{in.Axial, (in.Start + in.End) * 0.5, in.End - in.Start, bending, twist}
		}
	}
	pairs := (last+1)*(last+2)/2 - 1
	o.byArea, o.byBend = plane.Resize(o.byArea, n*pairs), plane.Resize(o.byBend, n*pairs)
	o.mixed = plane.Resize(o.mixed, n*(last+1))
	for i := range z.Members {
		loads, at := o.loads[i*(last+1):(i+1)*(last+1)], i*pairs
		for k := range loads {
			p := &loads[k]
			for l := 0; l <= k && l < last; l++ {
				q := &loads[l]
				o.byArea[at] = p.axial * q.axial
				o.byBend[at] = p.middle*q.middle + p.change*q.change*kinematics.Lift[T](1./12) + p.bending*q.bending + twistMore*p.twist*q.twist
				at++
			}
			if len(plan.LoopsInTube[i]) > 0 {
				var by triple[T]
				by.add(&r.tubes[i].bending, p.bending)
				by.add(&r.tubes[i].twist, p.twist*twistMore)
				o.mixed[i*(last+1)+k] = by
			}
		}
	}
	o.placeShafts(z, r, sd)
}

// solveColumn finds the forces in one side under a load in the plane.
func (z *Sized[T]) solveColumn(f *statics.Planar[T], sd *statics.Placed[T], k int) {
	plan, p := z.redundancy, z.Path
	if k == len(plan.Columns) {
		push := z.statics.SolveOne(sd, p.Mechanism.Brake(), p.Caliper, mechanism.Load[T]{Moment: 1})
		f.Take(&z.statics, sd, z.ShaftBodies, push, 0.5)
		z.cross(f, sd, plane.Vec[T]{})
		return
	}
	c := &plan.Crossing[plan.Columns[k].Crossing]
	var l mechanism.Load[T]
	switch plan.Columns[k].Way {
	case sides.AlongWay:
		l.Force.Along = 1
	case sides.AheadWay:
		l.Force.Ahead = 1
	case sides.NormalWay:
		l.Force = z.shockLine(sd).Quarter().Times(kinematics.Inverse(sd.State.ShockMM))
	case sides.TurnWay:
		l.Moment = 1
	}
	l.Moment += sd.Places[c.Point].Cross(l.Force)
	push := z.statics.SolveOne(sd, c.Body, p.Node(c.Body, c.Point), l)
	f.Take(&z.statics, sd, z.ShaftBodies, push, 1)
	z.cross(f, sd, plane.Vec[T]{})
	passes := &f.Passes[plan.Columns[k].Crossing]
	*passes = passes.Plus(l.Force)
}

// placeShafts finds the energy of the shafts and of the shock.
func (o *opposedRedundants[T]) placeShafts(z *Sized[T], r *redundants[T], sd *statics.Placed[T]) {
	plan, lift := z.redundancy, kinematics.Lift[T]
	last := len(plan.Columns)
	o.entries, o.forces = plane.Resize(o.entries, plan.Opposed.Stored()), plane.Resize(o.forces, plan.Opposed.Len())
	clear(o.entries)
	clear(o.forces)
	o.onShafts = plane.Resize(o.onShafts, last+1)
	for i := range z.symmetric.Segments {
		s, shaft := &z.symmetric.Segments[i], &r.shafts[i]
		if s.Free() {
			continue
		}
		square, at := lift(s.Length*s.Length/12), 0
		for k := range o.onShafts {
			p := &o.onShafts[k]
			p.force, p.moment = z.onShaft(&o.columns[k], i)
			p.twist = 0
			if k < last && plan.Columns[k].Way == sides.TurnWay && plan.Columns[k].Crossing == s.Passes {
				p.twist = 1
			}
			for l := 0; l <= k && l < last; l++ {
				q := &o.onShafts[l]
				energy := shaft.bend * (p.moment.Dot(q.moment) + square*p.force.Dot(q.force) + twistMore*p.twist*q.twist)
				if k == last {
					o.forces[l] += energy
				} else {
					o.entries[at] += energy
				}
				at++
			}
			by := shaft.with(p.moment)
			for _, s := range plan.LoopsInSegment[i] {
				addMixed(o.entries, o.forces, last+3*s.Triple, k, last, &by, lift(s.Sign))
			}
		}
		for _, b := range plan.LoopsOnSegment[i] {
			addBlock(o.entries, last+b.Row, last+b.Column, &shaft.energy, lift(b.Sign))
		}
	}
	if z.Ride.Shock.Count > 1 {
		yields, at := lift(z.eyeShafts())+sd.State.ShockMM*lift(1/(parts.SteelMPa*parts.LockedMM2)), 0
		for k := range o.columns {
			for l := 0; l <= k && l < last; l++ {
				energy := yields * o.columns[k].Push * o.columns[l].Push
				if k == last {
					o.forces[l] += energy
				} else {
					o.entries[at] += energy
				}
				at++
			}
		}
	}
}

// addMixed adds the energy of load k in the plane and the redundant load out of it that begins at a row, to a matrix and a
// right-hand side, which has that of the torque, the last load.
func addMixed[T kinematics.Scalar](entries, forces []T, row, k, last int, by *triple[T], times T) {
	if k == last {
		(*triple[T])(forces[row:]).add(by, times)
		return
	}
	at := row*(row+1)/2 + k
	entries[at] += by[0] * times
	at += row + 1
	entries[at] += by[1] * times
	at += row + 2
	entries[at] += by[2] * times
}

// solve finds the internal forces of the tubes on the caliper's side per newton millimetre of brake torque, for the
// current sizes.
func (o *opposedRedundants[T]) solve(z *Sized[T], r *redundants[T], dst []statics.TubeLoads[T]) {
	plan := z.redundancy
	last := len(plan.Columns)
	pairs := (last+1)*(last+2)/2 - 1
	inside := pairs - last
	o.matrix.Reset(&plan.Opposed)
	copy(o.matrix.Entry, o.entries)
	o.x = append(o.x[:0], o.forces...)
	for i := range dst {
		bends, stretches := z.rigid[i].yields, z.rigid[i].stretches
		byArea, byBend := o.byArea[i*pairs:(i+1)*pairs], o.byBend[i*pairs:(i+1)*pairs]
		add := func(to, byArea, byBend []T) {
			byArea, byBend = byArea[:len(to)], byBend[:len(to)]
			for p := range to {
				to[p] += byArea[p]*stretches + byBend[p]*bends
			}
		}
		add(o.matrix.Entry[:inside], byArea, byBend)
		add(o.x[:last], byArea[inside:], byBend[inside:])
		for _, s := range plan.LoopsInTube[i] {
			for k := range last + 1 {
				addMixed(o.matrix.Entry, o.x, last+3*s.Triple, k, last, &o.mixed[i*(last+1)+k], bends*kinematics.Lift[T](s.Sign))
			}
		}
		for _, b := range plan.LoopsOnTube[i] {
			addBlock(o.matrix.Entry, last+b.Row, last+b.Column, &r.tubes[i].energy, bends*kinematics.Lift[T](b.Sign))
		}
	}
	if !o.matrix.Factor() {
		clear(dst)
		return
	}
	o.matrix.Solve(o.x)
	for i := range dst {
		loads := o.loads[i*(last+1) : (i+1)*(last+1)]
		c := loads[last]
		for k, x := range o.x[:last] {
			q := &loads[k]
			c.axial -= x * q.axial
			c.middle -= x * q.middle
			c.change -= x * q.change
			c.bending -= x * q.bending
			c.twist -= x * q.twist
		}
		out := total(o.x[last:], plan.LoopsInTube[i])
		form := &r.tubes[i]
		c.bending -= form.bending.dot(&out)
		c.twist -= form.twist.dot(&out)
		change := out[0] * z.lengths[i] * -0.5
		dst[i] = statics.TubeLoads[T]{
			Internal:        statics.Internal[T]{Axial: c.axial, Start: c.middle - c.change*0.5, End: c.middle + c.change*0.5},
			OutOfPlaneStart: c.bending - change, OutOfPlaneEnd: c.bending + change, Twist: c.twist,
		}
	}
}
