package spacing

import (
	"cmp"
	"math"
	"slices"
)

// Directions are unit vectors spread over the positive orthant.
type Directions struct {
	vectors [][]float64
	nearest *Neighbours // as many of the first ones as were used last
}

// NewDirections returns at least n directions: the points of a simplex lattice (Das and
// Dennis 1998), two lattices one inside the other where a single one with inner points
// would be far too many.
func NewDirections(objectives, n int) Directions {
	if objectives == 1 {
		return Directions{vectors: [][]float64{{1}}} // the lattice has one point, however fine it is
	}
	outer, inner := 1, 0
	for latticeSize(objectives, outer)+latticeSize(objectives, inner) < n {
		if outer >= objectives || inner == outer-1 {
			outer++
		} else {
			inner++
		}
		if outer >= objectives {
			inner = 0
		}
	}
	var all [][]float64
	simplex(objectives, outer, func(w []float64) { all = append(all, unit(w)) })
	if inner > 0 {
		simplex(objectives, inner, func(w []float64) {
			for i := range w {
				w[i] = w[i]/2 + 0.5/float64(objectives)
			}
			all = append(all, unit(w))
		})
	}
	return Directions{vectors: farthestFirst(all)}
}

// farthestFirst orders the directions so that any number of the first ones are spread over
// all: each is the one farthest from those before it. A population smaller than the lattice
// would otherwise leave one corner of the front empty.
func farthestFirst(d [][]float64) [][]float64 {
	near := make([]float64, len(d)) // cosine to the nearest one before
	for i := range near {
		near[i] = math.Inf(-1)
	}
	ordered := make([][]float64, 0, len(d))
	next := 0
	for len(ordered) < len(d) {
		w := d[next]
		ordered = append(ordered, w)
		near[next] = math.Inf(1)
		for i, v := range d {
			dot := 0.0
			for j := range v {
				dot += v[j] * w[j]
			}
			near[i] = max(near[i], dot)
		}
		for i, v := range near {
			if v < near[next] {
				next = i
			}
		}
	}
	return ordered
}

// latticeSize is the number of ways to share p parts among m: C(m+p−1, p); 0 for p = 0.
func latticeSize(m, p int) int {
	if p == 0 {
		return 0
	}
	n := 1
	for i := 1; i <= p; i++ {
		n = n * (m - 1 + i) / i
	}
	return n
}

func simplex(m, p int, yield func([]float64)) {
	w := make([]float64, m)
	var share func(i, left int)
	share = func(i, left int) {
		if i == m-1 {
			w[i] = float64(left) / float64(p)
			yield(slices.Clone(w))
			return
		}
		for k := left; k >= 0; k-- {
			w[i] = float64(k) / float64(p)
			share(i+1, left-k)
		}
	}
	share(0, p)
}

func unit(w []float64) []float64 {
	norm := 0.0
	for _, v := range w {
		norm += v * v
	}
	for i := range w {
		w[i] /= math.Sqrt(norm)
	}
	return w
}

// Cut returns the indices of n of the points behind the first kept, by the niche count of reference-direction
// survival (Deb and Jain, IEEE Trans. Evol. Comput. 18, 2014): the direction with the fewest survivors takes
// its nearest candidate next. The first kept points survive already. Ties go to the earlier direction, so
// nothing is drawn.
func (d *Directions) Cut(points [][]float64, kept, n int) []int {
	used := min(len(d.vectors), kept+n)
	at, off := d.assign(points, used)
	count := make([]int, used)
	for i := range kept {
		count[at[i]]++
	}
	waiting := make([][]int, used) // candidates of each direction, nearest first
	for i := kept; i < len(points); i++ {
		waiting[at[i]] = append(waiting[at[i]], i)
	}
	for _, w := range waiting {
		slices.SortStableFunc(w, func(a, b int) int { return cmp.Compare(off[a], off[b]) })
	}
	return fillNiches(count, waiting, n)
}

// fillNiches takes n of the candidates that wait, always for the direction that has the fewest.
func fillNiches(count []int, waiting [][]int, n int) []int {
	var q Queue
	for k, w := range waiting {
		if len(w) > 0 {
			q = append(q, Entry{float64(count[k]), k})
		}
	}
	q.Init()
	chosen := make([]int, 0, n)
	for len(chosen) < n {
		k := q[0].Index
		chosen = append(chosen, waiting[k][0])
		waiting[k] = waiting[k][1:]
		if len(waiting[k]) == 0 {
			q.Drop()
			continue
		}
		q[0].Key++
		q.Sink()
	}
	return chosen
}

// assign gives each point the direction among the first ones with the least perpendicular distance, and that
// distance squared. On the unit sphere it is the nearest one, so a tree finds it.
func (d *Directions) assign(points [][]float64, used int) (at []int, off []float64) {
	at, off = make([]int, len(points)), make([]float64, len(points))
	if d.nearest == nil || len(d.nearest.points) != used {
		d.nearest = NewNeighbours(d.vectors[:used])
	}
	onSphere := make([]float64, len(d.vectors[0]))
	for i, p := range points {
		norm := 0.0
		for _, v := range p {
			norm += v * v
		}
		if norm == 0 {
			continue
		}
		length := math.Sqrt(norm)
		for j, v := range p {
			onSphere[j] = v / length
		}
		k := d.nearest.nearestTo(onSphere)
		along := 0.0
		for j, v := range p {
			along += v * d.vectors[k][j]
		}
		at[i], off[i] = k, norm-along*along
	}
	return at, off
}
