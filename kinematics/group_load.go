package kinematics

// small is how many bodies of a group the loads are found of without memory of their own.
const small = 8

// holdGroup finds the loads in the joints of a group. The forces at its loops are those with which
// no part that hangs on a limb moves it: the equations are those of the rates, transposed (virtual
// work). What each limb bears follows from its end inwards.
func holdGroup[T Scalar](m *Mechanism, g *group, dst, loads []Load[T], places []Vec[T]) {
	var matrix [small * small]T
	var pivots [small]int
	var unknowns [small]T
	n := len(g.limbs)
	var d dense[T]
	x := unknowns[:]
	if n <= small {
		d.use(n, matrix[:n*n], pivots[:n])
		x = x[:n]
	} else {
		d.use(n, make([]T, n*n), make([]int, n))
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
			yields(&d, k, i, motion(&g.limbs[i], places, at).times(-1))
		}
	}
	if d.factor() {
		d.solve(x)
	}
	for k := range g.loops {
		lp := &g.loops[k]
		var by Load[T]
		by.Push(Vec[T]{x[2*k], x[2*k+1]}, places[lp.point])
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
func yields[T Scalar](d *dense[T], loop, limb int, v Vec[T]) {
	*d.at(limb, 2*loop) += v.Along
	*d.at(limb, 2*loop+1) += v.Ahead
}

// pushes fills x with what the loads do against the motion of each limb and of all that hangs on
// it: a moment about its pin, or a force along its slide, the sign turned.
func pushes[T Scalar](g *group, x []T, loads []Load[T], places []Vec[T]) {
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
			x[i] = -all[i].Force.dot(motion(b, places, Vec[T]{}))
			continue
		}
		x[i] = -all[i].About(places[b.point])
	}
}

// motion is the velocity of a place of what hangs on a limb, per unit of its unknown.
func motion[T Scalar](b *limb, places []Vec[T], at Vec[T]) Vec[T] {
	if !b.slides() {
		return at.minus(places[b.point]).quarter()
	}
	line := places[b.through[1]].minus(places[b.through[0]])
	return line.times(Inverse(Sqrt(line.dot(line))))
}
