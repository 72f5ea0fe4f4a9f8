// Package trial builds forks for tests: a cargo bike, a girder, random layouts of it and the room around it.
package trial

import (
	"fmt"
	"math"
	"math/rand/v2"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/solid"
	"forkfront/kinematics/stance"
	"forkfront/objectives/fork"
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
)

const deg = math.Pi / 180

// Setting is that of an invented cargo bike, travel 100 mm.
func Setting() ride.Setting {
	return ride.Setting{
		Chassis: stance.Chassis{
			HeadAngle: 70 * deg, WheelbaseMM: 1300, FrontRadiusMM: 258, RearRadiusMM: 258, AxleToCrownMM: 408, ForkOffsetMM: 38,
			CGHeightMM: 980, CGToFrontAxleMM: 850, MassKG: 170, FrontBrakeShare: 0.7,
		},
		TravelMM: 100, SagPct: 25, BrakingG: 0.5, Leverage: ride.Band{Low: 1.9, High: 2.4}, AntiDive: ride.Band{Low: 0, High: 50},
		CoilRates: []float64{44, 70, 114}, Samples: 33,
	}
}

// GirderMembers are those of Girder: three of the crown first.
var GirderMembers = []scheme.MemberSpec{
	{Body: "crown", From: "root", To: "lower_rear"},
	{Body: "crown", From: "root", To: "upper_rear"},
	{Body: "crown", From: "upper_rear", To: "shock_upper"},
	{Body: "lower_link", From: "lower_rear", To: "shock_lower"},
	{Body: "lower_link", From: "shock_lower", To: "lower_front"},
	{Body: "upper_link", From: "upper_rear", To: "upper_front"},
	{Body: "blade", From: "upper_front", To: "lower_front"},
	{Body: "blade", From: "lower_front", To: "axle"},
}

// Girder is a fork on two links, its shock at the lower one.
func Girder() *mechanism.Mechanism {
	return Compile(scheme.MechanismSpec{
		Name: "girder", Ground: "crown", Bodies: []string{"crown", "lower_link", "upper_link", "blade"},
		Pivots: []scheme.PivotSpec{
			{Name: "lower_rear", Bodies: []string{"crown", "lower_link"}},
			{Name: "lower_front", Bodies: []string{"lower_link", "blade"}},
			{Name: "upper_rear", Bodies: []string{"crown", "upper_link"}},
			{Name: "upper_front", Bodies: []string{"upper_link", "blade"}},
		},
		Axle: "blade", Shock: [2]string{"crown", "lower_link"}, Members: GirderMembers,
	})
}

// Compile is a mechanism that is known to be sound.
func Compile(spec scheme.MechanismSpec) *mechanism.Mechanism {
	m, faults := mechanism.Compile(spec)
	if len(faults) > 0 {
		panic(fmt.Sprint(faults))
	}
	return m
}

// Layout places the points of a girder at random; most of these forks move through their travel.
func Layout(m *mechanism.Mechanism, r *rand.Rand) []kinematics.Vec[float64] {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	layout := make([]kinematics.Vec[float64], len(m.Points))
	put := func(name string, along, ahead float64) {
		layout[m.Point(name)] = kinematics.Vec[float64]{Along: along, Ahead: ahead}
	}
	put("root", 25, 0)
	put("axle", 408, 38)
	put("lower_rear", in(5, 30), in(50, 90))
	put("lower_front", in(0, 110), in(170, 255))
	put("upper_rear", in(-170, -80), in(45, 90))
	put("upper_front", in(-130, -20), in(150, 255))
	put("shock_upper", in(-190, -150), in(80, 120))
	put("shock_lower", in(0, 15), in(110, 150))
	return layout
}

// RoomyLayout is one in which most parts keep clear of each other: the crown reaches forward, and the shock
// stands in front of the links' rear pivots.
func RoomyLayout(m *mechanism.Mechanism, r *rand.Rand) []kinematics.Vec[float64] {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	layout := Layout(m, r)
	for name, p := range map[string]kinematics.Vec[float64]{
		"root": {Along: 36, Ahead: 20}, "upper_rear": {Along: in(-130, -80), Ahead: in(45, 55)},
		"shock_upper": {Along: in(-230, -200), Ahead: in(115, 140)}, "shock_lower": {Along: in(-10, 10), Ahead: in(130, 160)},
	} {
		layout[m.Point(name)] = p
	}
	return layout
}

// Package is the room around the fork of the cargo bike.
func Package(m *mechanism.Mechanism) *fork.Package {
	type segment = solid.Segment[float64]
	p := &fork.Package{
		TyreWidthMM: 61, RimWidthMM: 30, HubWidthMM: 100, RotorRadiusMM: 80, LockRad: 60 * deg, CrownRadiusMM: 25, ShockRadiusMM: 26,
		Frame: []fork.Capsule{
			{Name: "head tube", Ends: segment{{Along: -140}, {Along: -6}}, RadiusMM: 28, Joined: true},
			{Name: "down tube", Ends: segment{{Along: -20}, {Along: -20 + 0.247*650, Ahead: -0.969 * 650}}, RadiusMM: 30, Joined: true},
		},
	}
	for range m.Points {
		p.Shafts = append(p.Shafts, 9)
	}
	for range m.Members() {
		p.Members = append(p.Members, 13)
	}
	return p
}

// Damped is Setting on a bike with a front wheel that weighs something, and what its damper is chosen for.
func Damped() (ride.Setting, *quarter.Setting) {
	s := Setting()
	s.Chassis.UnsprungFrontKG = 3.5
	return s, &quarter.Setting{
		TyreNPerMM: 140, DampingRatio: 0.4, ReboundPerCompression: 2, Road: quarter.Road{Class: 'C', SpeedMPerS: 6},
		Dampers: []quarter.Damper{{Name: "a", Compression: ride.Band{Low: 400, High: 900}, Rebound: ride.Band{Low: 900, High: 2000}}},
	}
}
