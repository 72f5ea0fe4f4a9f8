package stance

// Telescopic fills in the state of the telescopic fork that a linkage would replace: its axle goes
// straight up along the steering axis, its spring with it.
func (c *Chassis) Telescopic(dst *State[float64], second *Second[float64], travelMM float64) {
	a := c.Attitude()
	*dst = State[float64]{
		TravelMM: travelMM, Along: c.AxleToCrownMM - travelMM, Ahead: c.ForkOffsetMM,
		ShockMM: c.AxleToCrownMM - travelMM, ShockRate: 1, SineMin: 1, Drive: Drive{Cos: 1, Way: -travelMM},
	}
	Stand(&a, dst)
	dst.VX, dst.VZ = -dst.CosHead, dst.SinHead
	dst.ContactVX = dst.VX
	if second != nil {
		*second = Second[float64]{}
		if !c.Level {
			second.HeadTurn = dst.VZ / dst.WheelbaseMM
		}
		second.VZ = dst.CosHead * second.HeadTurn
		second.ContactVX = dst.SinHead * second.HeadTurn
	}
}
