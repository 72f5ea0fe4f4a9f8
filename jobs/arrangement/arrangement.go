// Package arrangement places a topology on a bike: where its points may be at top-out and in which lanes beside the
// mid-plane its bodies lie, from a few lengths of the bike. It knows nothing of job files.
package arrangement

import (
	"math"
	"slices"

	"forkfront/kinematics/scheme"
	"forkfront/kinematics/topology"
)

// Bike has the lengths of a bike that decide where a fork has room, in mm.
type Bike struct {
	AxleToCrownMM      float64
	ForkOffsetMM       float64
	WheelRadiusMM      float64
	TravelMM           float64
	HeadTubeDiameterMM float64
	HubWidthMM         float64
}

// Kind is where around the wheel a linkage is.
type Kind string

// Kinds of arrangements.
const (
	High     Kind = "high"     // ahead of the head tube, above the tyre at full travel; one shock in the mid-plane
	Low      Kind = "low"      // beside the wheel, pivots on the ground behind the axle; two shocks outside
	Trailing Kind = "trailing" // the same, pivots on the ground ahead of the axle
)

// Kinds lists them.
var Kinds = []Kind{High, Low, Trailing}

// Span is what a coordinate in mm, or an angle in rad, may be; Low = High where it is fixed.
type Span struct{ Low, High float64 }

// Place is where a point may be at top-out, in the fork frame.
type Place struct{ Along, Ahead Span }

// Plan is a topology placed on a bike.
type Plan struct {
	Places           map[string]Place // of the points that a search places: all but axle and lower eye
	ShockAngle       Span             // rad, from the upper to the lower eye, positive from along towards ahead
	Shocks           int
	HalfWidthMM      map[string]float64   // by body
	LanesMM          map[string][]float64 // half widths that a search may choose from instead, of the bodies that have several
	OneSided         []string             // bodies on the side of the brake only
	ShockHalfWidthMM float64
}

// Of places a canonical topology. The reason says why the arrangement does not exist for it; it is empty where it
// does.
func Of(t *topology.Topology, kind Kind, b *Bike) (plan *Plan, reason string) {
	if kind == High && t.Duties().Guide == 2 && t.Slide < 0 {
		return nil, "a single arm that guides the axle would run through the tyre"
	}
	z := zonesOf(kind, b)
	p := &Plan{Places: map[string]Place{scheme.PointRoot: z.root}, Shocks: z.shocks, ShockHalfWidthMM: b.HubWidthMM/2 + outsideMM}
	spec := t.Spec()
	for _, pivot := range spec.Pivots {
		if pivot.Name == scheme.PointAxle {
			continue
		}
		p.Places[pivot.Name] = z.of(pivot.Bodies[0])
	}
	for _, s := range spec.Slides {
		for _, point := range s.Through {
			p.Places[point] = z.of(s.Bodies[0])
		}
	}
	upper := spec.Shock[0]
	p.Places[scheme.PointShockUpper], p.ShockAngle = z.others, Span{-math.Pi, math.Pi}
	if upper == topology.NameGround {
		p.Places[scheme.PointShockUpper], p.ShockAngle = z.eye, z.angle
	}
	p.lanes(t, kind, b)
	return p, ""
}

// zones are the regions in which points of one arrangement may be.
type zones struct {
	root   Place
	ground Place // pivots on the ground
	others Place // all other pivots, and eyes on bodies that move
	eye    Place // upper eye on the ground
	angle  Span  // of a shock with its upper eye on the ground
	shocks int
}

func (z *zones) of(body string) Place {
	if body == topology.NameGround {
		return z.ground
	}
	return z.others
}

// besideHeadMM is from the surface of the head tube to the nearest pivots: half a tube, and clearance.
const besideHeadMM = 17

// zonesOf are the regions by the lengths of the bike. Above the wheel, ground pivots are in a band right ahead of the head tube, behind all
// other pivots: in one region for all, most linkages have tubes that cross.
func zonesOf(kind Kind, b *Bike) zones {
	tyre := b.AxleToCrownMM - b.TravelMM - b.WheelRadiusMM // below the crown race, at full travel
	head := b.HeadTubeDiameterMM / 2
	a, o := b.AxleToCrownMM, b.ForkOffsetMM
	if kind == High {
		return zones{
			root:   at(math.Min(36, tyre-8), 20),
			ground: Place{Span{-180, tyre + 10}, Span{head + besideHeadMM, head + 72}},
			others: Place{Span{-180, tyre + 70}, Span{head + 82, o + b.WheelRadiusMM + 24}},
			eye:    Place{Span{-230, tyre + 10}, Span{head + besideHeadMM, head + 112}},
			angle:  Span{-0.6, 1.2},
			shocks: 1,
		}
	}
	z := zones{
		root:   at(math.Min(36, tyre-8), 0),
		ground: Place{Span{a - 190, a + 20}, Span{o - 250, o - 80}},
		others: Place{Span{a - 150, a + 30}, Span{o - 190, o + 70}},
		eye:    Place{Span{a - 288, a - 128}, Span{o - 188, o - 78}},
		angle:  Span{-0.8, 0.8},
		shocks: 2,
	}
	if kind == Trailing {
		for _, place := range []*Place{&z.ground, &z.others, &z.eye} {
			place.Ahead = Span{2*o - place.Ahead.High, 2*o - place.Ahead.Low}
		}
	}
	return z
}

