package draft

import "math"

// wishbone places the ball joints on the steering axis above the tyre, with which they move, and the wishbones behind
// them. A strut of the frame stands behind the wishbones and clear of the wheel.
func wishbone(b *Bike) plan {
	p := plan{about: "an upright between two wishbones on the frame, which do not steer"}
	b.driven(&p, 1)
	p.lanes = []lane{{"frame", 30}, {"lower_wishbone", 22}, {"upper_wishbone", 50}, {"upright", b.bladeMM()}}
	t, r := b.TravelMM, b.Wheel.RadiusMM+25 // a shaft, a tube and clearance outside the tyre
	low := b.AxleToCrownMM - math.Sqrt(r*r-b.OffsetMM*b.OffsetMM)
	ball := span{low - 50, low}
	z := ball.middle()
	shortest, longest := math.Max(130, 1.2*t), math.Max(240, 2.2*t)
	rear := span{-longest, -shortest}
	lower := rear.middle() + (shortest+longest)/2/p.ratio // of the shock's lower eye, ahead
	p.places = []place{
		{"lower_rear", span{z - 0.6*t, z}, rear, "on the frame"},
		{"lower_ball", ball, at(0), "on the steering axis, above the tyre"},
		{"upper_rear", span{z - 225, z - 105}, rear, "on the frame"},
		{"upper_ball", span{z - 225, z - 135}, at(0), "on the steering axis"},
		{"shock_upper", span{z - p.eye() - 35, z - 0.75*p.eye()}, span{lower - 70, lower + 10}, "a shock's length above the lower wishbone"},
	}
	p.angle = span{-0.1, 0.35}
	foot := z + 30
	down := b.AxleToCrownMM - t - foot
	chord := math.Sqrt(math.Max(0, b.Wheel.RadiusMM*b.Wheel.RadiusMM-down*down)) // of the wheel at full travel, at the strut's foot
	back := b.OffsetMM - math.Max(longest+45+b.OffsetMM, chord+50)
	p.strut = &strut{[2]float64{z - 255, back}, [2]float64{foot, back}}
	return p
}
