package kinematics

import "forkfront/kinematics/plane"

// small is how many bodies of a group the loads are found of without memory of their own.
const small = 8

// holdGroup finds the loads in the joints of a group. The forces at its loops are those with which
// no part that hangs on a limb moves it: the equations are those of the rates, transposed (virtual
// work). What each limb bears follows from its end inwards.
func holdGroup[T plane.Scalar](m *Mechanism, g *group, dst, loads []Load[T], places []plane.Vec[T]) {
	var matrix [small * small]T
	var pivots [small]int
	var unknowns [small]T
	n := len(g.limbs)
	var d plane.LU[T]
	x := unknowns[:]
	if n <= small {
		d = plane.LUOver(n, matrix[:n*n], pivots[:n])
		x = x[:n]
	} else {
		d = plane.LUOver(n, make([]T, n*n), make([]int, n))
		x = make([]T, n)
	}
	pushes(g, x, loads, places)
	for k := range g.loops {
		lp := &g.loops[k]
		at := places[lp.point]
		for i := lp.la; i >= 0; i = g.limbs[i].up {
			yields(&d, k, i, motion(&g.limbs[i], places, at))
		}
		for i := lp.lb; i >= 0; i = g.limbs[i].up {
			yields(&d, k, i, motion(&g.limbs[i], places, at).Times(-1))
		}
	}
	if d.Factor() {
		d.Solve(x)
	}
	for k := range g.loops {
		lp := &g.loops[k]
		var by Load[T]
		by.Push(plane.Vec[T]{Along: x[2*k], Ahead: x[2*k+1]}, places[lp.point])
		give(m, dst, loads, lp.joint, lp.a, &by)
	}
	for i := len(g.limbs) - 1; i >= 0; i-- {
		b := &g.limbs[i]
		if b.slides() {
			by := loads[b.body].minus()
			give(m, dst, loads, b.joint, b.body, &by)
			continue
		}
		hang(m, dst, loads, b.joint, b.body, places[b.point])
	}
}

// yields adds how limb i moves the gap of a loop.
func yields[T plane.Scalar](d *plane.LU[T], loop, limb int, v plane.Vec[T]) {
	*d.At(limb, 2*loop) += v.Along
	*d.At(limb, 2*loop+1) += v.Ahead
}

// pushes fills x with what the loads do against the motion of each limb and of all that hangs on
// it: a moment about its pin, or a force along its slide, the sign turned.
func pushes[T plane.Scalar](g *group, x []T, loads []Load[T], places []plane.Vec[T]) {
	var sums [small]Load[T]
	all := sums[:]
	if len(g.limbs) > small {
		all = make([]Load[T], len(g.limbs))
	}
	all = all[:len(g.limbs)]
	for i := range all {
		all[i] = loads[g.limbs[i].body]
	}
	for i := len(all) - 1; i >= 0; i-- {
		b := &g.limbs[i]
		if b.up >= 0 {
			all[b.up].Add(all[i])
		}
		if b.slides() {
			x[i] = -all[i].Force.Dot(motion(b, places, plane.Vec[T]{}))
			continue
		}
		x[i] = -all[i].About(places[b.point])
	}
}

// motion is the velocity of a place of what hangs on a limb, per unit of its unknown.
func motion[T plane.Scalar](b *limb, places []plane.Vec[T], at plane.Vec[T]) plane.Vec[T] {
	if !b.slides() {
		return at.Minus(places[b.point]).Quarter()
	}
	line := places[b.through[1]].Minus(places[b.through[0]])
	return line.Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
}
