package objectives

import (
	"math"

	"forkfront/kinematics"
)

type vec[T kinematics.Scalar] = kinematics.Vec[T]

func less[T kinematics.Scalar](a, b vec[T]) vec[T] {
	return vec[T]{Along: a.Along - b.Along, Ahead: a.Ahead - b.Ahead}
}

func times[T kinematics.Scalar](a vec[T], k T) vec[T] {
	return vec[T]{Along: a.Along * k, Ahead: a.Ahead * k}
}
func dot[T kinematics.Scalar](a, b vec[T]) T   { return a.Along*b.Along + a.Ahead*b.Ahead }
func cross[T kinematics.Scalar](a, b vec[T]) T { return a.Along*b.Ahead - a.Ahead*b.Along }

// FrontLoadN is the load on the front tyre at rest, in N, the unsprung mass included.
func (c *Conditions) FrontLoadN() float64 {
	return c.StaticLoadN() + c.Chassis.UnsprungFrontKG*Gravity
}

// hardBraking is the braking force in N at the front tyre, the front brake alone, limited by the
// tyre's grip and by pitch-over, and the load on the tyre then.
func (c *Conditions) hardBraking(grip float64) (force, load float64) {
	ch := &c.Chassis
	lever := ch.CGHeightMM / ch.WheelbaseMM
	force = ch.MassKG * Gravity * ch.CGToFrontAxleMM / ch.CGHeightMM
	if free := 1 - grip*lever; free > 0 { // F = grip (N + F h/L)
		force = math.Min(force, grip*c.FrontLoadN()/free)
	}
	return force, c.FrontLoadN() + force*lever
}

// applied is what a load case puts on a fork from outside at one state, in the fork frame.
type applied[T kinematics.Scalar] struct {
	force  vec[T] // on the axle's body, at the axle, N
	couple T      // brake torque on the caliper's body, N·mm
	side   float64
}

// inFork turns a force in N, forward and up, into the fork frame.
func inFork[T kinematics.Scalar](st *kinematics.State[T], forward, up float64) vec[T] {
	x, z := kinematics.Lift[T](forward), kinematics.Lift[T](up)
	return vec[T]{Along: x*st.CosHead - z*st.SinHead, Ahead: x*st.SinHead + z*st.CosHead}
}

// braked is a force at the contact point of a wheel that its brake locks to the caliper's body: the
// force at the axle, and the torque about it that the caliper bears. A force up alone has none.
func braked[T kinematics.Scalar](c *Conditions, st *kinematics.State[T], backward, up float64) applied[T] {
	return applied[T]{force: inFork(st, -backward, up), couple: kinematics.Lift[T](-backward * c.Chassis.FrontRadiusMM)}
}

// on gives what the case applies.
func on[T kinematics.Scalar](l *LoadCase, c *Conditions, st *kinematics.State[T]) applied[T] {
	backward, up := 0.0, l.VerticalStatic*c.FrontLoadN()
	if l.TyreFriction > 0 {
		force, load := c.hardBraking(l.TyreFriction)
		backward, up = force, up+load
	}
	a := braked(c, st, backward, up)
	a.force.Ahead -= kinematics.Lift[T](l.RearwardN)
	a.side = l.SideStatic * c.FrontLoadN()
	return a
}

// shockPush is the force of all shocks together in compression that balances what is applied, by
// virtual work per mm of travel.
func shockPush[T kinematics.Scalar](a *applied[T], st *kinematics.State[T]) T {
	return (a.force.Ahead*st.AheadRate - a.force.Along + a.couple*st.BrakeRate) / st.ShockRate
}
