package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// Gap is the smallest gap of a pair of parts, negative where they overlap, and where it occurs in travel and
// steering.
type Gap struct {
	Pair     string  `json:"pair"`
	GapMM    float64 `json:"gap_mm"`
	TravelMM float64 `json:"travel_mm"`
	SteerDeg float64 `json:"steer_deg"` // positive to the left
}

// Search searches assemblies for the smallest gaps. It holds one worker's scratch memory; the zero Search is ready
// for use.
type Search struct {
	problem
	pairs      pairSearch
	ballSearch ballSearch

	closest     contact     // of all pairs
	hub         contact     // of the parts beside hub and rotor
	ballClosest ballContact // of the ball pairs, where smaller than closest
	ballState   stance.State[float64]

	crossed    bool    // the deepest crossing is known
	crossedFor float64 // for this gap, mm

	tangentState     stance.State[complex128] // at the contact whose gap is differentiated
	tangentPositions []plane.Vec[complex128]
}

// Find finds the smallest gaps of a fork whose motion has been swept through its whole travel. layout has one entry
// per point of the mechanism, in mm; members are the radii of its members, in mm, or nil for those of the package.
// r.Missing must be empty.
func (sc *Search) Find(r *Assembly, motion *kinematics.Motion, m *mechanism.Mechanism, layout []plane.Vec[float64], members []float64) {
	if members == nil {
		members = r.members
	}
	sc.problem = problem{r, m, motion, motion.States, layout, members, len(motion.States) - 1}
	sc.crossed = false
	k := &sc.pairs
	k.prepare(&sc.problem)
	k.search(r.firstHubPair, len(r.pairs))
	sc.hub = k.best
	k.search(0, r.firstHubPair)
	sc.closest = k.best
	sc.searchBalls()
}

// Clearance is the smallest gap of all pairs, in mm, negative where two parts overlap. Those beside hub and rotor are
// not among them.
func (sc *Search) Clearance() float64 { return min(sc.closest.gap, sc.ballClosest.gap) }

// HubClearance is the smallest gap between the parts beside the wheel and its hub and rotor, in mm, negative where
// two overlap.
func (sc *Search) HubClearance() float64 { return sc.hub.gap }

// Closest returns the pair with the smallest gap.
func (sc *Search) Closest() Gap {
	if sc.ballClosest.gap < sc.closest.gap {
		return sc.assembly.ballGapAt(&sc.ballClosest)
	}
	return sc.assembly.gap(&sc.closest)
}

// Gaps returns the smallest gap of each pair of parts, for the fork of the last call of Find.
func (sc *Search) Gaps() []Gap {
	k := &sc.pairs
	var all []Gap
	for i := range sc.assembly.pairs {
		k.search(i, i+1)
		if gap := k.assembly.gap(&k.best); !k.assembly.pairs[i].sameParts {
			all = append(all, gap)
		} else if before := &all[len(all)-1]; gap.GapMM < before.GapMM {
			*before = gap
		}
	}
	return append(all, sc.ballGaps()...)
}

func (r *Assembly) gap(c *contact) Gap {
	if c.pair < 0 {
		return Gap{GapMM: c.gap}
	}
	return Gap{Pair: r.pairs[c.pair].name, GapMM: c.gap, TravelMM: c.travelMM, SteerDeg: c.steer * 180 / math.Pi}
}

// Members returns the radii of the members with which the gaps were found, in mm.
func (sc *Search) Members() []float64 { return sc.members }

// searchBalls looks for the smallest gap of the ball pairs, if it is smaller than that of all other pairs.
func (sc *Search) searchBalls() {
	k := &sc.ballSearch
	sc.ballClosest = ballContact{pair: -1, gap: math.Inf(1)}
	if sc.assembly.balls == nil {
		return
	}
	k.prepare(&sc.problem, &sc.pairs)
	k.best.gap = sc.closest.gap
	k.searchAll()
	if k.best.pair >= 0 {
		k.refine()
		sc.ballClosest = k.best
		sc.ballState.Copy(&k.bestState)
	}
}

// ballGaps returns the smallest gap of each ball pair.
func (sc *Search) ballGaps() []Gap {
	k := &sc.ballSearch
	if sc.assembly.balls == nil {
		return nil
	}
	k.prepare(&sc.problem, &sc.pairs)
	var all []Gap
	for i := range k.assembly.balls.pairs {
		k.best = ballContact{pair: -1, gap: math.Inf(1)}
		k.searchPair(i)
		k.refine()
		gap := k.assembly.ballGapAt(&k.best)
		if k.assembly.balls.pairs[i].wheelKind != ballDisc {
			all = append(all, gap)
		} else if before := &all[len(all)-1]; gap.GapMM < before.GapMM { // the tyre of the same wheel
			*before = gap
		}
	}
	return all
}
