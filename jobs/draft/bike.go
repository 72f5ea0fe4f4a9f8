package draft

import (
	"errors"
	"fmt"
	"math"

	"forkfront/objectives/ride"
)

// Bike is what a job is drafted from. Lengths are in mm, angles in degrees.
type Bike struct {
	Wheel         Wheel
	TravelMM      float64
	HeadAngleDeg  float64
	AxleToCrownMM float64
	OffsetMM      float64
	MassKG        float64 // rider, bike and load
	WheelbaseMM   float64
	HubWidthMM    float64
	LockDeg       float64
}

// Assumed is what a bike has where nothing else is said: common practice, no source.
var Assumed = Bike{OffsetMM: 44, MassKG: 110, WheelbaseMM: 1200, HubWidthMM: 100, LockDeg: 50}

// The frame, and how the bike is loaded and ridden: common practice, no source.
const (
	headTubeTopMM      = -140.0 // along the steering axis from the crown race
	headTubeBottomMM   = -6.0
	headTubeDiameterMM = 56.0
	downTubeDiameterMM = 60.0
	sag                = 0.25   // part of the travel
	frontShare         = 0.4    // part of the weight on the front wheel
	cgHeightMM         = 1000.0 // of rider and bike over the ground
	brakeShare         = 0.7    // part of the braking force at the front wheel
)

// limitOf is the range of a number that a bike is drafted from, by the flag that states it.
type limitOf struct {
	flag      string
	value     float64
	low, high float64
}

// Check reports everything that is impossible about the bike.
func (b *Bike) Check() error {
	var all []error
	for _, l := range []limitOf{
		{"travel", b.TravelMM, 30, 250},
		{"head-angle", b.HeadAngleDeg, 55, 80},
		{"axle-to-crown", b.AxleToCrownMM, 250, 800},
		{"offset", b.OffsetMM, 0, 100},
		{"mass", b.MassKG, 40, 500},
		{"wheelbase", b.WheelbaseMM, 800, 2500},
		{"hub-width", b.HubWidthMM, 70, 160},
		{"lock", b.LockDeg, 20, 80},
	} {
		if !(l.value >= l.low && l.value <= l.high) {
			all = append(all, fmt.Errorf("--%s %g; must be from %g to %g", l.flag, l.value, l.low, l.high))
		}
	}
	if all == nil && b.underCrown() < leastUnderCrownMM {
		all = append(all, fmt.Errorf("--axle-to-crown %g; at full travel the tyre would be %.0f mm below the crown race, where a crown needs %g mm: give at least %.0f for this wheel and travel",
			b.AxleToCrownMM, b.underCrown(), leastUnderCrownMM, math.Ceil(b.AxleToCrownMM+leastUnderCrownMM-b.underCrown())))
	}
	return errors.Join(all...)
}

const (
	leastUnderCrownMM = 28.0 // from the crown race to the tyre at full travel, for a crown of 20 mm
	clearMM           = 5.0  // limit on the clearance of parts
	hubClearMM        = 1.0  // the same beside hub and rotor
	besideHeadMM      = 17.0 // from the head tube's surface to the pivots ahead of it: half a tube, and clearance
)

// underCrown is the distance from the crown race to the top of the tyre at full travel, along the steering axis.
func (b *Bike) underCrown() float64 { return b.AxleToCrownMM - b.TravelMM - b.Wheel.RadiusMM }

// tyreTop is how far down the steering axis the tyre begins at full travel, at a distance ahead of the axis within the
// wheel.
func (b *Bike) tyreTop(ahead float64) float64 {
	r, x := b.Wheel.RadiusMM, ahead-b.OffsetMM
	return b.AxleToCrownMM - b.TravelMM - math.Sqrt(r*r-x*x)
}

// frontLoad is the static load on the front wheel in N.
func (b *Bike) frontLoad() float64 { return b.MassKG * ride.Gravity * frontShare }

// tubeMM is about the radius of a tube beside the wheel. The section modulus of a tube is proportional to the cube of
// its radius, its bending moment to weight times lever. In the examples, 170 kg on a wheel of 258 mm need 14.5 mm.
func (b *Bike) tubeMM() float64 { return 14.5 * math.Cbrt(b.MassKG*b.Wheel.RadiusMM/(170*258)) }

// braking is the deceleration of a hard stop, in g, below the limit of pitch-over.
func (b *Bike) braking() float64 {
	return math.Min(0.5, math.Floor(90*b.toCG()/cgHeightMM)/100)
}

// toCG is the distance of the centre of gravity behind the front axle.
func (b *Bike) toCG() float64 { return math.Round((1 - frontShare) * b.WheelbaseMM) }

// bottomBracket is where a down tube from start ends, in the fork frame: 440 mm ahead of the rear axle and at about the
// height of the axles (common practice, no source), or as far back as the tyre needs to clear the tube at full travel.
func (b *Bike) bottomBracket(start [2]float64) [2]float64 {
	sin, cos := math.Sincos(b.HeadAngleDeg * math.Pi / 180)
	up := math.Max(b.Wheel.RadiusMM-15, 280) - b.Wheel.RadiusMM // over the front axle
	clear := b.Wheel.RadiusMM + downTubeDiameterMM/2 + 3*clearMM + 0.2*b.TravelMM
	for back := math.Min(math.Max(b.WheelbaseMM-440, 600), 760); ; back += 10 {
		end := [2]float64{b.AxleToCrownMM - back*cos - up*sin, b.OffsetMM - back*sin + up*cos}
		if back > 900 || distance([2]float64{b.AxleToCrownMM - b.TravelMM, b.OffsetMM}, start, end) >= clear {
			return end
		}
	}
}

// distance is that of a point from a segment.
func distance(p, from, to [2]float64) float64 {
	x, y := to[0]-from[0], to[1]-from[1]
	on := math.Max(0, math.Min(1, ((p[0]-from[0])*x+(p[1]-from[1])*y)/(x*x+y*y)))
	return math.Hypot(p[0]-from[0]-on*x, p[1]-from[1]-on*y)
}
