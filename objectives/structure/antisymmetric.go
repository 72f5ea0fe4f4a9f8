package structure

import (
	"math"

	"forkfront/objectives/structure/frame"
)

// wheelAxle is the axle that ties both sides at the wheel: steel, 15 mm outside and 9 mm inside
// (common practice, no source).
const wheelAxleMM, wheelAxleBoreMM = 15.0, 9.0

const steelMPa = 199950 // 4130, MIL-HDBK-5J

// halfFrame is one side of a sized fork at sag under loads that are antisymmetric: in the mid-plane
// nothing moves within it, and nothing turns about the direction across it. A pivot passes all but
// that turn, or forces alone where it lets its bodies tilt. The crown is rigid at root; the wheel's hub clamps its axle.
type halfFrame struct {
	frame.Frame
	z     *Sized[float64]
	nodes []int // by node of the load path; −1: none
	mid   int   // the axle in the mid-plane
	beams []func()
}

// middle is what is held in the mid-plane.
var middle = [6]int{frame.Held, frame.Held, frame.Own, frame.Own, frame.Own, frame.Held}

func newHalfFrame(z *Sized[float64]) *halfFrame {
	h := &halfFrame{z: z}
	p := z.path
	h.nodes = make([]int, len(p.members)+len(p.m.Bodies))
	for i := range h.nodes {
		h.nodes[i] = -1
	}
	for i, mb := range p.members {
		if first := p.from[i]; h.nodes[first] < 0 {
			h.nodes[first] = h.memberNode(mb.Body, mb.From, mb.Body == p.m.Ground())
		}
		h.nodes[i] = h.memberNode(mb.Body, mb.To, false)
	}
	h.mid = h.Node(h.place(p.m.Wheel(), p.m.Point("axle"), 0), middle)
	h.joints()
	if z.across.HalfWidthMM[p.m.Wheel()] > 0 {
		h.beams = append(h.beams, func() { h.shaft(h.nodes[p.axle], h.mid, wheelAxleMM, wheelAxleBoreMM) })
	}
	for i, mb := range p.members {
		h.beams = append(h.beams, func() { h.tube(p.from[i], i, mb.Body) })
	}
	if z.ride.Shock.Count > 1 {
		upper, lower := h.eye(0), h.eye(1)
		h.beams = append(h.beams, func() { h.Beam(upper, lower, frame.Rigidity{Axial: steelMPa * lockedMM2}) }) // push and pull alone
	}
	for _, b := range h.beams {
		b()
	}
	return h
}

// lockedMM2 is the section of steel that a locked shock is as stiff as: a rod of 10 mm.
const lockedMM2 = math.Pi / 4 * 100

// eyeShaftMM is the outside diameter of the shafts at the shock's eyes (common practice, no source).
const eyeShaftMM = 18.0

// eye is the node of the shock's upper or lower eye; one on the frame is held. Where the shock stands at
// another width than the tubes, a shaft lies between.
func (h *halfFrame) eye(i int) int {
	p := h.z.path
	body, point := p.m.ShockEnd(i)
	half := h.z.across.ShockHalf(h.z.ride.Shock)
	if p.eyes[i] < 0 {
		return h.Node(h.place(body, point, half), [6]int{frame.Held, frame.Held, frame.Held, frame.Held, frame.Held, frame.Held})
	}
	on := h.nodes[p.eyes[i]]
	if half == h.z.across.HalfWidthMM[body] {
		return on
	}
	n := h.Node(h.place(body, point, half), frame.Free)
	h.beams = append(h.beams, func() { h.shaft(on, n, eyeShaftMM, eyeShaftMM*h.z.rules.Pivots.ShaftBore) })
	return n
}

// place is a point of a body at sag, on its side.
func (h *halfFrame) place(body, point int, half float64) [3]float64 {
	at := h.z.stands[AtSag].places[point]
	return [3]float64{at.Along, at.Ahead, half}
}

func (h *halfFrame) memberNode(body, point int, root bool) int {
	half := h.z.across.HalfWidthMM[body]
	as := frame.Free
	switch {
	case root:
		as = [6]int{frame.Held, frame.Held, frame.Held, frame.Held, frame.Held, frame.Held}
	case half == 0:
		as = middle
	}
	return h.Node(h.place(body, point, half), as)
}

