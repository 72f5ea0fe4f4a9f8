package draft

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// span is what a coordinate in mm, or an angle in rad, may be; low = high where it is fixed.
type span struct{ low, high float64 }

// at is a span of one value, around one of a width to either side.
func at(x float64) span            { return span{x, x} }
func around(x, width float64) span { return span{x - width, x + width} }

func (s span) middle() float64 { return (s.low + s.high) / 2 }

// place is where a point of the mechanism may be at top-out, in the fork frame.
type place struct {
	point        string
	along, ahead span
	why          string
}

// lane is how far beside the mid-plane the parts of a body lie, in mm.
type lane struct {
	body string
	mm   float64
}

// plan is how a mechanism is placed on a bike.
type plan struct {
	about     string // the mechanism in a few words
	shocks    int
	ratio     float64 // mean leverage ratio
	ratios    span    // of all mechanisms of a job, see common
	sizes     []shock
	lanes     []lane
	legs      bool // its springs are in its legs
	oneSided  []string
	shafts    [][2]string // pivots, each with the kind of its shaft
	shockLane float64     // of two shocks
	places    []place
	angle     span // direction from the shock's upper to its lower eye, rad from along towards ahead
	off       []off
	strut     *strut // in place of the head tube
}

// off is a default limit that does not suit the mechanism.
type off struct{ measure, why string }

// strut is a tube of the frame, by its ends.
type strut struct{ from, to [2]float64 }

// recipes place the built-in mechanisms.
var recipes = []struct {
	mechanism string
	plan      func(*Bike) plan
}{
	{"girder", girder},
	{"girder-rocker", girderRocker},
	{"leading-arm", leadingArm},
	{"leading-arm-floating-brake", leadingArmFloatingBrake},
	{"low-four-bar", lowFourBar},
	{"six-bar", sixBar},
	{"telescopic", telescopic},
	{"telescopic-link", telescopicLink},
	{"trailing-arm", trailingArm},
	{"trailing-arm-floating-brake", trailingArmFloatingBrake},
	{"wishbone", wishbone},
}

// Mechanisms are those that jobs can be drafted for.
func Mechanisms() (all []string) {
	for i := range recipes {
		all = append(all, recipes[i].mechanism)
	}
	return all
}

// Together reports why some built-in mechanisms cannot share a job; nil where they can.
func Together(mechanisms []string, b *Bike) error {
	first := planFor(mechanisms[0], b)
	for i, name := range mechanisms {
		p := planFor(name, b)
		switch {
		case slices.Contains(mechanisms[:i], name):
			return fmt.Errorf("%s is named twice", name)
		case p.legs != first.legs:
			return fmt.Errorf("%s and %s cannot share a job: one has its springs in the legs, the other a shock between its links", mechanisms[0], name)
		case (p.strut == nil) != (first.strut == nil):
			return fmt.Errorf("%s and %s cannot share a job: one turns in a head tube, the other on ball joints at a strut", mechanisms[0], name)
		}
	}
	return nil
}

// common is what a job says once for all its mechanisms: any of their shocks, ratios that suit each, and no default limit
// that does not suit one.
func common(plans []plan) plan {
	all := plans[0]
	all.ratios, all.sizes, all.off = at(all.ratio), slices.Clone(all.sizes), slices.Clone(all.off)
	for _, p := range plans[1:] {
		all.ratios = span{math.Min(all.ratios.low, p.ratio), math.Max(all.ratios.high, p.ratio)}
		for _, s := range p.sizes {
			if !slices.Contains(all.sizes, s) {
				all.sizes = append(all.sizes, s)
			}
		}
		for _, o := range p.off {
			if !slices.ContainsFunc(all.off, func(k off) bool { return k.measure == o.measure }) {
				all.off = append(all.off, o)
			}
		}
	}
	slices.SortFunc(all.sizes, func(a, b shock) int { return cmp.Compare(a.stroke, b.stroke) })
	return all
}

// planFor is the plan of a mechanism among those that Mechanisms lists.
func planFor(mechanism string, b *Bike) plan {
	return recipes[slices.Index(Mechanisms(), mechanism)].plan(b)
}
