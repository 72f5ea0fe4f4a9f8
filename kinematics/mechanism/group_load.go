package mechanism

import "forkfront/kinematics/plane"

// stackLinks is how many bodies of a group the loads are found of without memory of their own.
const stackLinks = 8

// holdGroup finds the loads in the joints of a group. The forces at its loops are those with which
// no part that hangs on a tree link moves it: the equations are those of the rates, transposed (virtual
// work). What each tree link bears follows from its end inwards.
func holdGroup[T plane.Scalar](m *Mechanism, g *Group, dst, loads []Load[T], places []plane.Vec[T]) {
	var matrix [stackLinks * stackLinks]T
	var pivots [stackLinks]int
	var unknowns [stackLinks]T
	n := len(g.Links)
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
	for k := range g.Loops {
		lp := &g.Loops[k]
		at := places[lp.Point]
		for i := lp.LinkA; i >= 0; i = g.Links[i].Up {
			addMode(&d, k, i, motion(&g.Links[i], places, at))
		}
		for i := lp.LinkB; i >= 0; i = g.Links[i].Up {
			addMode(&d, k, i, motion(&g.Links[i], places, at).Times(-1))
		}
	}
	if d.Factor() {
		d.Solve(x)
	}
	for k := range g.Loops {
		lp := &g.Loops[k]
		var by Load[T]
		by.Push(plane.Vec[T]{Along: x[2*k], Ahead: x[2*k+1]}, places[lp.Point])
		react(m, dst, loads, lp.joint, lp.A, &by)
	}
	for i := len(g.Links) - 1; i >= 0; i-- {
		b := &g.Links[i]
		if b.Slides() {
			by := loads[b.Body].minus()
			react(m, dst, loads, b.joint, b.Body, &by)
			continue
		}
		loadPin(m, dst, loads, b.joint, b.Body, places[b.Point])
	}
}

// addMode adds how tree link i moves the gap of a loop.
func addMode[T plane.Scalar](d *plane.LU[T], loop, link int, v plane.Vec[T]) {
	*d.At(link, 2*loop) += v.Along
	*d.At(link, 2*loop+1) += v.Ahead
}

// generalizedForces fills x with what the loads do against the motion of each tree link and of all that hangs on
// it: a moment about its pin, or a force along its slide, the sign turned.
func generalizedForces[T plane.Scalar](g *Group, x []T, loads []Load[T], places []plane.Vec[T]) {
	var sums [stackLinks]Load[T]
	all := sums[:]
	if len(g.Links) > stackLinks {
		all = make([]Load[T], len(g.Links))
	}
	all = all[:len(g.Links)]
	for i := range all {
		all[i] = loads[g.Links[i].Body]
	}
	for i := len(all) - 1; i >= 0; i-- {
		b := &g.Links[i]
		if b.Up >= 0 {
			all[b.Up].Add(all[i])
		}
		if b.Slides() {
			x[i] = -all[i].Force.Dot(motion(b, places, plane.Vec[T]{}))
			continue
		}
		x[i] = -all[i].About(places[b.Point])
	}
}

// motion is the velocity of a place of what hangs on a tree link, per unit of its unknown.
func motion[T plane.Scalar](b *treeLink, places []plane.Vec[T], at plane.Vec[T]) plane.Vec[T] {
	if !b.Slides() {
		return at.Minus(places[b.Point]).Quarter()
	}
	line := places[b.Through[1]].Minus(places[b.Through[0]])
	return line.Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
}