// joints lets bodies share what their pivots pass. Where they stand at different widths a shaft lies
// between, which turns with the first body; a through shaft goes on to the mid-plane.
func (h *halfFrame) joints() {
	z, p := h.z, h.z.path
	axle := p.m.Point("axle")
	for j := range p.joints {
		a, b, point := p.m.Joint(j)
		na, nb := p.joints[j][0], p.joints[j][1]
		if na < 0 || nb < 0 {
			h.onFrame(max(na, nb))
			continue
		}
		wa, wb := h.z.across.HalfWidthMM[a], h.z.across.HalfWidthMM[b]
		inner, on := h.nodes[na], h.nodes[na]
		diameter := z.Pivots[j].ShaftMM
		bore := diameter * h.z.rules.Pivots.ShaftBore
		if wa != wb {
			on = h.Node(h.place(b, point, wb), frame.Free)
			if wb < wa {
				inner = on
			}
			from, to := h.nodes[na], on
			h.beams = append(h.beams, func() { h.shaft(from, to, diameter, bore) })
		}
		h.share(h.nodes[nb], on)
		if z.Pivots[j].Shafts == 1 && point != axle && math.Min(wa, wb) > 0 {
			to := h.Node(h.place(a, point, 0), middle)
			h.beams = append(h.beams, func() { h.shaft(inner, to, diameter, bore) })
		}
	}
}

// passed is how many of a node's displacements a pivot passes on: ways alone where its bodies may tilt
// against each other, else turns as well, but for the one about the pivot.
func (h *halfFrame) passed() int {
	if h.z.rules.Pivots.Tilt == TiltFree {
		return 3
	}
	return 5
}

// share ties a node to another in what a pivot passes on.
func (h *halfFrame) share(node, with int) {
	for i := range h.passed() {
		old, now := h.Number[node][i], h.Number[with][i]
		if old >= 0 && now != old {
			h.rename(old, now)
		} else if old == frame.Held && now >= 0 {
			h.rename(now, frame.Held)
		}
	}
}

// onFrame ties a node to the frame in what a pivot passes on.
func (h *halfFrame) onFrame(n int) {
	if n < 0 {
		return
	}
	for i := range h.passed() {
		if old := h.Number[h.nodes[n]][i]; old >= 0 {
			h.rename(old, frame.Held)
		}
	}
}

// rename gives an unknown the number of another, or holds it; the last unknown fills the gap.
func (h *halfFrame) rename(old, now int) {
	h.renumber(old, now)
	h.Size--
	h.renumber(h.Size, old)
}

func (h *halfFrame) renumber(old, now int) {
	for n := range h.Number {
		for i, k := range h.Number[n] {
			if k == old {
				h.Number[n][i] = now
			}
		}
	}
}

func (h *halfFrame) shaft(a, b int, outside, bore float64) {
	inertia := math.Pi / 64 * (math.Pow(outside, 4) - math.Pow(bore, 4))
	h.Beam(a, b, frame.RigidityOf(steelMPa, ring(bore, outside), inertia))
}

// tube adds a member's tube on this side; half of one that is alone.
func (h *halfFrame) tube(from, to, body int) {
	t := &h.z.Members[to]
	size := TubeSection(&h.z.rules.Tubes, t.DiameterMM)
	share := h.z.across.Tubes(body) / 2
	h.Beam(h.nodes[from], h.nodes[to], frame.RigidityOf(h.z.material.YoungMPa*share, size.Area, size.Inertia))
}

// lateral is the stiffness for a side force at the contact point, in N/mm, and that for a couple about
// the steering axis at the axle, in N·m per degree, both of the whole fork. It is false where the fork
// is loose.
func (h *halfFrame) lateral() (side, torsion float64, ok bool) {
	sag, radius := &h.z.ride.Sag, h.z.ride.Setting.Chassis.FrontRadiusMM
	rx, ry := radius*sag.SinHead, -radius*sag.CosHead // from the axle to the contact point
	n := h.Number[h.mid]
	loads := make([]float64, h.Size)
	rows := make([][]float64, len(h.Rows))
	for i := range rows {
		rows[i] = append([]float64(nil), h.Rows[i]...)
	}
	loads[n[2]], loads[n[3]], loads[n[4]] = 0.5, 0.5*ry, -0.5*rx // half of 1 N
	x, ok := h.Solve(loads)
	if !ok {
		return 0, 0, false
	}
	side = 1 / (x[n[2]] + x[n[3]]*ry - x[n[4]]*rx)
	h.Rows = rows
	clear(loads)
	loads[n[3]] = 0.5
	x, ok = h.Solve(loads)
	if !ok {
		return 0, 0, false
	}
	return side, 1 / x[n[3]] / 1000 * math.Pi / 180, true
}

// OutOfPlane is the stiffness for a side force at the contact point, in N/mm, and that for a couple about the
// steering axis at the axle, in N·m per degree, at sag with the shock locked. It is false where the fork is
// loose out of the plane.
func OutOfPlane(z *Sized[float64]) (side, torsion float64, ok bool) { return newHalfFrame(z).lateral() }
