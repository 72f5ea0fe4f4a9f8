package objectives

import (
	"math"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
)

// The structure of the known arm, written out by hand: lever rules about its one pivot, cuts through
// its four members, bisection for diameters, Simpson's rule for the give at the axle. It shares no
// code with what it checks but the rules' default numbers.
type handArm struct {
	*knownArm
	young, yield, density float64
	diameter              [4]float64
}

// xy is a vector in the fork frame, from the pivot.
type xy [2]float64

func (a xy) to(b xy) xy          { return xy{b[0] - a[0], b[1] - a[1]} }
func (a xy) plus(b xy) xy        { return xy{a[0] + b[0], a[1] + b[1]} }
func (a xy) scaled(k float64) xy { return xy{a[0] * k, a[1] * k} }
func (a xy) cross(b xy) float64  { return a[0]*b[1] - a[1]*b[0] }
func (a xy) size() float64       { return math.Hypot(a[0], a[1]) }
func (a xy) along(u xy) float64  { return (a[0]*u[0] + a[1]*u[1]) / u.size() }
func ground(fx, fz float64) xy   { return xy{fx*cos70 - fz*sin70, fx*sin70 + fz*cos70} }
func turnedBy(p xy, angle float64) xy {
	sin, cos := math.Sincos(angle)
	return xy{cos*p[0] - sin*p[1], sin*p[0] + cos*p[1]}
}

var sin70, cos70 = math.Sincos(70 * deg)

// members from start to end: root to upper eye, upper eye to pivot, pivot to lower eye, lower eye to
// axle, at a travel.
func (a *handArm) members(t float64) [4][2]xy {
	angle, _ := a.turn(t)
	pivot := xy{}
	root := xy{25 - (408 - armHalf), 0 - (armOffset - armReach)}
	lower, axle := turnedBy(a.lower, angle), turnedBy(xy{armHalf, armReach}, angle)
	return [4][2]xy{{root, xy(a.upper)}, {xy(a.upper), pivot}, {pivot, lower}, {lower, axle}}
}

// cut is what a member carries: force along it, moments at both ends.
type cut struct{ n, start, end float64 }

// cuts under a force at the axle and a torque on the arm at a travel; also the pin force.
func (a *handArm) cuts(t float64, force xy, torque float64) (all [4]cut, pin float64) {
	m := a.members(t)
	axle, lower, upper := m[3][1], m[2][1], m[0][1]
	line := upper.to(lower)
	unit := line.scaled(1 / line.size())
	shock := unit.scaled(-(axle.cross(force) + torque) / lower.cross(unit)) // on the lower eye
	onLegs := force.plus(shock)                                             // through the pivot
	moment := func(at xy, loads ...[2]xy) (sum float64) {
		for _, l := range loads {
			sum += at.to(l[0]).cross(l[1])
		}
		return sum
	}
	arm := [][2]xy{{axle, force}}
	armTwo := [][2]xy{{axle, force}, {lower, shock}}
	leg := [][2]xy{{xy{}, onLegs}}
	legTwo := [][2]xy{{xy{}, onLegs}, {upper, shock.scaled(-1)}}
	for i, loads := range [][][2]xy{legTwo, leg, armTwo, arm} {
		var sum xy
		for _, l := range loads {
			sum = sum.plus(l[1])
		}
		couple := 0.0
		if i > 1 {
			couple = torque
		}
		all[i] = cut{sum.along(m[i][0].to(m[i][1])), moment(m[i][0], loads...) + couple, moment(m[i][1], loads...) + couple}
	}
	return all, onLegs.size()
}

// tube is area, second moment and section modulus by the wall rule of 8 % and 1.2 mm.
func tube(d float64) (area, inertia, modulus float64) {
	in := d - 2*math.Max(1.2, 0.08*d)
	area, inertia = math.Pi/4*(d*d-in*in), math.Pi/64*(math.Pow(d, 4)-math.Pow(in, 4))
	return area, inertia, inertia / (d / 2)
}

