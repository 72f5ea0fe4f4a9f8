package draft

import "math"

// crownMM is the height of the crown: from the crown race to its underside, where the arms of the fork start.
func (b *Bike) crownMM() float64 { return math.Min(36, b.underCrown()-clearMM-3) }

// crownRadiusMM is the radius of the crown, smaller than usual where there is little height for it.
func (b *Bike) crownRadiusMM() float64 { return math.Min(25, b.crownMM()) }

func (b *Bike) root(ahead float64) place {
	return place{"root", at(b.crownMM()), at(ahead), "underside of the crown, where its arms start; clears the tyre at full travel"}
}

// links are two links ahead of the head tube, between the crown and a blade.
type links struct {
	shortest, longest                            float64
	lowerRear, lowerFront, upperRear, upperFront place
}

// links places the pivots of two links, the rear one of the upper link at along. A link swings through the travel by some 35° at most to either side, which
// sets its least length; the shock on it sets another.
func (b *Bike) links(upper span) links {
	head := headTubeDiameterMM / 2
	k := links{shortest: math.Max(100, 0.85*b.TravelMM), longest: math.Max(180, 1.35*b.TravelMM)}
	low := b.lowLink()
	k.lowerRear = place{"lower_rear", span{low - 14, low + 14}, span{head + 28, head + 64}, "ahead of the head tube, above the tyre at full travel"}
	x, z := k.lowerRear.ahead.middle(), k.lowerRear.along.middle()
	k.lowerFront = place{"lower_front", span{z - 0.05*b.TravelMM, z + 0.85*b.TravelMM}, span{x + k.shortest, x + k.longest}, "the link points down at top-out and up at full travel"}
	k.upperRear = place{"upper_rear", upper, span{head + besideHeadMM + 5, head + 58}, "ahead of the upper end of the head tube"}
	z = k.upperRear.along.middle()
	k.upperFront = place{"upper_front", span{z + 0.05*b.TravelMM, z + 0.95*b.TravelMM}, span{x + 0.8*k.shortest, x + k.longest}, "the upper link moves with the lower one"}
	return k
}

// lowLink is about how far down the steering axis the lower link is pivoted: its shaft clears the tyre at full travel.
func (b *Bike) lowLink() float64 {
	return b.tyreTop(headTubeDiameterMM/2+2*besideHeadMM) - clearMM - 10 - 14
}

// belowEye is where the upper link is pivoted below the upper eye of a shock that passes between its sides, so that it
// clears the shaft there.
func belowEye(eye span, near, far float64) span {
	return span{math.Max(headTubeTopMM-30, eye.middle()+near), math.Max(headTubeTopMM-30, eye.middle()) + far}
}

// bladeMM is the half width of what carries the axle beside the wheel.
func (b *Bike) bladeMM() float64 {
	return math.Max(math.Max(b.HubWidthMM/2, b.Wheel.TyreWidthMM/2+clearMM)+22, b.linksMM()+2*b.tubeMM())
}

// linksMM is the half width of links and crown arms beside the head tube.
func (b *Bike) linksMM() float64 { return headTubeDiameterMM/2 + clearMM + b.tubeMM() }

func girder(b *Bike) plan {
	p := plan{about: "two links ahead of the head tube and a long blade down to the axle"}
	b.driven(&p, 1)
	p.lanes = []lane{{"crown", b.linksMM()}, {"lower_link", b.linksMM()}, {"upper_link", b.linksMM()}, {"blade", b.bladeMM()}}
	z := b.lowLink() + b.TravelMM/p.ratio/2 // of the lower eye
	eye := span{z - p.eye() - 25, z - 0.8*p.eye()}
	k := b.links(belowEye(eye, 0, 80))
	p.places = []place{
		b.root(20), k.lowerRear, k.lowerFront, k.upperRear, k.upperFront,
		{"shock_upper", eye, span{70, 140}, "a shock's length above the lower link"},
	}
	p.angle = span{-0.2, 0.7}
	return p
}

