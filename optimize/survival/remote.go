package survival

import (
	"math"
	"slices"

	"forkfront/optimize/population"
)

const (
	remoteShare = 0.2 // of the population at first
	remoteGone  = 0.8 // share of the budget from which none are kept
	remoteTried = 4   // infeasible members considered, as a multiple of those kept
)

// remotest is the members that are farthest from any better one so far, the farthest first, of equal ones the earlier.
type remotest struct {
	members []*population.Member
	gaps    []float64
	placed  []float64 // variables of the better ones, one after the other
}

// find returns members that lie far, in the variables, from every better one, up to a number of them and none
// that is kept already: each the best of a basin of its own, as in nearest-better clustering (Preuss, EvoApplications 2012,
// LNCS 7248, 386; recalled). Where a problem has constraints, the basin that first brings a feasible member takes
// over the whole population otherwise, and nothing is left of all others, one of which may have led to the better part of
// the front. Members come in layers, the better ones first. What it returns is valid until it looks again.
func (r *remotest) find(layers [][]*population.Member, kept map[*population.Member]bool, count int) []*population.Member {
	r.members, r.gaps, r.placed = r.members[:0], r.gaps[:0], r.placed[:0]
	infeasible := 0
	for k, layer := range layers {
		if infeasible >= remoteTried*count {
			break
		}
		for _, m := range layer {
			if k == 0 || kept[m] {
				continue
			}
			r.consider(m, count)
			if !m.Feasible {
				infeasible++
			}
		}
		for _, m := range layer {
			r.placed = append(r.placed, m.U...)
		}
	}
	return r.members
}

// consider takes in a member if it is among the count remotest.
func (r *remotest) consider(m *population.Member, count int) {
	bound := -1.0
	if len(r.gaps) == count {
		bound = r.gaps[count-1]
	}
	gap := nearestGap(m.U, r.placed, bound)
	if gap <= bound {
		return
	}
	at := len(r.gaps)
	for at > 0 && r.gaps[at-1] < gap {
		at--
	}
	r.members, r.gaps = slices.Insert(r.members, at, m), slices.Insert(r.gaps, at, gap)
	r.members, r.gaps = r.members[:min(count, len(r.gaps))], r.gaps[:min(count, len(r.gaps))]
}

// nearestGap is the least squared distance from u to some others, one after the other, in the scaled variables; where that is no more than a
// bound, anything up to it. The last others, which are but a little better, are nearest as a rule.
func nearestGap(u, others []float64, bound float64) float64 {
	least, n := math.Inf(1), len(u)
next:
	for end := len(others); end > 0; end -= n {
		o, sum := others[end-n : end][:n], 0.0
		for i, v := range u {
			d := v - o[i]
			if sum += d * d; sum >= least {
				continue next
			}
		}
		if least = sum; least <= bound {
			return least
		}
	}
	return least
}