func at(along, ahead float64) Place {
	return Place{Span{along, along}, Span{ahead, ahead}}
}

// Lanes, as half widths in mm: for the crown and the links on it, then for other parts above the wheel, and what is added to
// half of the hub's width beside it. The leg of a high fork is beside the hub by a tube's radius and far enough from the
// crown's lane that tubes pass each other: both nearer and farther is worse. Shafts bend less where lanes are near to each other.
var aboveMM = []float64{45, 60, 26, 78}

const (
	innerMM   = 14.0 // beside the hub
	legMM     = 22.0 // of a high fork
	middleMM  = 30.0
	outerMM   = 46.0
	brakeMM   = 54.0 // what serves only the caliper of a high fork, outside the leg
	outsideMM = 60.0 // two shocks

	brakeSlideMM = 70.0 // what serves only the caliper of a high fork and slides on what does not, outside the rest that serves it
)

// lanes gives each body its distance from the mid-plane. Above the wheel, links on the crown are in its lane, and others
// take the first one in which no body lies that they are not joined to. Beside it, the ground is innermost, and what serves only the caliper shares the
// middle lane. What serves only the caliper is on the side of the brake. Bodies that slide on each other
// share a lane, as the tubes of one run in those of the other.
func (p *Plan) lanes(t *topology.Topology, kind Kind, b *Bike) {
	p.HalfWidthMM = map[string]float64{}
	lane := make([]float64, t.Bodies)
	beside := b.HubWidthMM / 2
	brake := t.CaliperOnly()
	for body := range t.Bodies {
		switch {
		case kind != High && body == t.Ground:
			lane[body] = beside + innerMM
		case kind != High && body == t.Axle:
			lane[body] = beside + outerMM
		case kind != High:
			lane[body] = beside + middleMM
		case slices.Contains(brake, body):
			lane[body] = beside + brakeMM
		case body == t.Axle:
			lane[body] = beside + legMM
		case body == t.Ground || t.Joined(t.Ground, body):
			lane[body] = aboveMM[0]
		}
	}
	if t.Slide >= 0 {
		on := t.Pivots[t.Slide]
		wide := math.Max(lane[on[0]], lane[on[1]])
		switch {
		case kind != High:
		case slices.Contains(brake, on[0]) != slices.Contains(brake, on[1]):
			wide = beside + brakeSlideMM
		case wide == aboveMM[0] && math.Min(lane[on[0]], lane[on[1]]) == 0: // the second would meet links on the crown
			wide = 0
		}
		lane[on[0]], lane[on[1]] = wide, wide
	}
	for body := range t.Bodies {
		if lane[body] == 0 {
			lane[body] = free(t, body, lane)
			if other := partner(t, body); other >= 0 {
				lane[other] = lane[body]
			}
		}
	}
	p.LanesMM = map[string][]float64{}
	for body := range t.Bodies {
		p.HalfWidthMM[t.Name(body)] = lane[body]
		if choice := lanesOf(t, kind, beside, body); choice != nil {
			p.LanesMM[t.Name(body)] = choice
		}
	}
	for _, body := range brake {
		p.OneSided = append(p.OneSided, t.Name(body))
	}
}

// lanesOf are the lanes that a search may choose from for a body; nil where it has one: the crown, the leg, the carrier, and bodies
// that slide on each other.
func lanesOf(t *topology.Topology, kind Kind, beside float64, body int) []float64 {
	switch {
	case body == t.Ground || body == t.Axle || body == t.Caliper || partner(t, body) >= 0:
		return nil
	case kind != High:
		return []float64{beside + innerMM, beside + middleMM, beside + outerMM}
	case slices.Contains(t.CaliperOnly(), body):
		return []float64{aboveMM[1], aboveMM[3], beside + outerMM, beside + brakeMM}
	}
	return []float64{aboveMM[2], aboveMM[0], aboveMM[1], aboveMM[3]}
}

// partner is the body that a body slides on, or that slides on it; −1: none.
func partner(t *topology.Topology, body int) int {
	if t.Slide < 0 {
		return -1
	}
	switch on := t.Pivots[t.Slide]; body {
	case on[0]:
		return on[1]
	case on[1]:
		return on[0]
	}
	return -1
}

// free is the first lane above the wheel without a body of a lower number, or one with a slide, that is not joined to
// this one or to the body that slides on it; where there is none, the first.
func free(t *topology.Topology, body int, lane []float64) float64 {
	with := partner(t, body)
	for _, mm := range aboveMM {
		taken := false
		for other := range t.Bodies {
			near := t.Joined(body, other) && (with < 0 || other == with || t.Joined(with, other))
			taken = taken || lane[other] == mm && (other < body || partner(t, other) >= 0) && !near
		}
		if !taken {
			return mm
		}
	}
	return aboveMM[0]
}
