package sections

import (
	"forkfront/jobs/files/document"
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
)

// Damper is a damper on sale.
type Damper struct {
	Name              string       `yaml:"name" jsonschema:"required" jsonschema_description:"a name"`
	CompressionNSPerM Band         `yaml:"compression_ns_per_m" jsonschema:"required" jsonschema_description:"damping coefficient in compression at the shaft, softest and firmest setting [soft, firm]; with a curve, force over speed at 0.2 m/s"`
	ReboundNSPerM     Band         `yaml:"rebound_ns_per_m" jsonschema:"required" jsonschema_description:"damping coefficient in rebound at the shaft, softest and firmest setting [soft, firm]; with a curve, force over speed at 0.2 m/s"`
	CompressionClicks int          `yaml:"compression_clicks" jsonschema:"minimum=1" jsonschema_description:"clicks from the softest to the firmest setting in compression, evenly spaced in force; without it, any setting between them"`
	ReboundClicks     int          `yaml:"rebound_clicks" jsonschema:"minimum=1" jsonschema_description:"the same in rebound"`
	Curve             []ForcePoint `yaml:"curve" jsonschema:"minItems=2,maxItems=64" jsonschema_description:"force over the speed of the shaft as points [m/s, N], compression positive: straight between them, through the origin, and straight on beyond the ends. Only its shape counts: clicks scale its forces. Without it, force is in proportion to speed"`
}

// ForcePoint is [m/s, N] of a damper's curve.
type ForcePoint [2]float64

// DamperSetting is what the damper of a concept is set to.
type DamperSetting struct {
	Name              string  `yaml:"name" jsonschema_description:"the one of dampers that it is, whose curve it has; without it, force is in proportion to speed"`
	CompressionNSPerM float64 `yaml:"compression_ns_per_m" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"damping coefficient in compression at the shaft of each shock; with a curve, force over speed at 0.2 m/s"`
	ReboundNSPerM     float64 `yaml:"rebound_ns_per_m" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"the same in rebound"`
}

func (k *Damper) check(s *document.Source, path string) {
	k.CompressionNSPerM.checkDamping(s, path+".compression_ns_per_m")
	k.ReboundNSPerM.checkDamping(s, path+".rebound_ns_per_m")
	k.checkCurve(s, path+".curve")
}

// checkDamping notes a range of damping coefficients that is not above 0 or whose ends are exchanged.
func (b Band) checkDamping(s *document.Source, path string) {
	b.Check(s, path)
	if b[0] <= 0 && s.Has(path) {
		s.At(path, "softest setting %g; must be more than 0", b[0])
	}
}

// checkCurve notes points out of order, forces that do not resist the motion or that fall as it gets faster, and a curve with
// one direction only.
func (k *Damper) checkCurve(s *document.Source, path string) {
	if s.Faulty(path) {
		return // what is no number has no order
	}
	for i, p := range k.Curve {
		at := document.Item(path, i)
		switch speed, force := p[0], p[1]; {
		case speed*force < 0 || (speed == 0) != (force == 0):
			s.At(at, "%g N at %g m/s; the force must have the sign of the speed, and 0 belongs to 0", force, speed)
		case i > 0 && speed <= k.Curve[i-1][0]:
			s.At(at, "%g m/s after %g; speeds must rise from rebound (negative) to compression", speed, k.Curve[i-1][0])
		case i > 0 && force < k.Curve[i-1][1]:
			s.At(at, "%g N at %g m/s after %g N at %g; the force must not fall as the speed rises", force, speed, k.Curve[i-1][1], k.Curve[i-1][0])
		}
	}
	if n := len(k.Curve); n > 0 && (k.Curve[0][0] >= 0 || k.Curve[n-1][0] <= 0) {
		s.At(path, "from %g to %g m/s; points of rebound (speed below 0) and of compression (above 0) are needed", k.Curve[0][0], k.Curve[n-1][0])
	}
}

// Model is the damper in the model's terms.
func (k *Damper) Model() quarter.Damper {
	d := quarter.Damper{
		Name:        k.Name,
		Compression: ride.Band{Low: k.CompressionNSPerM[0], High: k.CompressionNSPerM[1]},
		Rebound:     ride.Band{Low: k.ReboundNSPerM[0], High: k.ReboundNSPerM[1]},
		Clicks:      [2]int{k.CompressionClicks, k.ReboundClicks},
	}
	if len(k.Curve) > 0 {
		points := make([]quarter.CurvePoint, len(k.Curve))
		for i, p := range k.Curve {
			points[i] = quarter.CurvePoint{SpeedMPerS: p[0], ForceN: p[1]}
		}
		d.Curve = quarter.NewCurve(points)
	}
	return d
}

// Sold are the dampers on sale in the model's terms.
func (a *Aims) Sold() (all []quarter.Damper) {
	for i := range a.Dampers {
		all = append(all, a.Dampers[i].Model())
	}
	return all
}

// Check notes a setting that nothing uses and a damper that is not listed.
func (k *DamperSetting) Check(s *document.Source, section *RideSection, dampers []Damper) {
	if section == nil {
		s.At("damper", "not used without a ride section; remove it or add one, such as ride: {kind: trail}")
	}
	var names []string
	for i := range dampers {
		if dampers[i].Name == k.Name {
			return
		}
		names = append(names, dampers[i].Name)
	}
	switch {
	case k.Name == "":
	case names == nil:
		s.At("damper.name", "%q; no dampers are listed", k.Name)
	default:
		s.At("damper.name", "no damper %q in dampers; %s", k.Name, document.Suggest(k.Name, names))
	}
}
