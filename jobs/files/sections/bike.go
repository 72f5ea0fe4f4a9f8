package sections

import (
	"math"

	"forkfront/jobs/files/document"
	"forkfront/kinematics/stance"
)

// Bike is the bike that a fork is for, as it stands at top-out.
type Bike struct {
	Name            string  `yaml:"name" jsonschema_description:"name in the results"`
	HeadAngleDeg    float64 `yaml:"head_angle_deg" jsonschema:"required,exclusiveMinimum=0,exclusiveMaximum=180" jsonschema_description:"head angle from the ground, rear side"`
	WheelbaseMM     float64 `yaml:"wheelbase_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"distance between the axles along the ground"`
	FrontRadiusMM   float64 `yaml:"front_radius_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"radius of the front wheel with its tyre"`
	RearRadiusMM    float64 `yaml:"rear_radius_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"radius of the rear wheel with its tyre"`
	AxleToCrownMM   float64 `yaml:"axle_to_crown_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"crown race seat to front axle, parallel to the steering axis"`
	ForkOffsetMM    float64 `yaml:"fork_offset_mm" jsonschema:"required" jsonschema_description:"distance of the front axle ahead of the steering axis"`
	CGHeightMM      float64 `yaml:"cg_height_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"height of the centre of gravity of rider and bike"`
	CGToFrontAxleMM float64 `yaml:"cg_to_front_axle_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"horizontal distance of the centre of gravity behind the front axle"`
	MassKG          float64 `yaml:"mass_kg" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"mass of rider and bike"`
	FrontBrakeShare float64 `yaml:"front_brake_share" jsonschema:"minimum=0,maximum=1" default:"1" jsonschema_description:"share of the braking force at the front wheel"`
	UnsprungFrontKG float64 `yaml:"unsprung_front_kg" jsonschema:"minimum=0" default:"0" jsonschema_description:"unsprung mass at the front, subtracted from the static load"`
}

// Chassis is the bike in the units of the model.
func (b *Bike) Chassis(level bool) stance.Chassis {
	return stance.Chassis{
		HeadAngle: b.HeadAngleDeg * math.Pi / 180, WheelbaseMM: b.WheelbaseMM,
		FrontRadiusMM: b.FrontRadiusMM, RearRadiusMM: b.RearRadiusMM,
		AxleToCrownMM: b.AxleToCrownMM, ForkOffsetMM: b.ForkOffsetMM,
		CGHeightMM: b.CGHeightMM, CGToFrontAxleMM: b.CGToFrontAxleMM, MassKG: b.MassKG,
		FrontBrakeShare: b.FrontBrakeShare, UnsprungFrontKG: b.UnsprungFrontKG, Level: level,
	}
}

// Check notes faults of the bike that no single number shows. Values that are missing or outside their own limits are
// noted already and are skipped.
func (b *Bike) Check(s *document.Source, path string) {
	if b.FrontRadiusMM > 0 && math.Abs(b.ForkOffsetMM) >= b.FrontRadiusMM {
		s.At(path+".fork_offset_mm", "%g; must be less than the front radius of %g", b.ForkOffsetMM, b.FrontRadiusMM)
	}
	if b.WheelbaseMM > 0 && b.CGToFrontAxleMM >= b.WheelbaseMM {
		s.At(path+".cg_to_front_axle_mm", "%g; must be less than the wheelbase of %g, or the front wheel carries no load", b.CGToFrontAxleMM, b.WheelbaseMM)
		return
	}
	if b.WheelbaseMM > 0 && b.MassKG > 0 && b.CGToFrontAxleMM > 0 {
		if on := b.MassKG * (1 - b.CGToFrontAxleMM/b.WheelbaseMM); b.UnsprungFrontKG >= on {
			s.At(path+".unsprung_front_kg", "%g; must be less than the %.4g kg carried by the front wheel", b.UnsprungFrontKG, on)
		}
	}
}

// CheckRide notes travel and braking that the bike of a file cannot have.
func (b *Bike) CheckRide(s *document.Source, name string, travelMM, brakingG float64) {
	if b.AxleToCrownMM > 0 && travelMM >= b.AxleToCrownMM {
		s.At("travel_mm", "%g; must be less than the axle-to-crown length of %g%s", travelMM, b.AxleToCrownMM, name)
	}
	if b.CGHeightMM > 0 && b.CGToFrontAxleMM > 0 && brakingG > b.CGToFrontAxleMM/b.CGHeightMM {
		s.At("braking_g", "%g g; must be at most the pitch-over limit cg_to_front_axle / cg_height = %.3f g%s", brakingG, b.CGToFrontAxleMM/b.CGHeightMM, name)
	}
}
