package atlas

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Size of the picture of a graph, and of the bodies in it, in px.
const (
	graphWide, graphHigh = 220.0, 230.0
	bodyRadius           = 13.0
)

// graphPicture draws bodies as dots and pivots as lines, the ground at the top and the axle at the bottom as on a fork.
func (e *Entry) graphPicture() string {
	at := e.placed()
	var w strings.Builder
	fmt.Fprintf(&w, `<svg class="graph" viewBox="0 0 %g %g" role="img" aria-label="bodies and pivots of %s">`, graphWide, graphHigh, e.Code)
	for i, p := range e.Pivots {
		class := "pivot"
		if i == e.Slide {
			class = "slide"
		}
		a, b := at[p[0]], at[p[1]]
		c := bowed(a, b, e.bow(at, p))
		fmt.Fprintf(&w, `<path class="%s" d="M%.1f %.1fQ%.1f %.1f %.1f %.1f"/>`, class, a[0], a[1], c[0], c[1], b[0], b[1])
	}
	w.WriteString(e.spring(at))
	for b := range e.Bodies {
		w.WriteString(e.body(b, at[b]))
	}
	w.WriteString("</svg>")
	return w.String()
}

// body draws one body with what it carries.
func (e *Entry) body(b int, at [2]float64) string {
	switch {
	case b == e.Ground:
		return fmt.Sprintf(`<rect class="ground" x="%.1f" y="%.1f" width="52" height="24" rx="4"/><text class="on" x="%.1f" y="%.1f">crown</text>`, at[0]-26, at[1]-12, at[0], at[1]+4)
	case b == e.Axle:
		ring := ""
		if !e.Floating() {
			ring = pad(at)
		}
		return fmt.Sprintf(`<circle class="wheel" cx="%.1f" cy="%.1f" r="21"/>%s<circle class="leg" cx="%.1f" cy="%.1f" r="%g"/><text class="on" x="%.1f" y="%.1f">leg</text>`, at[0], at[1], ring, at[0], at[1], bodyRadius+1, at[0], at[1]+4)
	case b == e.Caliper:
		return fmt.Sprintf(`%s<circle class="carrier" cx="%.1f" cy="%.1f" r="%g"/><text class="on" x="%.1f" y="%.1f">b</text>`, pad(at), at[0], at[1], bodyRadius, at[0], at[1]+4)
	}
	return fmt.Sprintf(`<circle class="link" cx="%.1f" cy="%.1f" r="%g"/><text x="%.1f" y="%.1f">%d</text>`, at[0], at[1], bodyRadius-1, at[0], at[1]+4, b)
}

// pad marks the body that carries the caliper.
func pad(at [2]float64) string {
	return fmt.Sprintf(`<path class="caliper" d="M%.1f %.1fA21 21 0 0 0 %.1f %.1f"/>`, at[0]+21*math.Cos(0.75), at[1]+21*math.Sin(0.75), at[0]+21*math.Cos(-0.75), at[1]+21*math.Sin(-0.75))
}

// spring draws the shock as a zigzag between its bodies.
func (e *Entry) spring(at [][2]float64) string {
	a, b := at[e.Shock[0]], at[e.Shock[1]]
	bend := e.bow(at, [2]int{e.Shock[0], e.Shock[1]})
	switch { // beside the pivot, where one joins the two
	case e.Joined(e.Shock[0], e.Shock[1]) && bend != 0:
		bend = -bend
	case e.Joined(e.Shock[0], e.Shock[1]) && (a[0]+b[0])/2+1 < graphWide/2 == (b[1] > a[1]):
		bend = -30
	case e.Joined(e.Shock[0], e.Shock[1]):
		bend = 30
	}
	c := bowed(a, b, bend)
	const turns = 9
	point := func(s float64) [2]float64 {
		u := 1 - s
		return [2]float64{u*u*a[0] + 2*u*s*c[0] + s*s*b[0], u*u*a[1] + 2*u*s*c[1] + s*s*b[1]}
	}
	var d strings.Builder
	fmt.Fprintf(&d, "M%.1f %.1f", a[0], a[1])
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	nx, ny := -(b[1]-a[1])/length, (b[0]-a[0])/length
	for i := 0; i <= 2*turns; i++ {
		s := 0.3 + 0.4*float64(i)/(2*turns)
		p, side := point(s), 0.0
		if i > 0 && i < 2*turns {
			side = 5.5 * float64(1-2*(i%2))
		}
		if i == 0 {
			for _, lead := range []float64{0.1, 0.2} {
				q := point(lead)
				fmt.Fprintf(&d, "L%.1f %.1f", q[0], q[1])
			}
		}
		fmt.Fprintf(&d, "L%.1f %.1f", p[0]+side*nx, p[1]+side*ny)
	}
	for _, lead := range []float64{0.8, 0.9, 1} {
		q := point(lead)
		fmt.Fprintf(&d, "L%.1f %.1f", q[0], q[1])
	}
	return fmt.Sprintf(`<path class="shock" d="%s"/>`, d.String())
}

