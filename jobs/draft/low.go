package draft

import "math"

// Sides of the axle on which the pivot of an arm is.
const (
	behind = -1.0 // of a leading arm
	before = 1.0  // of a trailing arm
)

// from is the span between two distances from the axle, on one side of it.
func (b *Bike) from(side, near, far float64) span {
	x, y := b.OffsetMM+side*near, b.OffsetMM+side*far
	return span{math.Min(x, y), math.Max(x, y)}
}

// legsMM is the half width of rigid legs: beside the hub and the tyre by the radius of a tube.
func (b *Bike) legsMM() float64 {
	return math.Max(b.HubWidthMM/2+hubClearMM, b.Wheel.TyreWidthMM/2+clearMM) + b.tubeMM()
}

// outsideMM is the half width of what passes outside the legs.
func (b *Bike) outsideMM() float64 { return b.legsMM() + clearMM + 2 + 2*b.tubeMM() }

// arm places the pivot of one arm beside the wheel. An arm swings through the travel by some 25° at most to either
// side, which sets its least length.
func (b *Bike) arm(side float64) place {
	shortest, longest := math.Max(140, 1.3*b.TravelMM), math.Max(240, 2.3*b.TravelMM)
	a, t := b.AxleToCrownMM, b.TravelMM
	return place{"arm_pivot", span{a - 0.7*t - 10, a + 0.1*t + 10}, b.from(side, shortest, longest), "half of the travel above the axle, the path is upright; lower, it leans"}
}

// onArm places the upper eyes of two shocks on an arm whose pivot may be at some distances from the axle.
func (b *Bike) onArm(p *plan, pivot span) place {
	z := b.AxleToCrownMM - b.TravelMM/4
	x := pivot.middle() - (pivot.middle()-b.OffsetMM)/p.ratio
	return place{"shock_upper", span{z - p.eye() - 20, z - 0.75*p.eye()}, around(x, 50), "a shock's length above the arm"}
}

func singleArm(b *Bike, about string, side float64) plan {
	p := plan{about: about}
	b.driven(&p, 2)
	pivot := b.arm(side)
	p.lanes = []lane{{"legs", b.legsMM()}, {"arm", b.legsMM() + 26}}
	p.shockLane = b.legsMM() + 26
	p.places = []place{b.root(25), pivot, b.onArm(&p, pivot.ahead)}
	p.angle = span{-0.5, 0.5}
	return p
}

func leadingArm(b *Bike) plan {
	return singleArm(b, "one leading arm on rigid legs, with the caliper on the arm", behind)
}

func trailingArm(b *Bike) plan {
	p := singleArm(b, "one trailing arm on rigid legs, with the caliper on the arm", before)
	p.off = []off{{"brake_dive_vs_telescopic_mm", "a trailing arm that carries the caliper dives more than a telescopic fork"}}
	return p
}

// floatingBrake places carrier and reaction link on one side, beside the legs and inside the arm.
func floatingBrake(b *Bike, about string, side float64) plan {
	p := plan{about: about}
	b.driven(&p, 2)
	pivot := b.arm(side)
	inside := b.legsMM() + 2
	p.lanes = []lane{{"legs", b.legsMM()}, {"arm", b.outsideMM()}, {"carrier", inside}, {"reaction", inside}}
	p.oneSided = []string{"carrier", "reaction"}
	p.shockLane = b.outsideMM() + 12
	a, length := b.AxleToCrownMM, math.Abs(pivot.ahead.middle()-b.OffsetMM)
	p.places = []place{
		b.root(25), pivot,
		{"carrier_pin", span{a - 108, a - 8}, around(b.OffsetMM, 60), "on the brake's carrier, above the axle"},
		{"reaction_anchor", span{a - 158, a - 8}, b.from(side, 0.35*length, 1.05*length), "on the legs, above the arm"},
		b.onArm(&p, pivot.ahead),
	}
	p.angle = span{-0.5, 0.5}
	return p
}

func leadingArmFloatingBrake(b *Bike) plan {
	return floatingBrake(b, "one leading arm on rigid legs, with the caliper on a carrier held by a reaction link", behind)
}

func trailingArmFloatingBrake(b *Bike) plan {
	return floatingBrake(b, "one trailing arm on rigid legs, with the caliper on a carrier held by a reaction link", before)
}

func lowFourBar(b *Bike) plan {
	p := plan{about: "rigid legs, two short links beside the wheel and a carrier near the axle"}
	b.driven(&p, 2)
	inside := b.legsMM() + 2
	p.lanes = []lane{{"legs", b.legsMM()}, {"lower_link", b.outsideMM()}, {"upper_link", inside}, {"carrier", inside + 2}}
	p.shockLane = b.outsideMM() + 12
	a, t := b.AxleToCrownMM, b.TravelMM
	legs := b.from(behind, math.Max(100, t), math.Max(190, 1.9*t))
	carrier := span{b.OffsetMM - 58, b.OffsetMM + 22}
	p.places = []place{
		b.root(25),
		{"lower_leg", span{a - 0.3*t, a + 0.4*t}, legs, "on the legs, a link's length behind the axle"},
		{"lower_carrier", span{a - 8, a + 0.6*t}, carrier, "near the axle"},
		{"upper_leg", span{a - 158, a - 48}, legs, ""},
		{"upper_carrier", span{a - 138, a - 28}, carrier, "above the axle"},
		b.onArm(&p, legs),
	}
	p.angle = span{-0.4, 0.6}
	return p
}
