package simulation

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/objectives/ride"
)

// What the tyres, the stops and friction are taken to be.
const (
	tyreDampingShare = 0.1 // of √(k m), m the unsprung mass
	stopNPerM        = 250e3
	stopShare        = 0.4  // damping of a stop, of √(k m_u)
	grip             = 1.0  // largest braking force over the wheel load
	creepMPerS       = 0.01 // travel speed at which friction is tanh 1 of its full value
)

type vec = plane.Vec[float64]

// bike is one fork on its bike, in m, kg, N and s. Places are in the fork frame.
type bike struct {
	linkage
	ride   *ride.Ride[float64]
	travel float64

	total, body, front, rear float64    // masses: of all, the sprung one, the unsprung ones
	inertia                  float64    // of the sprung mass about its centre
	centre                   vec        // of the sprung mass
	rearAxle, rearUp, hands  vec        // rearUp: the direction in which a sprung rear axle moves
	axleAlong                float64    // of the front axle at top-out
	head                     float64    // head angle at top-out, rad
	radius, tyre, tyreLoss   [2]float64 // by wheel, front and rear; rates, damping
	brakeShare               [2]float64
	damper                   damper  // of all shocks together
	friction, perBrakeN      float64 // N along the travel; what each N of the front brake adds
	stopLoss                 float64 // damping of the stops, N·s/m
	sprungRear               bool
	rearRate, rearLoss       float64
}

// set takes a fork.
func (b *bike) set(s *Setting, f *Fork) {
	r := f.Ride
	c := &r.Setting.Chassis
	start := r.States[0].ShockMM
	b.ride, b.travel = r, r.Setting.TravelMM*perMM
	b.tabulate(f.Motion, c, r.Setting.TravelMM, start)
	b.total, b.front, b.rear = c.MassKG, c.UnsprungFrontKG, s.UnsprungRearKG
	b.body = b.total - b.front - b.rear
	wheelbase := c.WheelbaseMM * perMM
	b.inertia = s.PitchInertia * b.body * wheelbase * wheelbase
	b.head = c.HeadAngle
	b.places(s, f)
	b.radius = [2]float64{c.FrontRadiusMM * perMM, c.RearRadiusMM * perMM}
	b.tyre = [2]float64{s.FrontTyreNPerMM / perMM, s.RearTyreNPerMM / perMM}
	for i, mass := range [2]float64{b.front, b.rear} {
		b.tyreLoss[i] = tyreDampingShare * math.Sqrt(b.tyre[i]*mass)
	}
	b.brakeShare = [2]float64{c.FrontBrakeShare, 1 - c.FrontBrakeShare}
	shocks := float64(r.Shock.Count)
	b.damper = newDamper(&f.Adjustment, shocks)
	b.friction, b.perBrakeN = f.FrictionN, 0
	if braking := c.FrontBrakeShare * r.Setting.BrakingN(); braking > 0 {
		b.perBrakeN = (f.BrakedN - f.FrictionN) / braking
	}
	b.stopLoss = stopShare * math.Sqrt(stopNPerM*b.front)
	b.sprungRear, b.rearRate, b.rearLoss = s.Rear != nil, 0, 0
	if s.Rear != nil {
		b.rearRate, b.rearLoss = s.Rear.RateNPerMM/perMM, s.Rear.DampingNSPerM
	}
}

// places finds where the masses are: the sprung one such that at top-out, its tyres round, the whole bike has the centre of
// gravity that it is given with.
func (b *bike) places(s *Setting, f *Fork) {
	c := &f.Ride.Setting.Chassis
	sin, cos := math.Sincos(b.head)
	frame := func(x, z float64) vec { return vec{Along: x*cos - z*sin, Ahead: x*sin + z*cos} } // from the ground frame
	axle := vec{Along: c.AxleToCrownMM, Ahead: f.Ride.States[0].Ahead}.Times(perMM)
	gravity := axle.Plus(frame(-c.CGToFrontAxleMM, c.CGHeightMM-c.FrontRadiusMM).Times(perMM))
	b.axleAlong = axle.Along
	b.rearAxle, b.rearUp, b.hands = c.RearAxle().Times(perMM), frame(0, 1), s.HandsMM.Times(perMM)
	b.centre = gravity.Times(b.total).Minus(axle.Times(b.front)).Minus(b.rearAxle.Times(b.rear)).Times(1 / b.body)
}
