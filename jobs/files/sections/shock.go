package sections

import (
	"forkfront/jobs/files/document"
	"forkfront/objectives/fork"
)

// Shock is the spring and damper unit of a concept, or two of them side by side.
type Shock struct {
	Count      int     `yaml:"count" jsonschema:"minimum=1,maximum=2" default:"1" jsonschema_description:"one, or two side by side"`
	EyeToEyeMM float64 `yaml:"eye_to_eye_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"length at top-out; by default the distance between the shock's points"`
	StrokeMM   float64 `yaml:"stroke_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"maximum compression; by default 0.30 of the eye-to-eye length"`
	ShockProperties
}

// JobShock is a shock that the search of a job may choose.
type JobShock struct {
	Name       string  `yaml:"name" jsonschema:"required" jsonschema_description:"name in the results"`
	EyeToEyeMM float64 `yaml:"eye_to_eye_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"length at top-out"`
	StrokeMM   float64 `yaml:"stroke_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"maximum compression"`
	ShockProperties
}

// ShockProperties are the properties of a shock other than its size; its spring rate follows from sag.
type ShockProperties struct {
	MassG     float64 `yaml:"mass_g" jsonschema:"exclusiveMinimum=0" jsonschema_description:"mass of one, including the spring; by default estimated from its size"`
	Spring    string  `yaml:"spring" jsonschema:"enum=coil,enum=air" default:"coil" jsonschema_description:"coil or air"`
	PreloadMM float64 `yaml:"preload_mm" jsonschema:"minimum=0" default:"0" jsonschema_description:"compression of a coil at top-out"`
	BoreMM    float64 `yaml:"bore_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"bore of an air spring"`
	ChamberMM float64 `yaml:"chamber_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"length of an air spring's chamber at top-out"`
	MaxBar    float64 `yaml:"pressure_max_bar" jsonschema:"exclusiveMinimum=0" jsonschema_description:"maximum gauge pressure of an air spring at top-out; by default 24"`
}

// Unit is the shock as a concept has it, count of them side by side.
func (k *JobShock) Unit(count int) Shock {
	return Shock{Count: count, EyeToEyeMM: k.EyeToEyeMM, StrokeMM: k.StrokeMM, ShockProperties: k.ShockProperties}
}

// Check notes an air spring without its dimensions, and dimensions that a coil does not have.
func (k *Shock) Check(s *document.Source, path string) {
	if k.EyeToEyeMM > 0 && k.StrokeMM >= k.EyeToEyeMM {
		s.At(path+".stroke_mm", "%g; must be less than the eye-to-eye length of %g", k.StrokeMM, k.EyeToEyeMM)
	}
	for _, key := range []string{"bore_mm", "chamber_mm"} {
		switch given := s.Has(path + "." + key); {
		case k.Spring == "air" && !given:
			s.At(path+"."+key, "missing; required for an air spring")
		case k.Spring == "coil" && given:
			s.At(path+"."+key, "not used by a coil; remove it or set spring: air")
		}
	}
	if at := path + ".pressure_max_bar"; k.Spring == "coil" && s.Has(at) {
		s.At(at, "not used by a coil; remove it or set spring: air")
	}
	if k.Spring == "air" && k.PreloadMM != 0 {
		s.At(path+".preload_mm", "%g; not used by an air spring, whose pressure follows from sag", k.PreloadMM)
	}
	if k.ChamberMM > 0 && k.StrokeMM >= k.ChamberMM {
		s.At(path+".chamber_mm", "%g; must be more than the stroke of %g", k.ChamberMM, k.StrokeMM)
	}
}

// Air is the air spring in the terms of the model, nil for a coil.
func (k *ShockProperties) Air() *fork.AirSpring {
	if k.Spring != "air" {
		return nil
	}
	a := &fork.AirSpring{BoreMM: k.BoreMM, ChamberMM: k.ChamberMM, Exponent: 1.3, MaxBar: k.MaxBar}
	if a.MaxBar == 0 {
		a.MaxBar = airHoldsBar
	}
	return a
}

// airHoldsBar is the pressure up to which an air spring that does not say is pumped: 350 lb/in² (common
// practice, no source).
const airHoldsBar = 24

// Check notes values of a shock that contradict each other.
func (k *JobShock) Check(s *document.Source, path string) {
	unit := k.Unit(1)
	unit.Check(s, path)
}

// StrokeShare is the stroke of a shock without a stated stroke, as a fraction of its eye-to-eye length.
const StrokeShare = 0.30
