// Package lanes packs points into words, so that one operation compares all of their columns.
package lanes

import "math/bits"

// Lanes packs points into words: every column, rounded down to a few bits, in a lane of its own below a guard bit, so that one
// subtraction compares all columns at once (Lamport, Commun. ACM 18 (1975) 471; recalled). Rounding keeps the order of
// values or makes them equal. So what words say, that a point is nowhere above another one or within a reach of it, is
// necessary for the points and not sufficient.
type Lanes struct {
	width  int    // bits of a lane
	Guards uint64 // the highest bit of each, which no word has
	most   float64
	low    []float64 // of each column, which is 0 in its lane
	scale  []float64
}

// most is the number of columns that are packed; those behind are left out.
const most = 16

// Fit sets the range of each column that its lane resolves; values beyond are taken for its ends.
func (l *Lanes) Fit(low, high []float64) {
	used := min(len(low), most)
	l.width = min(64/used, 32) // so that some thousand lanes can be summed up
	l.Guards = 0
	for range used {
		l.Guards = l.Guards<<l.width | 1<<(l.width-1)
	}
	l.most = float64(uint64(1)<<(l.width-1) - 1)
	l.low, l.scale = append(l.low[:0], low[:used]...), l.scale[:0]
	for j := range used {
		scale := l.most / (high[j] - low[j])
		if !(scale > 0 && scale < 1e300) {
			scale = 1
		}
		l.scale = append(l.scale, scale)
	}
}

// Pack returns the word of a point, which has no NaN.
func (l *Lanes) Pack(p []float64) uint64 {
	word, most := uint64(0), l.most
	p, scale := p[:len(l.low)], l.scale[:len(l.low)]
	for j, low := range l.low {
		v := (p[j] - low) * scale[j]
		if !(v > 0) {
			v = 0
		}
		if v > most {
			v = most
		}
		word = word<<l.width | uint64(int64(v))
	}
	return word
}

// NoneAbove reports whether no lane of a is above that of b.
func (l *Lanes) NoneAbove(a, b uint64) bool { return (b|l.Guards-a)&l.Guards == l.Guards }

// Widen widens the bounds low and high of each lane to a word.
func (l *Lanes) Widen(low, high *uint64, word uint64) {
	above, below := l.notBelow(*low, word), l.notBelow(*high, word)
	*low = word&above | *low&^above
	*high = *high&below | word&^below
}

// notBelow sets every bit but the guard in the lanes where a is at least b.
func (l *Lanes) notBelow(a, b uint64) uint64 { return l.filled((a | l.Guards - b) & l.Guards) }

// filled sets all bits below some guards.
func (l *Lanes) filled(guards uint64) uint64 { return guards - guards>>(l.width-1) }

// Lane returns one lane of a word, 0 being that of the last column.
func (l *Lanes) Lane(word uint64, at int) uint64 {
	return word >> (at * l.width) & (1<<(l.width-1) - 1)
}

// Widest is the lane in which high is farthest above low, and by how much.
func (l *Lanes) Widest(low, high uint64) (at int, span uint64) {
	for k := range bits.OnesCount64(l.Guards) {
		if s := l.Lane(high, k) - l.Lane(low, k); s > span {
			at, span = k, s
		}
	}
	return at, span
}

// Reach returns the words between which all points lie that are within a distance of the point of a word in every column. All
// columns must have been fitted to ranges of one length.
func (l *Lanes) Reach(word uint64, distance float64) (low, high uint64) {
	steps := distance*l.scale[0] + 2 // both points are rounded down
	if !(steps < l.most) {
		return 0, l.filled(l.Guards)
	}
	all := uint64(int64(steps)) * (l.Guards >> (l.width - 1))
	down, up := word|l.Guards-all, word+all
	return down & l.filled(down&l.Guards), (up | l.filled(up&l.Guards)) &^ l.Guards
}
