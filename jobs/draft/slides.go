package draft

import "math"

// inLegs gives a plan springs within telescopic legs: as long as their stroke needs, which is the travel.
func (b *Bike) inLegs(p *plan) {
	p.shocks, p.ratio = 2, 1
	for s := 5 * math.Ceil(b.TravelMM/5); s <= b.TravelMM/0.88; s += 5 {
		p.sizes = append(p.sizes, shock{60 + 2*s, s})
	}
	p.off = []off{
		{"spring_rate_n_per_mm", "springs in the legs are softer than those of shocks"},
		{"progression_pct", "the leverage ratio stays near 1"},
	}
}

func telescopic(b *Bike) plan {
	p := plan{about: "legs that slide in the crown's tubes"}
	b.inLegs(&p)
	tubes := b.AxleToCrownMM - b.TravelMM - 30 // down to their lower end
	p.places = []place{
		{"upper_bush", at(tubes - 110), around(b.OffsetMM, 15), "the legs lean if one bush is farther ahead than the other"},
		{"lower_bush", at(tubes), around(b.OffsetMM, 15), ""},
		{"shock_upper", span{20, 60}, around(b.OffsetMM, 10), "in the legs"},
	}
	p.angle = span{-0.05, 0.05}
	p.off = append(p.off, off{"brake_dive_vs_telescopic_mm", "it is a telescopic fork"})
	return p
}

func telescopicLink(b *Bike) plan {
	p := plan{about: "telescopic legs that swing about a pin at the crown, guided by a link"}
	b.inLegs(&p)
	tubes, o := b.AxleToCrownMM-b.TravelMM, b.OffsetMM
	legs := span{o - 18, o + 22}
	p.places = []place{
		{"head", span{-100, 20}, span{o - 38, o + 22}, "the pin about which the legs swing"},
		{"anchor", span{20, 160}, span{-60, 60}, "of the link on the crown"},
		{"lug", span{tubes - 208, tubes - 88}, span{o - 238, o - 78}, "of the link on the lowers"},
		{"upper_bush", span{40, 60}, legs, ""},
		{"lower_bush", span{tubes - 78, tubes - 48}, legs, ""},
		{"shock_upper", span{60, 110}, legs, "in the legs"},
	}
	p.angle = span{-0.15, 0.15}
	return p
}
