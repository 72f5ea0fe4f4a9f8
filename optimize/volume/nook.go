package volume

// nook is what is left of a square between a corner and a reference when all that lies beyond some points in both
// columns is taken away: a staircase, x ascending, above each stretch of which the rest is taken.
type nook struct {
	steps      []corner // from x on it reaches up to y; the last one is the right end
	right, top float64  // nothing is left beyond
	area       float64
}

type corner struct{ x, y float64 }

func (n *nook) reset(x, y, right, top float64) {
	n.steps = append(n.steps[:0], corner{x, top}, corner{right, y})
	n.right, n.top = right, top
	n.area = (right - x) * (top - y)
}

// fill makes the nook of (x, y) from those of a staircase that are beyond it, from at to end, between the neighbours that bound it.
func (n *nook) fill(x, y, reference float64, stairs []stair, at, end int) {
	n.right, n.top = reference, reference
	if at > 0 {
		n.top = stairs[at-1].y
	}
	if end < len(stairs) {
		n.right = stairs[end].x
	}
	n.steps, n.area = append(n.steps[:0], corner{x, n.top}), 0
	last := corner{x, n.top}
	for _, s := range stairs[at:end] {
		n.area += (s.x - last.x) * (last.y - y)
		if last = (corner{s.x, s.y}); s.y == y {
			n.right = s.x
			break
		}
		if s.x == x {
			n.steps[0].y = s.y
		} else {
			n.steps = append(n.steps, last)
		}
	}
	n.area += (n.right - last.x) * (last.y - y)
	n.steps = append(n.steps, corner{n.right, y})
	n.top = n.steps[0].y
}

// take takes away all that is beyond (x, y), which is not below the nook's corner.
func (n *nook) take(x, y float64) {
	last := len(n.steps) - 1
	if floor := n.steps[last].y; x <= n.steps[0].x && y <= floor {
		n.area, n.right, n.top = 0, x, y
		return
	}
	at := 0
	for at < last && n.steps[at+1].x <= x {
		at++
	}
	if at == last || n.steps[at].y <= y {
		return
	}
	from, height, to := x, n.steps[at].y, at+1
	for {
		n.area -= (n.steps[to].x - from) * (height - y)
		if to == last || n.steps[to].y <= y {
			break
		}
		from, height = n.steps[to].x, n.steps[to].y
		to++
	}
	switch floor := n.steps[last].y; {
	case y <= floor: // nothing is left to the right of x
		n.steps = append(n.steps[:at+1], corner{x, floor})
		n.right = x
	case n.steps[at].x == x:
		n.steps[at].y = y
		n.steps = append(n.steps[:at+1], n.steps[to:]...)
	case to > at+1:
		n.steps[at+1] = corner{x, y}
		n.steps = append(n.steps[:at+2], n.steps[to:]...)
	default:
		n.steps = append(n.steps, corner{})
		copy(n.steps[at+2:], n.steps[at+1:])
		n.steps[at+1] = corner{x, y}
	}
	n.top = n.steps[0].y
}