func bisect(low, high float64, tooSmall func(float64) bool) float64 {
	for range 200 {
		if mid := (low + high) / 2; tooSmall(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// braking with only the front brake at a grip of 1: F = N / (1 − h/L) if below m g c/h.
func handBraking() (force, load float64) {
	force = math.Min(170*9.80665*850/980, armLoad/(1-980./1300))
	return force, armLoad + force*980/1300
}

// size finds the four diameters by strength and buckling, and the largest pin force.
func (a *handArm) size() (pin float64) {
	type tubeLoad struct{ n, press, m float64 }
	var loads [4][]tubeLoad
	add := func(t float64, force xy, torque float64) {
		all, p := a.cuts(t, force, torque)
		pin = math.Max(pin, p)
		for i, c := range all {
			m := math.Max(math.Abs(c.start), math.Abs(c.end)) / 2
			if i > 1 {
				m += math.Abs(torque) / 2 // only on the caliper's side
			}
			loads[i] = append(loads[i], tubeLoad{math.Abs(c.n) / 2, math.Max(0, -c.n) / 2, m})
		}
	}
	add(100, ground(0, 3*armLoad), 0)
	force, load := handBraking()
	for _, t := range []float64{25, 100} {
		add(t, ground(-force, load), -force*258)
	}
	add(0, xy{0, -1200}, 0)
	for i, l := range a.sideLoads() {
		loads[i] = append(loads[i], tubeLoad{l[0], l[0], l[1]})
	}
	for i, m := range a.members(0) {
		length := m[0].to(m[1]).size()
		a.diameter[i] = bisect(16, 200, func(d float64) bool {
			area, inertia, modulus := tube(d)
			for _, l := range loads[i] {
				if l.n/area+l.m/modulus > a.yield/1.5 || math.Pi*math.Pi*a.young*inertia/(length*length) < 1.5*l.press {
					return true
				}
			}
			return false
		})
	}
	return pin
}

// sideLoads are push and moment of a tube under 0.3 static loads from the side at the contact point at
// sag: half of the couple's push a tube, a portal's moment S L / 4, and three quarters of the twist's
// square.
func (a *handArm) sideLoads() (out [4][2]float64) {
	s := 0.3 * armLoad
	m := a.members(25)
	contact := m[3][1].plus(ground(0, -258))
	for i, width := range []float64{45, 45, 72, 72} {
		from, to := m[i][0], m[i][1]
		u := from.to(to).scaled(1 / from.to(to).size())
		beyond := func(at xy) (bend, twist float64) {
			arm := at.to(contact)
			return s * arm.along(u), s * u.cross(arm)
		}
		b0, twist := beyond(from)
		b1, _ := beyond(to)
		out[i] = [2]float64{math.Abs(b0+b1) / 2 / (2 * width), math.Hypot(s*from.to(to).size()/4, math.Sqrt(0.75)*twist/2)}
	}
	return out
}

func newHandArm(t *testing.T) (*handArm, *Design) {
	a := &handArm{knownArm: newKnownArm(), young: 71020, yield: 482.6, density: 2795.7e-6} // 7075-T6
	d := a.design(t)
	spec := d.Mechanism.Spec
	spec.Members = []scheme.MemberSpec{
		{Body: "legs", From: "root", To: "shock_upper"},
		{Body: "legs", From: "shock_upper", To: "pivot"},
		{Body: "arm", From: "pivot", To: "shock_lower"},
		{Body: "arm", From: "shock_lower", To: "axle"},
	}
	m, faults := mechanism.Compile(spec)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	d.Mechanism, d.Across, d.Material = m, fork.DefaultAcross(m), fork.MaterialNamed("7075-T6")
	d.Layout[m.Point("root")] = kinematics.Vec[float64]{Along: 25}
	d.Shock.EyeToEyeMM, _ = a.length(0)
	return a, d
}
