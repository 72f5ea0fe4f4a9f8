package race

import "slices"

// Runner is what one case came to at the end of a race.
type Runner struct {
	Linkage string // what cases that differ only in their seed have in common
	Seed    uint64
	Cover   Cover // nil: nothing feasible
}

// Gain is what a linkage covers, and what it adds to all others.
type Gain struct {
	Linkage string
	Own     int // sample points that its cases cover together
	Adds    int // of these, those that no case of another linkage covers
	Others  int // sample points that the cases of all others cover together

	// With several seeds: by how much one seed of the linkage enlarges what one seed of all others covers, and, as a control, by how
	// much at most a further seed of one of those does, both as a share of what these cover and on average over the seeds.
	Seeded          bool
	BySeed, Control float64
}

// Gains are those of each linkage, in the order in which they first appear.
func Gains(all []Runner) []Gain {
	var gains []Gain
	seeds := seedsOf(all)
	for _, r := range all {
		if slices.ContainsFunc(gains, func(g Gain) bool { return g.Linkage == r.Linkage }) {
			continue
		}
		own := joint(all, func(o *Runner) bool { return o.Linkage == r.Linkage })
		others := joint(all, func(o *Runner) bool { return o.Linkage != r.Linkage })
		g := Gain{Linkage: r.Linkage, Own: own.Count(), Others: others.Count()}
		g.Adds = g.Own
		if own != nil && others != nil {
			g.Adds = own.Without(others)
		}
		g.control(all, seeds)
		gains = append(gains, g)
	}
	return gains
}

// control compares what a seed of a linkage adds with what a further seed of another one would. Seeds at which the others cover
// nothing say nothing.
func (g *Gain) control(all []Runner, seeds []uint64) {
	if len(seeds) < 2 {
		return
	}
	var adds, most float64
	told := 0
	for i, seed := range seeds {
		next := seeds[(i+1)%len(seeds)]
		base := joint(all, func(o *Runner) bool { return o.Linkage != g.Linkage && o.Seed == seed })
		if base.Count() == 0 {
			continue
		}
		told++
		best := 0
		for _, o := range all {
			switch {
			case o.Cover == nil:
			case o.Linkage == g.Linkage && o.Seed == seed:
				adds += float64(o.Cover.Without(base)) / float64(base.Count())
			case o.Linkage != g.Linkage && o.Seed == next:
				best = max(best, o.Cover.Without(base))
			}
		}
		most += float64(best) / float64(base.Count())
	}
	if told > 0 {
		g.Seeded, g.BySeed, g.Control = true, adds/float64(told), most/float64(told)
	}
}

// seedsOf are the seeds of some cases, in ascending order.
func seedsOf(all []Runner) (seeds []uint64) {
	for _, r := range all {
		seeds = append(seeds, r.Seed)
	}
	slices.Sort(seeds)
	return slices.Compact(seeds)
}

// joint is what some of the cases cover together; nil: nothing.
func joint(all []Runner, which func(*Runner) bool) (c Cover) {
	for i := range all {
		switch {
		case !which(&all[i]) || all[i].Cover == nil:
		case c == nil:
			c = slices.Clone(all[i].Cover)
		default:
			c.Or(all[i].Cover)
		}
	}
	return c
}
