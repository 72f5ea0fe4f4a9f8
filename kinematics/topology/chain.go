package topology

import (
	"cmp"
	"slices"
	"strings"
)

// Chain is a kinematic chain: bodies joined by pivots that move relative to each other with one degree of freedom,
// none of them chosen as the ground yet. No two bodies share more than one pivot, and no part of it is rigid: of m of its bodies, at most
// (3 m − 4) / 2 pivots join two.
type Chain struct {
	Bodies int
	Pivots [][2]int // pairs of bodies, numbered from 0

	graph graph
}

// Chains lists the kinematic chains of a number of bodies up to ten, one of each kind: no two of them are the same with
// their bodies renumbered. By Grübler and Kutzbach, 3 (n − 1) − 2 j = 1, chains of an odd number do not exist.
//
// They grow body by body. Parts of a chain have few pivots: of m bodies, fewer than 3 m / 2 pivots join two, so one of them has two
// at most. The chain without that body is again such a part, and so on down to nothing; hence every chain appears when
// each part is extended by a body with at most two pivots in all ways.
func Chains(count int) []Chain {
	if count < 2 || count > most || count%2 != 0 {
		return nil
	}
	pivots := (3*count - 4) / 2
	parts := []graph{{}}
	for n := range count {
		least := pivots - 2*(count-n-1) // those of the bodies still to come are two each at most
		kinds := map[string]graph{}
		for i := range parts {
			for _, g := range parts[i].extended() {
				if len(g.pivots()) >= least {
					kinds[g.canonical()] = g
				}
			}
		}
		parts = nil
		for _, code := range sortedKeys(kinds) {
			parts = append(parts, kinds[code])
		}
	}
	var all []Chain
	for _, g := range parts {
		all = append(all, Chain{Bodies: count, Pivots: g.pivots(), graph: g})
	}
	slices.SortStableFunc(all, func(a, b Chain) int { return cmp.Compare(len(a.Assortment()), len(b.Assortment())) })
	return all
}

func sortedKeys(kinds map[string]graph) []string {
	codes := make([]string, 0, len(kinds))
	for code := range kinds {
		codes = append(codes, code)
	}
	slices.SortFunc(codes, strings.Compare)
	return codes
}

// extended lists the graphs with one more body, joined to at most two others, of which no part is rigid.
func (g *graph) extended() (all []graph) {
	last := g.n
	for with := bodies(0); with < 1<<last; with++ {
		if with.count() > 2 {
			continue
		}
		one := *g
		one.n++
		for b := range last {
			if with.has(b) {
				one.join(b, last)
			}
		}
		if !one.rigid(last) {
			all = append(all, one)
		}
	}
	return all
}

// rigid tells whether a part that contains the given body is rigid.
func (g *graph) rigid(with int) bool {
	for s := bodies(0); s < 1<<g.n; s++ {
		if s.has(with) && s.count() > 1 && g.freedom(s) < 1 {
			return true
		}
	}
	return false
}

// Assortment counts the links by their pivots: how many have 2, 3, 4 and so on. It is empty for two bodies, which have
// one pivot each.
func (c *Chain) Assortment() []int {
	var count []int
	for b := range c.Bodies {
		i := c.graph.next[b].count() - 2
		if i < 0 {
			continue
		}
		for len(count) <= i {
			count = append(count, 0)
		}
		count[i]++
	}
	return count
}

// symmetries lists the renumberings of the bodies that leave a graph as it is, the one that changes nothing first.
func (g *graph) symmetries() (all [][]int) {
	var extend func(to []int, used bodies)
	extend = func(to []int, used bodies) {
		b := len(to)
		if b == g.n {
			all = append(all, slices.Clone(to))
			return
		}
		for image := range g.n {
			if used.has(image) || g.next[image].count() != g.next[b].count() {
				continue
			}
			same := true
			for a := range b {
				same = same && g.next[a].has(b) == g.next[to[a]].has(image)
			}
			if same {
				extend(append(to, image), used|1<<image)
			}
		}
	}
	extend(nil, 0)
	return all
}

// Inversion is a chain with one of its bodies as the ground and, where it has one, a slide in place of a pivot.
type Inversion struct {
	Ground int
	Slide  int // index in Pivots; −1: all are pivots
}

// Inversions lists the different ways of choosing the ground of the chain, with or without a slide in place of one of
// its pivots. Which of the two bodies of a slide is the guide makes no difference.
func (c *Chain) Inversions(slide bool) (all []Inversion) {
	symmetries := c.graph.symmetries()
	slides := []int{-1}
	if slide {
		slides = c.slides(symmetries)
	}
	for _, s := range slides {
		for ground := range c.Bodies {
			if c.first(symmetries, func(to []int) int {
				return cmp.Or(cmp.Compare(c.slideUnder(to, s), s), cmp.Compare(to[ground], ground))
			}) {
				all = append(all, Inversion{ground, s})
			}
		}
	}
	return all
}

// slides lists the different pivots of the chain that a slide can replace, as indices in Pivots.
func (c *Chain) slides(symmetries [][]int) (all []int) {
	for i := range c.Pivots {
		if c.first(symmetries, func(to []int) int { return cmp.Compare(c.slideUnder(to, i), i) }) {
			all = append(all, i)
		}
	}
	return all
}

// first tells whether no symmetry makes an arrangement come before itself. Of those that are the same, one does not.
func (c *Chain) first(symmetries [][]int, compare func(to []int) int) bool {
	return !slices.ContainsFunc(symmetries, func(to []int) bool { return compare(to) < 0 })
}

// slideUnder is the pivot that a symmetry carries one to; −1 stays.
func (c *Chain) slideUnder(to []int, pivot int) int {
	if pivot < 0 {
		return -1
	}
	p := c.Pivots[pivot]
	a, b := to[p[0]], to[p[1]]
	return slices.Index(c.Pivots, [2]int{min(a, b), max(a, b)})
}
