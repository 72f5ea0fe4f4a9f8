package sections

import (
	"reflect"

	"forkfront/jobs/files/document"
	"forkfront/kinematics"
	"forkfront/objectives"
	"forkfront/objectives/quarter"
	"forkfront/objectives/simulation"
)

// Dynamics is what a fork's damper is chosen for.
type Dynamics struct {
	Damping *RideSection `yaml:"ride" jsonschema_description:"tyre, damping and road; without this section, measures that depend on them have no value. It requires unsprung_front_kg of the bike"`
}

// RideSection is the section on tyre, damping and road, and on the events in which forks are simulated. What it leaves out is
// usual for its kind of bike; the tyres of bicycles are an estimate.
type RideSection struct {
	Kind                  string  `yaml:"kind" jsonschema:"enum=trail,enum=cargo,enum=motorcycle" default:"trail" jsonschema_description:"kind of bike, from which the defaults of this section follow: trail bike, cargo bike or light motorcycle"`
	FrontTyreNPerMM       float64 `yaml:"front_tyre_n_per_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"vertical rate of the front tyre; by default 100 (trail), 140 (cargo), 115 (motorcycle)"`
	DampingRatio          float64 `yaml:"damping_ratio" jsonschema:"exclusiveMinimum=0,exclusiveMaximum=2" jsonschema_description:"damping ratio wanted at sag; by default 0.4 (trail), 0.4 (cargo), 0.35 (motorcycle)"`
	ReboundPerCompression float64 `yaml:"rebound_per_compression" jsonschema:"exclusiveMinimum=0" jsonschema_description:"damping coefficient of rebound over that of compression; by default 2 (trail), 2 (cargo), 2 (motorcycle)"`
	RoadClass             string  `yaml:"road_class" jsonschema:"enum=A,enum=B,enum=C,enum=D,enum=E,enum=F,enum=G,enum=H" jsonschema_description:"roughness of the road by ISO 8608, from A (smooth) to H; by default D (trail), C (cargo), C (motorcycle)"`
	RoadSpeedMPerS        float64 `yaml:"road_speed_m_per_s" jsonschema:"exclusiveMinimum=0" jsonschema_description:"speed on that road; by default 7 (trail), 6 (cargo), 14 (motorcycle)"`

	RearTyreNPerMM  float64      `yaml:"rear_tyre_n_per_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"in events, vertical rate of the rear tyre; by default 110 (trail), 160 (cargo), 170 (motorcycle)"`
	UnsprungRearKG  float64      `yaml:"unsprung_rear_kg" jsonschema:"exclusiveMinimum=0" jsonschema_description:"in events, mass that moves with the rear axle; by default 4 (trail), 5 (cargo), 20 (motorcycle)"`
	PitchInertia    float64      `yaml:"pitch_inertia" jsonschema:"exclusiveMinimum=0" jsonschema_description:"in events, moment of inertia in pitch of the sprung mass about its centre, over its mass times the square of the wheelbase; by default 0.12 (trail), 0.12 (cargo), 0.09 (motorcycle)"`
	HandsAlongMM    float64      `yaml:"hands_along_mm" jsonschema_description:"in events, the hands down the steering axis from the crown race seat, negative above it; by default -250 (trail), -260 (cargo), -300 (motorcycle)"`
	HandsAheadMM    float64      `yaml:"hands_ahead_mm" jsonschema_description:"in events, the hands ahead of the steering axis; by default -40 (trail), -150 (cargo), -120 (motorcycle)"`
	Rear            *RearSection `yaml:"rear" json:",omitempty" jsonschema_description:"in events, a rear suspension; without it the rear axle is fixed to the frame"`
	StopMPerS       float64      `yaml:"stop_m_per_s" jsonschema:"exclusiveMinimum=0" jsonschema_description:"speed from which the hard stop begins; by default 10 (trail), 10 (cargo), 16 (motorcycle)"`
	DropMM          float64      `yaml:"drop_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"height from which the front wheel lands; by default 450 (trail), 150 (cargo), 300 (motorcycle)"`
	BumpMM          float64      `yaml:"bump_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"height of the bump; by default 45 (trail), 30 (cargo), 40 (motorcycle)"`
	BumpRampMM      float64      `yaml:"bump_ramp_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"length of its ramps; by default 30 (trail), 20 (cargo), 40 (motorcycle)"`
	BumpTopMM       float64      `yaml:"bump_top_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"length of its top; by default 120 (trail), 120 (cargo), 200 (motorcycle)"`
	BumpMPerS       float64      `yaml:"bump_m_per_s" jsonschema:"exclusiveMinimum=1" jsonschema_description:"speed at the bump with the brake off; by default 6 (trail), 5 (cargo), 10 (motorcycle)"`
	BumpBrakedMPerS float64      `yaml:"bump_braked_m_per_s" jsonschema:"exclusiveMinimum=1" jsonschema_description:"speed from which the bike brakes 4 m before the bump; by default 8 (trail), 8 (cargo), 14 (motorcycle)"`
}

