package topology_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/kinematics/topology"
)

// The second way of counting forks. It shares no code and no rule with the first: graphs are all sets of pairs of
// numbered bodies; whether a linkage moves with one degree of freedom and no rigid part is read off the velocities of
// its bodies at random positions, and which bodies a load reaches off the forces in its joints there; and forks that
// are the same are counted once by Burnside's lemma.

type pair [2]int

// linkage is a set of joints between numbered bodies at random positions.
type linkage struct {
	n      int
	joints []pair
	slide  int // index in joints; −1: none
	at     [][2]float64
	reach  map[uint]uint // by set of loaded bodies
}

// labelled is a fork of numbered bodies.
type labelled struct {
	joints               uint // a bit for each pair
	slide                int  // the pair; −1: none
	ground, axle, brake  int
	shockOne, shockOther int
}

func pairsOf(n int) (all []pair) {
	for a := range n {
		for b := a + 1; b < n; b++ {
			all = append(all, pair{a, b})
		}
	}
	return all
}

// equations of a joint on the velocities (x, y, turn) of its two bodies: points that coincide move alike; where it
// slides, the turns are equal and there is no motion across its line. The transposed rows are the forces of the joint
// on both bodies.
func (l *linkage) equations(i int) (rows [2][]float64) {
	p, j := l.at[i], l.joints[i]
	for k := range rows {
		rows[k] = make([]float64, 3*l.n)
		for s, b := range j {
			sign := float64(1 - 2*s)
			switch {
			case i == l.slide && k == 0:
				rows[k][3*b+2] = sign
			case i == l.slide || k == 0:
				across := [2]float64{1, 0}
				if i == l.slide {
					across = p
				}
				rows[k][3*b], rows[k][3*b+1] = sign*across[0], sign*across[1]
				rows[k][3*b+2] = sign * (across[1]*p[0] - across[0]*p[1])
			default:
				rows[k][3*b+1], rows[k][3*b+2] = sign, sign*p[0]
			}
		}
	}
	return rows
}

// solve is the solution of a square system, and whether it has exactly one.
func solve(a [][]float64, y []float64) ([]float64, bool) {
	n := len(y)
	for c := range n {
		best := c
		for r := c; r < n; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[best][c]) {
				best = r
			}
		}
		if math.Abs(a[best][c]) < 1e-9 {
			return nil, false
		}
		a[c], a[best], y[c], y[best] = a[best], a[c], y[best], y[c]
		for r := range n {
			if f := a[r][c] / a[c][c]; r != c && f != 0 {
				for k := c; k < n; k++ {
					a[r][k] -= f * a[c][k]
				}
				y[r] -= f * y[c]
			}
		}
	}
	for i := range y {
		y[i] /= a[i][i]
	}
	return y, true
}

// moves tells whether the linkage has one degree of freedom in which every body moves relative to every other: a drive
// between any two bodies then determines all velocities.
func (l *linkage) moves() bool {
	for _, between := range pairsOf(l.n) {
		var a [][]float64
		for i := range l.joints {
			rows := l.equations(i)
			a = append(a, rows[0], rows[1])
		}
		for i := range 3 { // the first body stands
			row := make([]float64, 3*l.n)
			row[i] = 1
			a = append(a, row)
		}
		drive := make([]float64, 3*l.n)
		for s, b := range between {
			for k := range 3 {
				drive[3*b+k] = float64(1-2*s) * []float64{0.83, -0.31, 0.57}[k]
			}
		}
		a = append(a, drive)
		y := make([]float64, 3*l.n)
		y[3*l.n-1] = 1
		if _, one := solve(a, y); !one {
			return false
		}
	}
	return true
}

// loaded lists the bodies that bear load when each of a set does, and a spring between two of the set balances them.
func (l *linkage) loaded(set uint) uint {
	if s, known := l.reach[set]; known {
		return s
	}
	var in []int
	for b := range l.n {
		if set&(1<<b) != 0 {
			in = append(in, b)
		}
	}
	ground := in[0]
	var unknowns [][]float64 // the forces of each unknown on all bodies
	for i := range l.joints {
		rows := l.equations(i)
		unknowns = append(unknowns, rows[0], rows[1])
	}
	spring := make([]float64, 3*l.n)
	for k := range 3 {
		f := []float64{0.77, 0.41, -0.63}[k]
		spring[3*in[0]+k], spring[3*in[1]+k] = f, -f
	}
	unknowns = append(unknowns, spring)
	var a [][]float64
	var y []float64
	r := rand.New(rand.NewPCG(uint64(set), 5))
	for b := range l.n {
		if b == ground {
			continue // whatever it bears
		}
		for k := range 3 {
			row := make([]float64, len(unknowns))
			for u := range unknowns {
				row[u] = unknowns[u][3*b+k]
			}
			load := 0.0
			if set&(1<<b) != 0 {
				load = 1 + r.Float64()
			}
			a, y = append(a, row), append(y, load)
		}
	}
	force, one := solve(a, y)
	if !one {
		panic("the forces are not determined")
	}
	bears := set
	for i, j := range l.joints {
		if math.Hypot(force[2*i], force[2*i+1]) > 1e-7 {
			bears |= 1<<j[0] | 1<<j[1]
		}
	}
	l.reach[set] = bears
	return bears
}

