package kinematics

import (
	"cmp"
	"slices"
)

// stencilNodes is how many solved samples a stencil looks at, at most.
const stencilNodes = 6

// stencil predicts the drive at one sample from drives and their rates at others: the Hermite
// polynomial through them, which errs in the power of the step that is twice their number. Weights
// of the rates are for a step of 1 between samples.
type stencil struct {
	nodes [stencilNodes]int // those beyond the number known have no weight
	value [stencilNodes]float64
	rate  [stencilNodes]float64
}

// stage is samples that follow only from those of earlier stages, with the stencil of each.
type stage struct {
	samples []int
	from    []stencil
}

// newStages begins with the sample in the middle and the last one, and then halves the widest gaps, so
// that nearly all samples lie between others that are already known.
func newStages(samples int) []stage {
	last := samples - 1
	known := []int{0}
	var all []stage
	grow := func(list ...int) {
		var s stage
		for _, k := range list {
			if k > 0 && !slices.Contains(known, k) {
				s.samples, s.from = append(s.samples, k), append(s.from, newStencil(k, known))
			}
		}
		if len(s.samples) > 0 {
			known = append(known, s.samples...)
			slices.Sort(known)
			all = append(all, s)
		}
	}
	grow(last / 2)
	grow(last)
	for len(known) < samples {
		grow(middles(known)...)
	}
	return all
}

// orderlyStages have one sample each, which follows from those before it.
func orderlyStages(samples int) []stage {
	known := []int{0}
	var all []stage
	for k := 1; k < samples; k++ {
		all = append(all, stage{[]int{k}, []stencil{newStencil(k, known[max(0, k-3):])}})
		known = append(known, k)
	}
	return all
}

// middles are in the middle of the widest gaps between samples.
func middles(known []int) []int {
	widest := 0
	for i := 1; i < len(known); i++ {
		widest = max(widest, known[i]-known[i-1])
	}
	var all []int
	for i := 1; i < len(known); i++ {
		if known[i]-known[i-1] == widest {
			all = append(all, (known[i-1]+known[i])/2)
		}
	}
	return all
}

// between is the stencil of a place among samples, which is given in steps, from up to four of them.
func between(place float64, samples int) (s stencil) {
	count := min(4, samples)
	from := max(0, min(int(place)-1, samples-count))
	var at [4]float64
	for i := range count {
		s.nodes[i], at[i] = from+i, float64(from+i)
	}
	hermite(at[:count], place, s.value[:], s.rate[:])
	return s
}

// newStencil takes the samples nearest to one.
func newStencil(sample int, known []int) stencil {
	near := slices.Clone(known)
	slices.SortStableFunc(near, func(a, b int) int { return cmp.Compare(abs(a-sample), abs(b-sample)) })
	near = near[:min(stencilNodes, len(near))]
	slices.Sort(near)
	var s stencil
	copy(s.nodes[:], near)
	var at [stencilNodes]float64
	for i, k := range near {
		at[i] = float64(k)
	}
	hermite(at[:len(near)], float64(sample), s.value[:], s.rate[:])
	return s
}

func abs(i int) int { return max(i, -i) }

// hermite gives the weights of values and derivatives at the nodes in the Hermite polynomial at x:
// with l the node's Lagrange polynomial, (1 − 2 l′ (x − node)) l² and (x − node) l².
func hermite(nodes []float64, x float64, value, rate []float64) {
	for i, at := range nodes {
		l, slope := 1.0, 0.0
		for k, other := range nodes {
			if k != i {
				inverse := 1 / (at - other)
				l *= (x - other) * inverse
				slope += inverse
			}
		}
		value[i], rate[i] = (1-2*slope*(x-at))*l*l, (x-at)*l*l
	}
}
