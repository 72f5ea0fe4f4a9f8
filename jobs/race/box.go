package race

import (
	"math"
	"math/rand/v2"
	"slices"

	"forkfront/optimize/dominance"
	"forkfront/optimize/volume"
)

// Samples is how many points stand for the volume in which fronts are compared.
const Samples = 1 << 15

// quantile is the part of the points of the joint front, in %, that lie below the box's far end in one objective. The last few
// may be far off, and a box that reached to them would hardly tell fronts apart.
const quantile = 95

// Box is the part of the space of objectives in which fronts are compared, with the sample points in it.
type Box struct {
	low, span []float64
	samples   *volume.Samples
}

// NewBox is the box from the best value of each objective to the 95 % quantile, over those points of some fronts that none of them
// dominates, with sample points from a seed; nil where there is no point. Dominated points would widen the box by what the worst
// of hundreds of cases are like, until the first few fill it.
func NewBox(fronts [][][]float64, seed uint64) *Box {
	points := dominance.Nondominated(slices.Concat(fronts...))
	if len(points) == 0 {
		return nil
	}
	b := &Box{}
	for j := range points[0] {
		values := make([]float64, len(points))
		for i, p := range points {
			values[i] = p[j]
		}
		slices.Sort(values)
		b.low = append(b.low, values[0])
		b.span = append(b.span, values[(quantile*len(values)+99)/100-1]-values[0])
	}
	b.samples = volume.NewSamples(Samples, len(b.low), 0, 1, rand.New(rand.NewPCG(seed, 1)))
	return b
}

// Cover is a set of sample points.
type Cover []uint64

// Covered are the sample points that a front dominates, those on its edge included.
func (b *Box) Covered(front [][]float64) Cover {
	all, one := Cover(b.samples.None()), b.samples.None()
	place := make([]float64, len(b.low))
	for _, p := range front {
		for j, v := range p {
			place[j] = b.place(j, v)
		}
		b.samples.Dominated(one, place)
		for w, set := range one {
			all[w] |= set
		}
	}
	return all
}

// place is where a value lies in the box: 0 at its near end and better, 1 at its far end.
func (b *Box) place(j int, v float64) float64 {
	switch {
	case v <= b.low[j]:
		return 0
	case b.span[j] == 0:
		return math.Inf(1)
	}
	return (v - b.low[j]) / b.span[j]
}

// Count is the number of points in a set.
func (c Cover) Count() int { return volume.CountBits(c) }

// Without is how many of its points are not in another set.
func (c Cover) Without(other Cover) int { return c.Count() - c.And(other) }

// And is how many points are in both sets.
func (c Cover) And(other Cover) int {
	both := make(Cover, len(c))
	for w := range c {
		both[w] = c[w] & other[w]
	}
	return both.Count()
}

// Or adds another set.
func (c Cover) Or(other Cover) {
	for w := range c {
		c[w] |= other[w]
	}
}
