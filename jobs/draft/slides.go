package draft

import "math"

// inLegs gives a plan springs within telescopic legs: as long as their stroke needs, which is the travel. Outer tubes are
// a quarter wider than the others.
func (b *Bike) inLegs(p *plan) {
	p.legs = true
	p.shocks, p.ratio = 2, 1
	for s := 5 * math.Ceil(b.TravelMM/5); s <= b.TravelMM/0.88; s += 5 {
		p.sizes = append(p.sizes, shock{60 + 2*s, s})
	}
	p.shockLane = math.Max(b.HubWidthMM/2+hubClearMM, b.Wheel.TyreWidthMM/2+clearMM) + 1.5*b.tubeMM()
	p.off = []off{
		{"spring_rate_n_per_mm", "springs in the legs are softer than those of shocks"},
		{"progression_pct", "the leverage ratio stays near 1"},
	}
}

func telescopic(b *Bike) plan {
	p := plan{about: "legs that slide on the crown's tubes"}
	b.inLegs(&p)
	p.lanes = []lane{{"crown", p.shockLane}, {"lowers", p.shockLane}}
	longest := b.AxleToCrownMM - b.TravelMM - 30 // down to the lower end of the tubes
	p.places = []place{
		b.root(20),
		{"tube_top", at(35), around(b.OffsetMM, 15), "the legs lean if one end of the tubes is farther ahead than the other"},
		{"tube_end", span{math.Min(b.TravelMM+100, longest-20), longest}, around(b.OffsetMM, 15), "the lower, the farther apart are the bushes"},
		{"shock_upper", span{20, 30}, around(b.OffsetMM, 10), "in the legs"},
	}
	p.angle = span{-0.05, 0.05}
	p.off = append(p.off, off{"brake_dive_vs_telescopic_mm", "it is a telescopic fork"})
	return p
}

func telescopicLink(b *Bike) plan {
	p := plan{about: "telescopic legs that swing about a pin at the crown, guided by a link"}
	b.inLegs(&p)
	inside := math.Max(b.linksMM(), b.Wheel.TyreWidthMM/2+clearMM+1.3*b.tubeMM()) // the tyre comes up between the crown's arms
	p.shockLane = math.Max(p.shockLane, inside+2.2*b.tubeMM()+clearMM)
	p.lanes = []lane{{"crown", inside}, {"link", inside}, {"tubes", p.shockLane}, {"lowers", p.shockLane}}
	tubes, o := b.AxleToCrownMM-b.TravelMM, b.OffsetMM
	legs := span{o - 18, o + 22}
	p.places = []place{
		b.root(25),
		{"head", span{-100, 20}, span{46, 90}, "the pin about which the legs swing, ahead of the head tube"},
		{"anchor", span{60, 200}, span{-60, 60}, "of the link on the crown"},
		{"lug", span{tubes - 208, tubes - 48}, span{o - 258, o - 78}, "of the link on the lowers"},
		{"tube_top", span{20, 60}, legs, ""},
		{"tube_end", span{tubes - 88, tubes - 28}, legs, "the lower, the farther apart are the bushes"},
		{"shock_upper", span{60, 110}, legs, "in the legs"},
	}
	p.angle = span{-0.15, 0.15}
	return p
}