func girderRocker(b *Bike) plan {
	k := b.links(span{headTubeTopMM - 30, headTubeTopMM + 60})
	p := plan{about: "a girder whose lower link drives the shock through a push rod and a rocker"}
	b.driven(&p, 1)
	// Push rod and rocker lie in the mid-plane between the links, the arms of the crown between them and the links.
	p.lanes = []lane{{"crown", 34}, {"lower_link", 60}, {"upper_link", 60}, {"blade", b.bladeMM()}, {"push_rod", 0}, {"rocker", 0}}
	p.shafts = [][2]string{{"upper_rear", "stub"}, {"upper_front", "stub"}}
	root := b.root(33)
	root.along = at(math.Min(25, b.crownMM()-8)) // arms this near to the mid-plane have to clear the tyre too
	x, z := k.lowerRear.ahead.middle(), k.lowerRear.along.middle()
	// The shock stands on the front end of the rocker and leans back to its upper eye above the head tube.
	const lean = 0.75 // rad
	sin, cos := math.Sincos(lean)
	eyeAlong, eyeAhead := headTubeTopMM-5-cos*p.eye(), x+145-sin*p.eye()
	p.places = []place{
		root, k.lowerRear, k.lowerFront, k.upperRear, k.upperFront,
		{"rod_bottom", span{z - 20, z + 0.45*b.TravelMM}, span{x + 0.35*k.shortest, x + 0.6*k.longest}, "on the lower link"},
		{"rod_top", span{headTubeTopMM - 5, headTubeTopMM + 65}, span{105, 170}, "on the rocker, above the links"},
		{"rocker_pivot", span{headTubeTopMM - 35, headTubeTopMM + 45}, span{50, 95}, "ahead of the upper end of the head tube"},
		{"shock_upper", around(eyeAlong, 45), around(eyeAhead, 50), "a shock's length above the front end of the rocker"},
	}
	p.angle = span{0.3, 1.1}
	return p
}

// sixBar keeps the proportions ahead of the head tube of a fork that is known to work, and stretches them along the
// steering axis by the travel.
func sixBar(b *Bike) plan {
	p := plan{about: "the axle on a leg between a coupler and a drop link, both carried by the lower link"}
	b.driven(&p, 1)
	p.lanes = []lane{
		{"crown", b.linksMM()},
		{"lower_link", b.linksMM()},
		{"upper_link", b.linksMM()},
		{"coupler", b.linksMM() - 19},
		{"drop_link", b.linksMM() + 11},
		{"leg", b.bladeMM() + 6},
	}
	p.shafts = [][2]string{{"lower_rear", "stub"}, {"upper_rear", "stub"}, {"drop_top", "stub"}, {"drop_bottom", "stub"}}
	z, t := b.lowLink(), b.TravelMM
	eye := span{z - 15 - p.eye(), z - 0.8*p.eye()}
	k := b.links(belowEye(eye, 15, 60))
	k.lowerRear.ahead = span{60, 82}
	k.lowerRear.along.low += 8
	down := func(from, share, to float64) span { return span{from + share*t, from + to*t} }
	p.places = []place{
		b.root(30), k.lowerRear,
		{"lower_front", down(z, 0.35, 0.8), span{162, 195}, "the link points down at top-out and up at full travel"},
		{"upper_rear", k.upperRear.along, span{53, 78}, "ahead of the upper end of the head tube"},
		{"upper_front", down(k.upperRear.along.middle(), 0.8, 1.45), span{155, 192}, ""},
		{"leg_top", down(z, -0.15, 0.22), span{218, 258}, "ahead of the links"},
		{"drop_top", down(z, 0.28, 0.55), span{130, 152}, "on the lower link"},
		{"drop_bottom", down(z, 0.82, 1.2), span{150, 180}, "below the lower link"},
		{"shock_upper", eye, span{68, 102}, "a shock's length above the lower link"},
	}
	p.angle = span{0, 0.35}
	return p
}
