package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
)

// Gap is how far two parts stay apart at least, and where in travel and steering.
type Gap struct {
	Pair     string  `json:"pair"`
	GapMM    float64 `json:"gap_mm"`
	TravelMM float64 `json:"travel_mm"`
	SteerDeg float64 `json:"steer_deg"` // positive to the left
}

// Search looks through rooms for the smallest gaps, and is one worker's memory for it.
type Search struct {
	scene
	pairs  clearing
	swings swinging

	closest contact // of all pairs
	hub     contact // of the parts beside hub and rotor
	swung   swung   // of all pairs that turn about balls, where closer than closest
	atSwung kinematics.State[float64]

	near       kinematics.State[complex128] // at the contact that is differentiated
	nearPlaces []plane.Vec[complex128]
}

// scene is a fork in its room.
type scene struct {
	room    *Room
	m       *kinematics.Mechanism
	motion  *kinematics.Motion
	states  []kinematics.State[float64] // by sample
	layout  []plane.Vec[float64]        // by point, mm
	members []float64                   // radius by member, mm
	last    int                         // sample
}

// Find looks for the smallest gaps of a fork whose motion was swept through its whole travel. members are
// the radii of its members, in mm; nil: those that the room has.
func (sc *Search) Find(r *Room, motion *kinematics.Motion, m *kinematics.Mechanism, layout []plane.Vec[float64], members []float64) {
	if members == nil {
		members = r.members
	}
	sc.scene = scene{r, m, motion, motion.States, layout, members, len(motion.States) - 1}
	k := &sc.pairs
	k.set(&sc.scene)
	k.search(r.hubs, len(r.pairs))
	sc.hub = k.best
	k.search(0, r.hubs)
	sc.closest = k.best
	sc.swing()
}

// Clearance is the smallest gap of all pairs, in mm; negative where two parts overlap.
func (sc *Search) Clearance() float64 { return min(sc.closest.gap, sc.swung.gap) }

// HubClearance is the smallest gap between the parts beside the wheel and its hub and rotor, in mm.
func (sc *Search) HubClearance() float64 { return sc.hub.gap }

// Closest is the pair with the smallest gap.
func (sc *Search) Closest() Gap {
	if sc.swung.gap < sc.closest.gap {
		return sc.room.swungAt(&sc.swung)
	}
	return sc.room.gap(&sc.closest)
}

// Gaps lists every pair of parts with its smallest gap, for the fork looked through last.
func (sc *Search) Gaps() []Gap {
	k := &sc.pairs
	var all []Gap
	for i := range sc.room.pairs {
		k.search(i, i+1)
		if gap := k.room.gap(&k.best); !k.room.pairs[i].again {
			all = append(all, gap)
		} else if before := &all[len(all)-1]; gap.GapMM < before.GapMM {
			*before = gap
		}
	}
	return append(all, sc.swungGaps()...)
}

func (r *Room) gap(c *contact) Gap {
	if c.pair < 0 {
		return Gap{GapMM: c.gap}
	}
	return Gap{Pair: r.pairs[c.pair].name, GapMM: c.gap, TravelMM: c.travelMM, SteerDeg: c.steer * 180 / math.Pi}
}

// Members are the radii of members that gaps were found with, in mm.
func (sc *Search) Members() []float64 { return sc.members }
