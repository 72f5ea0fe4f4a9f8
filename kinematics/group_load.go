package kinematics

import "forkfront/kinematics/plane"

// stackLinks is how many bodies of a group the loads are found of without memory of their own.
const stackLinks = 8

// holdGroup finds the loads in the joints of a group. The forces at its loops are those with which
// no part that hangs on a tree link moves it: the equations are those of the rates, transposed (virtual
// work). What each tree link bears follows from its end inwards.
func holdGroup[T plane.Scalar](m *Mechanism, g *group, dst, loads []Load[T], places []plane.Vec[T]) {
	var matrix [stackLinks * stackLinks]T
	var pivots [stackLinks]int
	var unknowns [stackLinks]T
	n := len(g.links)
	var d plane.LU[T]
	x := unknowns[:]
	if n <= stackLinks {
		d = plane.LUOver(n, matrix[:n*n], pivots[:n])
		x = x[:n]
	} else {
		d = plane.LUOver(n, make([]T, n*n), make([]int, n))
		x = make([]T, n)
	}
	generalizedForces(g, x, loads, places)
	for k := range g.loops {
		lp := &g.loops[k]
		at := places[lp.point]
		for i := lp.linkA; i >= 0; i = g.links[i].up {
			addMode(&d, k, i, motion(&g.links[i], places, at))
		}
		for i := lp.linkB; i >= 0; i = g.links[i].up {
			addMode(&d, k, i, motion(&g.links[i], places, at).Times(-1))
		}
	}
	if d.Factor() {
		d.Solve(x)
	}
	for k := range g.loops {
		lp := &g.loops[k]
		var by Load[T]
		by.Push(plane.Vec[T]{Along: x[2*k], Ahead: x[2*k+1]}, places[lp.point])
		react(m, dst, loads, lp.joint, lp.a, &by)
	}
	for i := len(g.links) - 1; i >= 0; i-- {
		b := &g.links[i]
		if b.slides() {
			by := loads[b.body].minus()
			react(m, dst, loads, b.joint, b.body, &by)
			continue
		}
		loadPin(m, dst, loads, b.joint, b.body, places[b.point])
	}
}

// addMode adds how tree link i moves the gap of a loop.
func addMode[T plane.Scalar](d *plane.LU[T], loop, link int, v plane.Vec[T]) {
	*d.At(link, 2*loop) += v.Along
	*d.At(link, 2*loop+1) += v.Ahead
}

// generalizedForces fills x with what the loads do against the motion of each tree link and of all that hangs on
// it: a moment about its pin, or a force along its slide, the sign turned.
func generalizedForces[T plane.Scalar](g *group, x []T, loads []Load[T], places []plane.Vec[T]) {
	var sums [stackLinks]Load[T]
	all := sums[:]
	if len(g.links) > stackLinks {
		all = make([]Load[T], len(g.links))
	}
	all = all[:len(g.links)]
	for i := range all {
		all[i] = loads[g.links[i].body]
	}
	for i := len(all) - 1; i >= 0; i-- {
		b := &g.links[i]
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

// motion is the velocity of a place of what hangs on a tree link, per unit of its unknown.
func motion[T plane.Scalar](b *treeLink, places []plane.Vec[T], at plane.Vec[T]) plane.Vec[T] {
	if !b.slides() {
		return at.Minus(places[b.point]).Quarter()
	}
	line := places[b.through[1]].Minus(places[b.through[0]])
	return line.Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
}
