package simulation

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// Solver finds the state of a fork at any travel, as kinematics.Motion does. It is false where the fork does not get there.
type Solver interface {
	Solve(dst *stance.State[float64], second *stance.Second[float64], travelMM float64) bool
}

// linkage is the motion of a fork by travel, in metres, from somewhat below top-out to somewhat beyond full travel. Between
// the nodes the axle and the shock follow polynomials of the fifth degree, which match values, first and second derivatives,
// so that forces remain consistent with the motion; the turn of the caliper's body is cubic in its rate. Beyond the first and
// the last node second derivatives stay what they are there.
type linkage struct {
	pieces  []piece // the first and the last lie beyond the nodes
	from    float64 // travel of the first node, m
	step    float64
	perStep float64
	state   stance.State[float64]
	second  stance.Second[float64]
}

// piece has the coefficients of polynomials in the share of a step.
type piece struct {
	ahead, shock [6]float64 // m
	brake        [4]float64 // rad/m
}

// node is what is known at one travel: values and two derivatives by travel.
type node struct {
	ahead, shock [3]float64
	brake        [2]float64
}

// How far beyond the travel the motion is tabulated, and how densely.
const (
	belowMM  = 10.0
	beyondMM = 15.0
	nodeMM   = 2.5
)

const perMM = 1e-3 // m

// tabulate takes the motion of a fork whose shock is as long as startMM at top-out.
func (l *linkage) tabulate(by Solver, c *stance.Chassis, travelMM, startMM float64) {
	steps := int(math.Ceil((travelMM + belowMM + beyondMM) / nodeMM))
	stepMM := (travelMM + belowMM + beyondMM) / float64(steps)
	first := int(math.Ceil(belowMM / stepMM)) // nodes from here on, up to full travel, exist for sure
	at := func(i int) float64 { return float64(i)*stepMM - belowMM }
	nodes := make([]node, steps+1)
	low, high := first, first
	for ; high <= steps && l.read(&nodes[high], by, c, at(high), startMM); high++ {
	}
	for ; low > 0 && l.read(&nodes[low-1], by, c, at(low-1), startMM); low-- {
	}
	nodes = nodes[low:high]
	l.from, l.step, l.perStep = at(low)*perMM, stepMM*perMM, 1/(stepMM*perMM)
	l.pieces = plane.Resize(l.pieces, len(nodes)+1)
	last := len(nodes) - 1
	for i := range last {
		l.pieces[i+1] = between(&nodes[i], &nodes[i+1], l.step)
	}
	l.pieces[0], l.pieces[last+1] = beside(&nodes[0], l.step), beside(&nodes[last], l.step)
}

// read takes a node from the solved motion.
func (l *linkage) read(dst *node, by Solver, c *stance.Chassis, travelMM, startMM float64) bool {
	s, d := &l.state, &l.second
	if !by.Solve(s, d, travelMM) {
		return false
	}
	turn := d.ContactVX - s.SinHead*d.Ahead - (s.AheadRate*s.CosHead+s.SinHead)*d.HeadTurn // what the brake's turn adds
	dst.ahead = [3]float64{s.Ahead * perMM, s.AheadRate, d.Ahead / perMM}
	dst.shock = [3]float64{(startMM - s.ShockMM) * perMM, s.ShockRate, d.ShockMM / perMM}
	dst.brake = [2]float64{s.BrakeRate / perMM, turn / c.FrontRadiusMM / (perMM * perMM)}
	return true
}

func between(a, b *node, h float64) (p piece) {
	p.ahead, p.shock = quintic(&a.ahead, &b.ahead, h), quintic(&a.shock, &b.shock, h)
	d, f, g := b.brake[0]-a.brake[0], h*a.brake[1], h*b.brake[1]
	p.brake = [4]float64{a.brake[0], f, 3*d - 2*f - g, f + g - 2*d}
	return p
}

// beside continues from a node with constant second derivatives.
func beside(n *node, h float64) (p piece) {
	copy(p.ahead[:], []float64{n.ahead[0], h * n.ahead[1], h * h * n.ahead[2] / 2})
	copy(p.shock[:], []float64{n.shock[0], h * n.shock[1], h * h * n.shock[2] / 2})
	copy(p.brake[:], []float64{n.brake[0], h * n.brake[1]})
	return p
}

// quintic is the polynomial of the fifth degree with values, first and second derivatives at both ends (Hermite).
func quintic(a, b *[3]float64, h float64) [6]float64 {
	d, f0, f1, g0, g1 := b[0]-a[0], h*a[1], h*b[1], h*h*a[2]/2, h*h*b[2]/2
	return [6]float64{a[0], f0, g0, 10*d - 6*f0 - 4*f1 - 3*g0 + g1, -15*d + 8*f0 + 7*f1 + 3*g0 - 2*g1, 6*d - 3*f0 - 3*f1 - g0 + g1}
}

// position is what a linkage has at one travel, derivatives by travel.
type position struct {
	ahead, aheadRate, aheadBend float64 // m, 1, 1/m
	shock, shockRate            float64 // compression: m, 1
	brakeRate                   float64 // rad/m, positive from along to ahead
}

// at interpolates, travel in m.
func (l *linkage) at(dst *position, travel float64) {
	x := (travel - l.from) * l.perStep
	last := len(l.pieces) - 2
	i := int(math.Floor(x))
	i = max(-1, min(i, last))
	u := x - float64(max(i, 0))
	p := &l.pieces[i+1]
	a, s, b, h := &p.ahead, &p.shock, &p.brake, l.perStep
	dst.ahead = a[0] + u*(a[1]+u*(a[2]+u*(a[3]+u*(a[4]+u*a[5]))))
	dst.aheadRate = (a[1] + u*(2*a[2]+u*(3*a[3]+u*(4*a[4]+u*5*a[5])))) * h
	dst.aheadBend = (2*a[2] + u*(6*a[3]+u*(12*a[4]+u*20*a[5]))) * h * h
	dst.shock = s[0] + u*(s[1]+u*(s[2]+u*(s[3]+u*(s[4]+u*s[5]))))
	dst.shockRate = (s[1] + u*(2*s[2]+u*(3*s[3]+u*(4*s[4]+u*5*s[5])))) * h
	dst.brakeRate = b[0] + u*(b[1]+u*(b[2]+u*b[3]))
}
