package optimize

import (
	"cmp"
	"math"
	"slices"
)

const (
	remoteShare = 0.2 // of the population at first
	remoteGone  = 0.8 // share of the budget from which none are kept
	remoteTried = 4   // infeasible members considered, as a multiple of those kept
)

// remoteMembers returns members that lie far, in the variables, from every better one, up to a number of them and none
// that is kept already: each the best of a basin of its own, as in nearest-better clustering (Preuss, EvoApplications 2012,
// LNCS 7248, 386; recalled). Where a problem has constraints, the basin that first brings a feasible member takes
// over the whole population otherwise, and nothing is left of all others, one of which may have led to the better part of
// the front. Members come in layers, the better ones first.
func remoteMembers(layers [][]*member, kept map[*member]bool, count int) []*member {
	gap := map[*member]float64{}
	var candidates, placed []*member
	infeasible := 0
	for k, layer := range layers {
		if infeasible >= remoteTried*count {
			break
		}
		for _, m := range layer {
			if k == 0 || kept[m] {
				continue
			}
			gap[m] = nearestGap(m, placed)
			candidates = append(candidates, m)
			if !m.feasible {
				infeasible++
			}
		}
		placed = append(placed, layer...)
	}
	slices.SortStableFunc(candidates, func(a, b *member) int { return cmp.Compare(gap[b], gap[a]) })
	return candidates[:min(count, len(candidates))]
}

// nearestGap is the least squared distance of a member from some others in the scaled variables.
func nearestGap(m *member, others []*member) float64 {
	least := math.Inf(1)
	for _, o := range others {
		sum := 0.0
		for i, v := range m.u {
			d := v - o.u[i]
			if sum += d * d; sum >= least {
				break
			}
		}
		least = min(least, sum)
	}
	return least
}

func setOf(members []*member) map[*member]bool {
	in := make(map[*member]bool, len(members))
	for _, m := range members {
		in[m] = true
	}
	return in
}

// without returns the members that are not in a set, as a slice of its own.
func without(members []*member, in map[*member]bool) []*member {
	return slices.DeleteFunc(slices.Clone(members), func(m *member) bool { return in[m] })
}