// RearSection is a rear suspension as events have it.
type RearSection struct {
	RateNPerMM    float64 `yaml:"rate_n_per_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"wheel rate"`
	DampingNSPerM float64 `yaml:"damping_ns_per_m" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"damping coefficient at the wheel"`
}

// usualRide is what a section has by default, and what a front wheel with its tyre, rotor and caliper weighs.
var usualRide = []struct {
	RideSection
	unsprungFrontKG float64
}{
	{RideSection{
		Kind: "trail", FrontTyreNPerMM: 100, DampingRatio: 0.4, ReboundPerCompression: 2, RoadClass: "D", RoadSpeedMPerS: 7,
		RearTyreNPerMM: 110, UnsprungRearKG: 4, PitchInertia: 0.12, HandsAlongMM: -250, HandsAheadMM: -40, StopMPerS: 10, DropMM: 450,
		BumpMM: 45, BumpRampMM: 30, BumpTopMM: 120, BumpMPerS: 6, BumpBrakedMPerS: 8,
	}, 3.5},
	{RideSection{
		Kind: "cargo", FrontTyreNPerMM: 140, DampingRatio: 0.4, ReboundPerCompression: 2, RoadClass: "C", RoadSpeedMPerS: 6,
		RearTyreNPerMM: 160, UnsprungRearKG: 5, PitchInertia: 0.12, HandsAlongMM: -260, HandsAheadMM: -150, StopMPerS: 10, DropMM: 150,
		BumpMM: 30, BumpRampMM: 20, BumpTopMM: 120, BumpMPerS: 5, BumpBrakedMPerS: 8,
	}, 3.5},
	{RideSection{
		Kind: "motorcycle", FrontTyreNPerMM: 115, DampingRatio: 0.35, ReboundPerCompression: 2, RoadClass: "C", RoadSpeedMPerS: 14,
		RearTyreNPerMM: 170, UnsprungRearKG: 20, PitchInertia: 0.09, HandsAlongMM: -300, HandsAheadMM: -120, StopMPerS: 16, DropMM: 300,
		BumpMM: 40, BumpRampMM: 40, BumpTopMM: 200, BumpMPerS: 10, BumpBrakedMPerS: 14,
	}, 15},
}

// complete adds the defaults of its kind of bike to a section that a file has: of every number, and of the road's class.
func (r *RideSection) complete(s *document.Source, path string) {
	for i := range usualRide {
		if usualRide[i].Kind != r.Kind {
			continue
		}
		to, usual := reflect.ValueOf(r).Elem(), reflect.ValueOf(&usualRide[i].RideSection).Elem()
		for k := range to.NumField() {
			key, kind := to.Type().Field(k).Tag.Get("yaml"), to.Field(k).Kind()
			if kind != reflect.Pointer && key != "kind" && !s.Has(path+"."+key) {
				to.Field(k).Set(usual.Field(k))
			}
		}
	}
}