// labelledForks lists all forks of n numbered bodies.
func labelledForks(n int, slide, anyTrain bool) (all []labelled) {
	pairs := pairsOf(n)
	r := rand.New(rand.NewPCG(uint64(n), 3))
	for set := uint(0); set < 1<<len(pairs); set++ {
		l := &linkage{n: n, slide: -1}
		for i, p := range pairs {
			if set&(1<<i) != 0 {
				l.joints = append(l.joints, p)
				l.at = append(l.at, [2]float64{r.NormFloat64(), r.NormFloat64()})
			}
		}
		if 3*(n-1)-2*len(l.joints) != 1 || !l.moves() {
			continue
		}
		if !slide {
			l.reach = map[uint]uint{}
			all = append(all, l.forks(set, -1, anyTrain)...)
			continue
		}
		for s, p := range l.joints {
			l.slide, l.reach = s, map[uint]uint{}
			if !l.moves() {
				panic("a slide in place of a pivot makes a linkage rigid")
			}
			all = append(all, l.forks(set, slices.Index(pairs, p), anyTrain)...)
		}
	}
	return all
}

func (l *linkage) forks(set uint, slide int, anyTrain bool) (all []labelled) {
	size := func(s uint) (count int) {
		for ; s > 0; s &= s - 1 {
			count++
		}
		return count
	}
	for ground := range l.n {
		for axle := range l.n {
			for brake := range l.n {
				joint := slices.IndexFunc(l.joints, func(j pair) bool { return j == pair{axle, brake} || j == pair{brake, axle} })
				if axle == ground || brake == ground || brake != axle && (joint < 0 || joint == l.slide) {
					continue
				}
				guide := l.loaded(1<<ground | 1<<axle)
				braked := l.loaded(1<<ground | 1<<axle | 1<<brake)
				for _, s := range pairsOf(l.n) {
					whole := l.loaded(1<<ground | 1<<axle | 1<<brake | 1<<s[0] | 1<<s[1])
					switch {
					case size(whole) < l.n, brake != axle && guide&(1<<brake) != 0:
					case !anyTrain && (l.n-size(braked) > 2 || size(braked)-size(guide) > 2):
					default:
						all = append(all, labelled{set, slide, ground, axle, brake, s[0], s[1]})
					}
				}
			}
		}
	}
	return all
}

// orbits counts the forks that differ by more than the numbering of their bodies: by Burnside's lemma, the mean over
// all renumberings of how many forks each leaves as they are.
func orbits(n int, forks []labelled) int {
	pairs := pairsOf(n)
	fixed, renumberings := 0, 0
	to := make([]int, n)
	for i := range to {
		to[i] = i
	}
	var permute func(k int)
	permute = func(k int) {
		if k == n {
			renumberings++
			fixed += fixedBy(to, pairs, forks)
			return
		}
		for i := k; i < n; i++ {
			to[k], to[i] = to[i], to[k]
			permute(k + 1)
			to[k], to[i] = to[i], to[k]
		}
	}
	permute(0)
	if fixed%renumberings != 0 {
		panic("the mean is no whole number")
	}
	return fixed / renumberings
}

func fixedBy(to []int, pairs []pair, forks []labelled) (count int) {
	image := make([]int, len(pairs))
	for i, p := range pairs {
		a, b := to[p[0]], to[p[1]]
		image[i] = slices.Index(pairs, pair{min(a, b), max(a, b)})
	}
	for i := range forks {
		f := &forks[i]
		if to[f.ground] != f.ground || to[f.axle] != f.axle || to[f.brake] != f.brake || f.slide >= 0 && image[f.slide] != f.slide {
			continue
		}
		if a, b := to[f.shockOne], to[f.shockOther]; min(a, b) != f.shockOne || max(a, b) != f.shockOther {
			continue
		}
		joints := uint(0)
		for k := range pairs {
			if f.joints&(1<<k) != 0 {
				joints |= 1 << image[k]
			}
		}
		if joints == f.joints {
			count++
		}
	}
	return count
}

func TestForksAreThoseCountedOtherwise(t *testing.T) {
	for _, slide := range []bool{false, true} {
		for _, anyTrain := range []bool{false, true} {
			sum := 0
			for n := 2; n <= 6; n += 2 {
				if n == 6 && slide {
					continue // a minute; with one slide, four bodies have to do
				}
				sum += orbits(n, labelledForks(n, slide, anyTrain))
				what := fmt.Sprintf("%d bodies, slide %t, any train %t", n, slide, anyTrain)
				got := len(topology.Forks(topology.Options{Bodies: n, Slide: slide, AnyTrain: anyTrain}))
				if t.Logf("%s: %d", what, sum); got != sum {
					t.Errorf("%s: %d forks, counted otherwise %d", what, got, sum)
				}
			}
		}
	}
}

// The second way can tell that bodies are idle, and that a linkage is rigid or has a rigid part.
func TestCountingOtherwiseTellsWhatIsLeftOut(t *testing.T) {
	at := [][2]float64{{0.3, 0.1}, {1.2, -0.4}, {0.9, 1.3}, {-0.5, 0.8}, {0.2, -1.1}, {1.7, 0.6}, {-1.2, 0.3}}
	fourBar := &linkage{n: 4, joints: []pair{{0, 1}, {1, 2}, {2, 3}, {0, 3}}, slide: -1, at: at, reach: map[uint]uint{}}
	if !fourBar.moves() {
		t.Error("a four-bar does not move")
	}
	if arm := fourBar.loaded(1<<0 | 1<<1); arm != 1<<0|1<<1 {
		t.Errorf("a load on an arm and its shock reach %b", arm)
	}
	// A triangle of bodies, and a body that hangs on them: 3 × 5 − 2 × 7 = 1, yet part of it is rigid.
	triangle := &linkage{n: 6, joints: []pair{{0, 1}, {1, 2}, {0, 2}, {2, 3}, {3, 4}, {4, 5}, {0, 5}}, slide: -1, at: at, reach: map[uint]uint{}}
	if triangle.moves() {
		t.Error("a linkage with a rigid triangle passes")
	}
}
