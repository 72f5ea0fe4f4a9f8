package topology

import (
	"cmp"
	"fmt"
	"slices"
)

// Topology is a fork without dimensions: a chain, and what its bodies carry. Bodies are numbered from 0.
type Topology struct {
	Bodies  int
	Pivots  [][2]int // the bodies that each pivot joins
	Slide   int      // index in Pivots of the one that is a slide; −1: none
	Ground  int
	Axle    int
	Caliper int    // the axle's body, or one that is joined to it by a pivot, which then is on the axle
	Shock   [2]int // the bodies that the shock is between, in no order
}

// Duties count the bodies by what they are there for.
type Duties struct {
	Guide   int // the smallest part of the chain that holds ground and axle, ground included
	Caliper int // further bodies that the caliper's needs
	Shock   int // further bodies that the shock's need
}

func (d Duties) String() string { return fmt.Sprintf("%d+%d+%d", d.Guide, d.Caliper, d.Shock) }

func (t *Topology) graph() *graph {
	g := &graph{n: t.Bodies}
	for _, p := range t.Pivots {
		g.join(p[0], p[1])
	}
	return g
}

// Floating tells whether a body of its own carries the caliper.
func (t *Topology) Floating() bool { return t.Caliper != t.Axle }

// onAxle tells whether a pivot is the one between leg and carrier.
func (t *Topology) onAxle(p [2]int) bool {
	return t.Floating() && (p == [2]int{t.Axle, t.Caliper} || p == [2]int{t.Caliper, t.Axle})
}

// Duties describes the fork by what its bodies are there for.
func (t *Topology) Duties() Duties {
	d, _ := t.duties(t.graph().spans())
	return d
}

// duties also returns the bodies of the guide.
func (t *Topology) duties(of spans) (Duties, bodies) {
	guide := of[setOf(t.Ground, t.Axle)]
	braked := of[setOf(t.Ground, t.Axle, t.Caliper)]
	all := of[setOf(t.Ground, t.Axle, t.Caliper, t.Shock[0], t.Shock[1])]
	return Duties{guide.count(), braked.count() - guide.count(), all.count() - braked.count()}, guide
}

// longestTrain is how many bodies may serve the shock only, or the caliper only, unless any number may: a dyad.
const longestTrain = 2

// kept tells whether a fork of a chain without rigid parts is one of those that are listed: no body is idle, the
// carrier of the caliper does not guide the axle, and trains of bodies are short.
func (t *Topology) kept(of spans, anyTrain bool) bool {
	d, guide := t.duties(of)
	switch {
	case d.Guide+d.Caliper+d.Shock < t.Bodies:
		return false // the others bear no load and guide nothing
	case t.Floating() && guide.has(t.Caliper):
		return false // one whose axle is on that body, with a pivot moved to the axle
	}
	return anyTrain || d.Shock <= longestTrain && d.Caliper <= longestTrain
}

// Options select what is listed.
type Options struct {
	Bodies   int  // at most, 2 to 8
	Slide    bool // one joint is a slide; else all are pivots
	AnyTrain bool // also with more than two bodies that serve the shock only, or the caliper only
}

// MostBodies is the largest number of bodies for which forks are listed.
const MostBodies = 8

// Forks lists all topologies, none twice, each in its canonical numbering: by number of bodies, then by duties (forks
// whose guide has more bodies come last), then by code.
func Forks(o Options) []Topology {
	type coded struct {
		Topology
		duties Duties
		code   string
	}
	var all []coded
	for n := 2; n <= min(o.Bodies, MostBodies); n += 2 {
		for _, c := range Chains(n) {
			of := c.graph.spans()
			for _, t := range c.forks(o.Slide, func(t *Topology) bool { return t.kept(of, o.AnyTrain) }) {
				t = t.Canonical()
				all = append(all, coded{t, t.Duties(), t.Code()})
			}
		}
	}
	slices.SortFunc(all, func(a, b coded) int {
		return cmp.Or(cmp.Compare(a.Bodies, b.Bodies), cmp.Compare(a.duties.Guide, b.duties.Guide),
			cmp.Compare(a.duties.Caliper, b.duties.Caliper), cmp.Compare(a.code, b.code))
	})
	forks := make([]Topology, len(all))
	for i := range all {
		forks[i] = all[i].Topology
	}
	return forks
}

// forks lists what becomes of a chain when its bodies get their roles, one of each kind that is kept: the one that no
// symmetry of the chain turns into one that comes earlier.
func (c *Chain) forks(slide bool, kept func(*Topology) bool) (all []Topology) {
	symmetries := c.graph.symmetries()
	for _, inv := range c.Inversions(slide) {
		t := Topology{Bodies: c.Bodies, Pivots: c.Pivots, Slide: inv.Slide, Ground: inv.Ground}
		fixed := slices.DeleteFunc(slices.Clone(symmetries), func(to []int) bool {
			return to[t.Ground] != t.Ground || c.slideUnder(to, t.Slide) != t.Slide
		})
		c.place(&t, func() {
			if kept(&t) && c.first(fixed, t.compared) {
				all = append(all, t)
			}
		})
	}
	return all
}

// place gives axle, caliper and shock to bodies in all ways.
func (c *Chain) place(t *Topology, found func()) {
	for t.Axle = range c.Bodies {
		if t.Axle == t.Ground {
			continue
		}
		for t.Caliper = range c.Bodies {
			if !c.calipers(t) {
				continue
			}
			for a := range c.Bodies {
				for b := a + 1; b < c.Bodies; b++ {
					t.Shock = [2]int{a, b}
					found()
				}
			}
		}
	}
}

// calipers tells whether the caliper may be on its body: that of the axle, or one that a pivot, not a slide, joins to
// it. On the ground the axle could not move.
func (c *Chain) calipers(t *Topology) bool {
	if t.Caliper == t.Axle {
		return true
	}
	if t.Caliper == t.Ground || !c.graph.next[t.Axle].has(t.Caliper) {
		return false
	}
	return t.Slide < 0 || !t.onAxle(t.Pivots[t.Slide])
}

// compared orders a topology under a renumbering of its chain, and the topology itself.
func (t *Topology) compared(to []int) int {
	a, b := to[t.Shock[0]], to[t.Shock[1]]
	return cmp.Or(cmp.Compare(to[t.Axle], t.Axle), cmp.Compare(to[t.Caliper], t.Caliper),
		cmp.Compare(min(a, b), t.Shock[0]), cmp.Compare(max(a, b), t.Shock[1]))
}

// Joined tells whether a pivot or slide joins two bodies.
func (t *Topology) Joined(a, b int) bool {
	return slices.ContainsFunc(t.Pivots, func(p [2]int) bool { return p == [2]int{a, b} || p == [2]int{b, a} })
}

// CaliperOnly lists the bodies that serve only the caliper: its carrier, and what holds that.
func (t *Topology) CaliperOnly() (all []int) {
	of := t.graph().spans()
	only := of[setOf(t.Ground, t.Axle, t.Caliper)] &^ of[setOf(t.Ground, t.Axle)]
	for b := range t.Bodies {
		if only.has(b) {
			all = append(all, b)
		}
	}
	return all
}

// Distances are how many pivots each body is away from the ground.
func (t *Topology) Distances() []int { return t.graph().distances(t.Ground) }