// Check completes the section, where the file has one, and notes dampers that nothing asks for.
func (d *Dynamics) Check(s *document.Source, aims *Aims) {
	if s.Has("ride") && d.Damping != nil {
		d.Damping.complete(s, "ride")
	}
	if d.Damping == nil && s.Has("dampers") {
		s.At("dampers", "not used without a ride section; remove them or add one, such as ride: {kind: trail}")
	}
	for i := range aims.Dampers {
		aims.Dampers[i].check(s, document.Item("dampers", i))
	}
	document.Twice(s, "dampers", "name", len(aims.Dampers), func(i int) any { return aims.Dampers[i].Name })
}

// CheckUnsprung notes a bike without the mass that a ride section needs, and one whose rear wheel is heavier than what stands
// on it.
func (d *Dynamics) CheckUnsprung(s *document.Source, path string, b *Bike) {
	if d.Damping != nil && b.WheelbaseMM > 0 && b.MassKG > 0 && b.CGToFrontAxleMM > 0 {
		if on := b.MassKG * b.CGToFrontAxleMM / b.WheelbaseMM; d.Damping.UnsprungRearKG >= on {
			s.At("ride.unsprung_rear_kg", "%g; must be less than the %.4g kg carried by the rear wheel", d.Damping.UnsprungRearKG, on)
		}
	}
	if d.Damping == nil || b.UnsprungFrontKG > 0 {
		return
	}
	usual := usualRide[0].unsprungFrontKG
	for _, u := range usualRide {
		if u.Kind == d.Damping.Kind {
			usual = u.unsprungFrontKG
		}
	}
	is := "missing"
	if s.Has(path) {
		is = "0"
	}
	s.At(path, "%s; the ride section needs the mass of what moves with the front axle (wheel, tyre, rotor, caliper), which must be above 0, such as %g", is, usual)
}

// Model is the section in the units of the model, with the dampers on sale; nil where a file has none.
func (d *Dynamics) Model(aims *Aims) *quarter.Setting {
	r := d.Damping
	if r == nil {
		return nil
	}
	return &quarter.Setting{
		TyreNPerMM: r.FrontTyreNPerMM, DampingRatio: r.DampingRatio, ReboundPerCompression: r.ReboundPerCompression,
		Road: quarter.Road{Class: r.RoadClass[0], SpeedMPerS: r.RoadSpeedMPerS}, Dampers: aims.Sold(),
	}
}

// Events are what forks are simulated in; nil where a file has no ride section.
func (d *Dynamics) Events() *simulation.Setting {
	r := d.Damping
	if r == nil {
		return nil
	}
	s := &simulation.Setting{
		FrontTyreNPerMM: r.FrontTyreNPerMM, RearTyreNPerMM: r.RearTyreNPerMM, UnsprungRearKG: r.UnsprungRearKG, PitchInertia: r.PitchInertia,
		HandsMM: kinematics.Vec[float64]{Along: r.HandsAlongMM, Ahead: r.HandsAheadMM}, StopMPerS: r.StopMPerS, DropMM: r.DropMM,
		Bump:      simulation.Bump{HeightMM: r.BumpMM, RampMM: r.BumpRampMM, TopMM: r.BumpTopMM, FreeMPerS: r.BumpMPerS, BrakedMPerS: r.BumpBrakedMPerS},
		RoadClass: r.RoadClass[0], RoadMPerS: r.RoadSpeedMPerS,
	}
	if k := r.Rear; k != nil {
		s.Rear = &simulation.RearSuspension{RateNPerMM: k.RateNPerMM, DampingNSPerM: k.DampingNSPerM}
	}
	return s
}

// Given is what the file says beyond what its forks consist of.
func (d *Dynamics) Given(aims *Aims, build *Build) objectives.Given {
	return objectives.Given{Ride: d.Damping != nil, Dampers: len(aims.Dampers) > 0, Tests: build.Proof.asked()}
}
