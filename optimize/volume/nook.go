package volume

// nook is what is left of a square between a corner and a reference when all that lies beyond some points in both
// columns is taken away: a staircase, x ascending, above each stretch of which the rest is taken.
type nook struct {
	steps      []corner // from x on it reaches up to y; the last one is the right end
	right, top float64  // nothing is left beyond
	area       float64
}

type corner struct{ x, y float64 }

func (n *nook) reset(x, y, reference float64) {
	n.steps = append(n.steps[:0], corner{x, reference}, corner{reference, y})
	n.right, n.top = reference, reference
	n.area = (reference - x) * (reference - y)
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
