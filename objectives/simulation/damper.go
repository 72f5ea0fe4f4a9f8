package simulation

import "forkfront/objectives/quarter"

// damper is what the dampers of all shocks do together.
type damper struct {
	compression, rebound float64        // N·s/m at their shafts, or what a curve's forces are multiplied by
	curve                *quarter.Curve // nil: straight lines
}

func newDamper(a *quarter.Adjustment, shocks float64) damper {
	d := damper{shocks * a.CompressionNS, shocks * a.ReboundNS, a.Curve}
	if d.curve != nil {
		compression, rebound := d.curve.Chords()
		d.compression, d.rebound = d.compression/compression, d.rebound/rebound
	}
	return d
}

// force at a speed of the shafts in m/s, in N; compression is positive.
func (d *damper) force(speed float64) float64 {
	scale := d.compression
	if speed < 0 {
		scale = d.rebound
	}
	if d.curve != nil {
		return scale * d.curve.Force(speed)
	}
	return scale * speed
}
