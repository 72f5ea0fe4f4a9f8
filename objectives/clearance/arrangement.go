package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/solid"
)

// Arrangements tell apart how the parts of a fork can lie about each other in the side view where they cannot
// change from one way to another without a collision. It never changes, so all workers share it.
type Arrangements struct {
	assembly *Assembly
	between  []passing
}

// passing is a shaft and a straight part that it passes on one side or the other. Two parts side by side in one
// plane can only begin to cross where an end of one meets the other, and such ends are pivots with shafts.
type passing struct {
	pair        int // in pairs
	shaft, part int // in parts
}

const (
	passingMM     = 15   // distance from a part's axis within which a shaft touches it or nearly so
	passingRare   = 0.02 // share of layouts below which a side is not worth telling
	passingInside = 0.7  // share of the shafts near a part's line that must be beside it, not beyond its ends
)

// Arrangements finds the pairs by which some layouts, a sample of those possible, fall apart: where the shaft is
// found on both sides of the part, and mostly between the part's ends when it comes near to its line, so that
// it cannot go around them.
func (r *Assembly) Arrangements(layouts [][]kinematics.Vec[float64]) *Arrangements {
	a := &Arrangements{assembly: r}
	for _, p := range r.passings() {
		var left, near, inside float64
		for _, layout := range layouts {
			along, off := r.beside(p, layout)
			if off > 0 {
				left++
			}
			if off > -passingMM && off < passingMM {
				near++
				if along > 0 && along < 1 {
					inside++
				}
			}
		}
		if n := float64(len(layouts)); min(left, n-left) > passingRare*n && inside > passingInside*near && len(a.between) < 64 {
			a.between = append(a.between, p)
		}
	}
	return a
}

// passings lists the pairs of a shaft and another part that move against each other, share no point or body and
// overlap across the plane.
func (r *Assembly) passings() []passing {
	var all []passing
	for i := range r.pairs {
		p := &r.pairs[i]
		if p.kind != solidPair || p.frame >= 0 || p.rigid || p.lateral > 0 || p.sameParts {
			continue
		}
		switch a, b := r.parts[p.a].pin(), r.parts[p.b].pin(); {
		case r.parts[p.a].varies || r.parts[p.b].varies: // not a part of every fork
		case a && !b:
			all = append(all, passing{i, p.a, p.b})
		case b && !a:
			all = append(all, passing{i, p.b, p.a})
		}
	}
	return all
}

// Of is a number for the arrangement of a fork: a bit per pair that is set where the shaft lies to the left of the
// part, seen from its first end and with ahead to the left of along, at top-out.
func (a *Arrangements) Of(layout []kinematics.Vec[float64]) uint64 {
	var sides uint64
	for i, p := range a.between {
		if _, off := a.assembly.beside(p, layout); off > 0 {
			sides |= 1 << i
		}
	}
	return sides
}

// Names lists the pairs, named as in Gaps.
func (a *Arrangements) Names() []string {
	var all []string
	for _, p := range a.between {
		all = append(all, a.assembly.pairs[p.pair].name)
	}
	return all
}

// beside is where a shaft lies beside a part: along its axis, from 0 to 1 between its ends, and off it to the left,
// in mm.
func (r *Assembly) beside(p passing, layout []kinematics.Vec[float64]) (along, off float64) {
	at, axis := segmentOf(&r.parts[p.shaft], layout)[0], segmentOf(&r.parts[p.part], layout)
	way := solid.Spot[float64]{Along: axis[1].Along - axis[0].Along, Ahead: axis[1].Ahead - axis[0].Ahead}
	to := solid.Spot[float64]{Along: at.Along - axis[0].Along, Ahead: at.Ahead - axis[0].Ahead}
	length := math.Hypot(way.Along, way.Ahead)
	if length == 0 {
		return 0, math.Inf(1)
	}
	return (to.Along*way.Along + to.Ahead*way.Ahead) / (length * length), (way.Along*to.Ahead - way.Ahead*to.Along) / length
}