// bow is how far a line between two bodies bends, so that it does not run through a third.
func (e *Entry) bow(at [][2]float64, p [2]int) float64 {
	a, b := at[p[0]], at[p[1]]
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	for k, other := range at {
		if k == p[0] || k == p[1] {
			continue
		}
		along := ((other[0]-a[0])*(b[0]-a[0]) + (other[1]-a[1])*(b[1]-a[1])) / length
		across := ((other[0]-a[0])*(b[1]-a[1]) - (other[1]-a[1])*(b[0]-a[0])) / length
		if along > 0 && along < length && math.Abs(across) < 20 {
			if a[0]+b[0] < graphWide == (b[1] > a[1]) {
				return 76
			}
			return -76
		}
	}
	return 0
}

// bowed is the control point of a curve that bends by a distance to the right of its direction.
func bowed(a, b [2]float64, by float64) [2]float64 {
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	return [2]float64{(a[0]+b[0])/2 - by*(b[1]-a[1])/length, (a[1]+b[1])/2 + by*(b[0]-a[0])/length}
}

// placed puts the bodies in rows by their distance from the ground, the leg in the last, in the order with the fewest
// crossings of lines.
func (e *Entry) placed() [][2]float64 {
	rows := e.rows()
	best, least := e.spread(rows), math.Inf(1)
	var try func(row int)
	try = func(row int) {
		if row == len(rows) {
			if c := e.crossings(e.spread(rows)); c < least {
				best, least = e.spread(rows), c
			}
			return
		}
		permute(rows[row], 0, func() { try(row + 1) })
	}
	try(0)
	return best
}

func permute(list []int, k int, found func()) {
	if k >= len(list) {
		found()
		return
	}
	for i := k; i < len(list); i++ {
		list[k], list[i] = list[i], list[k]
		permute(list, k+1, found)
		list[k], list[i] = list[i], list[k]
	}
}

// rows groups the bodies; those of a chain of links at one distance share a row of at most three.
func (e *Entry) rows() (rows [][]int) {
	distance := e.Distances()
	for b := range e.Bodies {
		if b == e.Axle {
			continue
		}
		for len(rows) <= distance[b] {
			rows = append(rows, nil)
		}
		rows[distance[b]] = append(rows[distance[b]], b)
	}
	return append(slices.DeleteFunc(rows, func(r []int) bool { return len(r) == 0 }), []int{e.Axle})
}

func (e *Entry) spread(rows [][]int) [][2]float64 {
	at := make([][2]float64, e.Bodies)
	for y, row := range rows {
		for x, b := range row {
			shift := 0.0
			if len(row) > 1 { // bodies of one row that are joined must not lie in line with a third
				shift = 9 * float64(x%2)
			}
			at[b] = [2]float64{
				graphWide/2 + (float64(x)-float64(len(row)-1)/2)*math.Min(78, (graphWide-50)/float64(max(1, len(row)-1))),
				22 + (graphHigh-50)*float64(y)/float64(max(1, len(rows)-1)) + shift,
			}
		}
	}
	return at
}

// crossings counts how often lines cross, and their length by a little, so that of equal orders the shortest wins.
func (e *Entry) crossings(at [][2]float64) (sum float64) {
	lines := append(slices.Clone(e.Pivots), [2]int{e.Shock[0], e.Shock[1]})
	for i, p := range lines {
		sum += 1e-3 * math.Hypot(at[p[0]][0]-at[p[1]][0], at[p[0]][1]-at[p[1]][1])
		if e.bow(at, p) != 0 {
			sum++
		}
		for _, q := range lines[:i] {
			if p[0] != q[0] && p[0] != q[1] && p[1] != q[0] && p[1] != q[1] && cross(at[p[0]], at[p[1]], at[q[0]], at[q[1]]) {
				sum++
			}
		}
	}
	return sum
}

func cross(a, b, c, d [2]float64) bool {
	side := func(p, q, r [2]float64) float64 {
		return (q[0]-p[0])*(r[1]-p[1]) - (q[1]-p[1])*(r[0]-p[0])
	}
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}
