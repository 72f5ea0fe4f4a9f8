package fatigue

import "math"

// Cycle is a closed loop of a stress history, or half of one: its largest and smallest stress in MPa and how often it
// counts, 1 or ½.
type Cycle struct{ LargestMPa, SmallestMPa, Count float64 }

// Rainflow counts the cycles of stress histories by the rules of ASTM E1049. It keeps its memory from one history to the next.
type Rainflow struct {
	open   []float64 // turning points whose ranges are not counted yet
	cycles []Cycle
}

// Count returns the cycles of a history in MPa, until the next call. Ranges that contain its start, and those that are
// left open at its end, count as half cycles.
func (r *Rainflow) Count(history []float64) []Cycle {
	r.open, r.cycles = r.open[:0], r.cycles[:0]
	if len(history) == 0 {
		return nil
	}
	at, direction := history[0], 0.0
	r.turn(at)
	for _, now := range history[1:] {
		if now == at {
			continue
		}
		if (now-at)*direction < 0 {
			r.turn(at)
		}
		at, direction = now, now-at
	}
	r.turn(at)
	for i := 1; i < len(r.open); i++ {
		r.count(r.open[i-1], r.open[i], 0.5)
	}
	return r.cycles
}

// turn takes the next turning point. The range before the last one is counted as soon as the last is not smaller.
func (r *Rainflow) turn(at float64) {
	r.open = append(r.open, at)
	for n := len(r.open); n >= 3; n = len(r.open) {
		a, b, c := r.open[n-3], r.open[n-2], r.open[n-1]
		switch {
		case math.Abs(c-b) < math.Abs(b-a):
			return
		case n == 3: // it contains the start
			r.count(a, b, 0.5)
			r.open = append(r.open[:0], b, c)
		default:
			r.count(a, b, 1)
			r.open = append(r.open[:n-3], c)
		}
	}
}

func (r *Rainflow) count(a, b, times float64) {
	if a != b {
		r.cycles = append(r.cycles, Cycle{math.Max(a, b), math.Min(a, b), times})
	}
}

// block is a cycle with a number of repeats as a block. A compressive mean is taken for none: no credit is given for it.
func (c *Cycle) block(repeats float64) Block {
	if c.LargestMPa < -c.SmallestMPa {
		return Block{(c.LargestMPa - c.SmallestMPa) / 2, -1, repeats * c.Count}
	}
	return Block{c.LargestMPa, c.SmallestMPa / c.LargestMPa, repeats * c.Count}
}

// HistoryDamage is that of cycles of which each comes a number of times: see Damage.
func HistoryDamage(c Curve, deviations, repeats float64, cycles []Cycle) (sum float64) {
	for i := range cycles {
		sum += Damage(c, deviations, cycles[i].block(repeats))
	}
	return sum
}
