package stance

// Differentiate fills in a state whose numbers have derivatives, from a solved one, and a derivative of its
// travel. It has no poses, no rates of bodies and no SineMin; the steering axis is the fork frame's.
// The derivatives are times step, in the imaginary parts.
func (c *Chassis) Differentiate(dst *State[complex128], from *State[float64], by *Quantities, travel, step float64) {
	sin, cos := from.SinHead, from.CosHead
	forward, up := sin*by.Ahead-cos*travel, cos*by.Ahead+sin*travel // of the axle, in the ground frame as it stands
	rise := c.FrontRadiusMM - c.RearRadiusMM
	tilt := c.tilt(from) * up
	of := func(x, d float64) complex128 { return complex(x, d*step) }
	trail := (-c.FrontRadiusMM*sin*tilt - by.Ahead - from.TrailMM*cos*tilt) / sin
	vx, vz := sin*by.AheadRate+from.VZ*tilt, cos*by.AheadRate-from.VX*tilt
	dst.TravelMM, dst.Along, dst.Ahead = of(from.TravelMM, travel), of(from.Along, -travel), of(from.Ahead, by.Ahead)
	dst.AheadRate, dst.BrakeRate = of(from.AheadRate, by.AheadRate), of(from.BrakeRate, by.BrakeRate)
	dst.SinHead, dst.CosHead = of(sin, cos*tilt), of(cos, -sin*tilt)
	dst.SinSteer, dst.CosSteer, dst.OffsetMM = dst.SinHead, dst.CosHead, dst.Ahead
	dst.TrailMM, dst.WheelbaseMM = of(from.TrailMM, trail), of(from.WheelbaseMM, forward+rise*tilt)
	dst.VX, dst.VZ = of(from.VX, vx), of(from.VZ, vz)
	dst.ContactVX = of(from.ContactVX, vx+c.FrontRadiusMM*by.BrakeRate)
	dst.ShockMM, dst.ShockRate = of(from.ShockMM, by.ShockMM), of(from.ShockRate, by.ShockRate)
	dst.SineMin, dst.Drive = of(from.SineMin, 0), from.Drive
	dst.Pose, dst.Rate = dst.Pose[:0], dst.Rate[:0]
}

// tilt is how far the head angle changes per mm that the axle rises.
func (c *Chassis) tilt(s *State[float64]) float64 {
	if c.Level {
		return 0
	}
	return 1 / s.WheelbaseMM
}

// Weights gives the weights of a state's numbers in a sum of its ContactVX and VZ, weighed themselves, to
// the first order.
func (c *Chassis) Weights(s *State[float64], contact, vz float64) Quantities {
	return Quantities{
		Ahead:     c.tilt(s) * s.CosHead * (contact*s.VZ - vz*s.VX),
		AheadRate: contact*s.SinHead + vz*s.CosHead,
		BrakeRate: contact * c.FrontRadiusMM,
	}
}

// QuantityRates is how the numbers of a state change per mm of travel.
func (c *Chassis) QuantityRates(s *State[float64], d *Second[float64]) Quantities {
	vx := s.SinHead*d.Ahead + s.VZ*d.HeadTurn
	return Quantities{s.AheadRate, d.Ahead, (d.ContactVX - vx) / c.FrontRadiusMM, -s.ShockRate, d.ShockMM}
}

// AddScaled adds other numbers, so many times.
func (n *Quantities) AddScaled(by *Quantities, times float64) {
	n.Ahead += by.Ahead * times
	n.AheadRate += by.AheadRate * times
	n.BrakeRate += by.BrakeRate * times
	n.ShockMM += by.ShockMM * times
	n.ShockRate += by.ShockRate * times
}

// Quantities has an entry for each number of a state from which all others follow at a given travel:
// weights or derivatives.
type Quantities struct{ Ahead, AheadRate, BrakeRate, ShockMM, ShockRate float64 }
