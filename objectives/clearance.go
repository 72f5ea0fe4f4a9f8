package objectives

import "math"

// Gap is how far two parts stay apart at least, and where in travel and steering.
type Gap struct {
	Pair     string  `json:"pair"`
	GapMM    float64 `json:"gap_mm"`
	TravelMM float64 `json:"travel_mm"`
	SteerDeg float64 `json:"steer_deg"` // positive to the left
}

// clear looks through the room of the fork that was studied and sized.
func (sc *Scorer) clear(d *Design) {
	s := &sc.plain
	s.room = d.Room
	if s.Missing[NeedPackage] = s.crowded(d); s.Missing[NeedPackage] != "" {
		return
	}
	k := &sc.clearing
	k.solver = &sc.motion
	k.set(d.Room, s, d.Mechanism)
	k.search(d.Room.hubs, len(d.Room.pairs))
	s.hub = k.best
	k.search(0, d.Room.hubs)
	s.closest = k.best
	sc.swing()
}

// crowded tells why a fork can have no clearance, or is empty.
func (s *Subject[T]) crowded(d *Design) string {
	switch {
	case s.Missing[NeedTravel] != "":
		return s.Missing[NeedTravel]
	case d.Room == nil:
		return "no package is given"
	case d.Room.Missing != "":
		return d.Room.Missing
	case s.Conditions.Structure != nil:
		return s.Missing[NeedStructure]
	}
	return ""
}

// Gaps lists every pair of parts of the design scored last with its smallest gap. What it finds for
// the closest pair is what the score has.
func (sc *Scorer) Gaps() []Gap {
	s, k := &sc.plain, &sc.clearing
	if s.Missing[NeedPackage] != "" {
		return nil
	}
	var all []Gap
	for i := range k.room.pairs {
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

func clearance(s *Subject[float64]) float64    { return min(s.closest.gap, s.swung.gap) }
func hubClearance(s *Subject[float64]) float64 { return s.hub.gap }
