package files

import (
	"forkfront/objectives"
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
)

// Dynamics is what a fork's damper is chosen for.
type Dynamics struct {
	Damping *RideSection `yaml:"ride" jsonschema_description:"tyre, damping and road; without this section, measures that depend on them have no value. It requires unsprung_front_kg of the bike"`
}

// RideSection is the section on tyre, damping and road. What it leaves out is usual for its kind of bike; the tyres of
// bicycles are an estimate.
type RideSection struct {
	Kind                  string  `yaml:"kind" jsonschema:"enum=trail,enum=cargo,enum=motorcycle" default:"trail" jsonschema_description:"kind of bike, from which the defaults of this section follow: trail bike, cargo bike or light motorcycle"`
	FrontTyreNPerMM       float64 `yaml:"front_tyre_n_per_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"vertical rate of the front tyre; by default 100 (trail), 140 (cargo), 115 (motorcycle)"`
	DampingRatio          float64 `yaml:"damping_ratio" jsonschema:"exclusiveMinimum=0,exclusiveMaximum=2" jsonschema_description:"damping ratio wanted at sag; by default 0.4 (trail), 0.4 (cargo), 0.35 (motorcycle)"`
	ReboundPerCompression float64 `yaml:"rebound_per_compression" jsonschema:"exclusiveMinimum=0" jsonschema_description:"damping coefficient of rebound over that of compression; by default 2 (trail), 2 (cargo), 2 (motorcycle)"`
	RoadClass             string  `yaml:"road_class" jsonschema:"enum=A,enum=B,enum=C,enum=D,enum=E,enum=F,enum=G,enum=H" jsonschema_description:"roughness of the road by ISO 8608, from A (smooth) to H; by default D (trail), C (cargo), C (motorcycle)"`
	RoadSpeedMPerS        float64 `yaml:"road_speed_m_per_s" jsonschema:"exclusiveMinimum=0" jsonschema_description:"speed on that road; by default 7 (trail), 6 (cargo), 14 (motorcycle)"`
}

// usualRide is what a section has by default, and what a front wheel with its tyre, rotor and caliper weighs.
var usualRide = []struct {
	RideSection
	unsprungFrontKG float64
}{
	{RideSection{"trail", 100, 0.4, 2, "D", 7}, 3.5},
	{RideSection{"cargo", 140, 0.4, 2, "C", 6}, 3.5},
	{RideSection{"motorcycle", 115, 0.35, 2, "C", 14}, 15},
}

// complete adds the defaults of its kind of bike to a section that a file has.
func (r *RideSection) complete(s *Source, path string) {
	for _, usual := range usualRide {
		if usual.Kind != r.Kind {
			continue
		}
		for _, k := range []struct {
			key   string
			to    *float64
			usual float64
		}{
			{"front_tyre_n_per_mm", &r.FrontTyreNPerMM, usual.FrontTyreNPerMM},
			{"damping_ratio", &r.DampingRatio, usual.DampingRatio},
			{"rebound_per_compression", &r.ReboundPerCompression, usual.ReboundPerCompression},
			{"road_speed_m_per_s", &r.RoadSpeedMPerS, usual.RoadSpeedMPerS},
		} {
			if !s.has(path + "." + k.key) {
				*k.to = k.usual
			}
		}
		if !s.has(path + ".road_class") {
			r.RoadClass = usual.RoadClass
		}
	}
}

// check completes the section, where the file has one, and notes dampers that nothing asks for.
func (d *Dynamics) check(s *Source, aims *Aims) {
	if s.has("ride") && d.Damping != nil {
		d.Damping.complete(s, "ride")
	}
	if d.Damping == nil && s.has("dampers") {
		s.At("dampers", "not used without a ride section; remove them or add one, such as ride: {kind: trail}")
	}
	for i := range aims.Dampers {
		k, path := &aims.Dampers[i], item("dampers", i)
		k.CompressionNSPerM.checkDamping(s, path+".compression_ns_per_m")
		k.ReboundNSPerM.checkDamping(s, path+".rebound_ns_per_m")
	}
	twice(s, "dampers", "name", len(aims.Dampers), func(i int) any { return aims.Dampers[i].Name })
}

// checkUnsprung notes a bike without the mass that a ride section needs.
func (d *Dynamics) checkUnsprung(s *Source, path string, b *Bike) {
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
	if s.has(path) {
		is = "0"
	}
	s.At(path, "%s; the ride section needs the mass of what moves with the front axle (wheel, tyre, rotor, caliper), which must be above 0, such as %g", is, usual)
}

// Damper is a damper on sale.
type Damper struct {
	Name              string `yaml:"name" jsonschema:"required" jsonschema_description:"a name"`
	CompressionNSPerM Band   `yaml:"compression_ns_per_m" jsonschema:"required" jsonschema_description:"damping coefficient in compression at the shaft, softest and firmest setting [soft, firm]"`
	ReboundNSPerM     Band   `yaml:"rebound_ns_per_m" jsonschema:"required" jsonschema_description:"damping coefficient in rebound at the shaft, softest and firmest setting [soft, firm]"`
}

// checkDamping notes a range of damping coefficients that is not above 0 or whose ends are exchanged.
func (b Band) checkDamping(s *Source, path string) {
	b.check(s, path)
	if b[0] <= 0 && s.has(path) {
		s.At(path, "softest setting %g; must be more than 0", b[0])
	}
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

// Sold are the dampers on sale in the model's terms.
func (a *Aims) Sold() (all []quarter.Damper) {
	for _, k := range a.Dampers {
		all = append(all, quarter.Damper{Name: k.Name, Compression: ride.Band{Low: k.CompressionNSPerM[0], High: k.CompressionNSPerM[1]}, Rebound: ride.Band{Low: k.ReboundNSPerM[0], High: k.ReboundNSPerM[1]}})
	}
	return all
}

// given is what the file says beyond what its forks consist of.
func (d *Dynamics) given(aims *Aims, build *Build) objectives.Given {
	return objectives.Given{Ride: d.Damping != nil, Dampers: len(aims.Dampers) > 0, Tests: build.Proof.asked()}
}
