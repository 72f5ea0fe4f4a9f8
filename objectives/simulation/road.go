package simulation

import (
	"math"
	"sort"
)

// Road is a polyline in the vertical plane, its points in the order of x, level beyond its ends. It never changes once
// built, so all workers share it.
type Road struct {
	x, z []float64 // m
	top  []float64 // by segment: the highest point of the road within reach of it, m
}

const (
	reachM = 0.15 // along the road, within which its highest point is known: wheels mostly meet it within that
	farM   = 1e4  // where the level ends of a road end
	meetM  = 1e-9 // axles nearer to the road than this have no direction from it
)

// NewRoad takes the points of a road [x, z] in m, x increasing. Without points it is level at 0.
func NewRoad(points [][2]float64) *Road {
	r := &Road{}
	first, last := [2]float64{}, [2]float64{}
	if n := len(points); n > 0 {
		first, last = points[0], points[n-1]
	}
	r.add(first[0]-farM, first[1])
	for _, p := range points {
		r.add(p[0], p[1])
	}
	r.add(last[0]+farM, last[1])
	r.top = make([]float64, len(r.x)-1)
	for i := range r.top {
		from := sort.SearchFloat64s(r.x, r.x[i]-reachM) - 1
		highest := math.Inf(-1)
		for k := max(from, 0); k < len(r.x); k++ {
			highest = max(highest, r.z[k])
			if r.x[k] > r.x[i+1]+reachM {
				break
			}
		}
		r.top[i] = highest
	}
	return r
}

func (r *Road) add(x, z float64) { r.x, r.z = append(r.x, x), append(r.z, z) }

// Trapezoid is a level road with one bump, whose foot is at x: ramps of one length up to a level top and down again. All in m.
func Trapezoid(foot, height, ramp, top float64) *Road {
	return NewRoad([][2]float64{{foot, 0}, {foot + ramp, height}, {foot + ramp + top, height}, {foot + 2*ramp + top, 0}})
}

// contact is where a wheel stands on its road: how deep its tyre is compressed, negative in the air, and the unit vector
// from the nearest point of the road to the axle.
type contact struct{ depth, nx, nz float64 }

// wheelOn is a wheel on a road, and one worker's memory: the segment below its axle.
type wheelOn struct {
	road    *Road
	radius  float64 // m
	segment int
}

// meet finds the contact of the wheel with its axle at a place. The search goes outward from the segment below until what
// remains cannot be nearer.
func (w *wheelOn) meet(x, z float64) contact {
	r := w.road
	i, last := w.segment, len(r.x)-2
	for i < last && x >= r.x[i+1] {
		i++
	}
	for i > 0 && x < r.x[i] {
		i--
	}
	w.segment = i
	least := nearest{math.Inf(1), 0, 0}
	least.try(r, i, x, z)
	// Nothing within reach is nearer than its distance along the road together with the height over the highest point.
	above := max(z-r.top[i], 0)
	above *= above
	for k := i + 1; k <= last; k++ {
		dx := r.x[k] - x
		if dx*dx >= least.square || dx < reachM && dx*dx+above >= least.square {
			break
		}
		least.tryBeyond(r, k, x, z, dx)
	}
	for k := i - 1; k >= 0; k-- {
		dx := x - r.x[k+1]
		if dx*dx >= least.square || dx < reachM && dx*dx+above >= least.square {
			break
		}
		least.tryBeyond(r, k, x, z, dx)
	}
	d := math.Sqrt(least.square)
	if d < meetM {
		return contact{w.radius, 0, 1}
	}
	return contact{w.radius - d, least.x / d, least.z / d}
}

// nearest is the shortest vector so far from a road to an axle.
type nearest struct{ square, x, z float64 }

// tryBeyond is try for a segment that is at least dx away along the road.
func (n *nearest) tryBeyond(r *Road, i int, x, z, dx float64) {
	if above := z - max(r.z[i], r.z[i+1]); above > 0 && dx*dx+above*above >= n.square {
		return
	}
	n.try(r, i, x, z)
}

func (n *nearest) try(r *Road, i int, x, z float64) {
	px, pz := x-r.x[i], z-r.z[i]
	sx, sz := r.x[i+1]-r.x[i], r.z[i+1]-r.z[i]
	along := px*sx + pz*sz
	if along > 0 {
		share := min(along/(sx*sx+sz*sz), 1)
		px -= share * sx
		pz -= share * sz
	}
	if square := px*px + pz*pz; square < n.square {
		*n = nearest{square, px, pz}
	}
}
