package loads

import "math"

// Stance is where in its travel a fork is loaded.
type Stance int

// Stances of load cases.
const (
	TopOut Stance = iota
	AtSag
	FullTravel
	Stances // how many there are
)

// Case is one way in which a fork is loaded; its forces act together. Those named Static are multiples of the static
// load on the front wheel.
type Case struct {
	Name           string
	At             Stance
	VerticalStatic float64 // up at the contact point, in static front loads
	TyreFriction   float64 // hard braking with the front brake alone: the tyre's grip; 0: not braking
	RearwardN      float64 // back at the axle, perpendicular to the steering axis
	SideStatic     float64 // sideways at the contact point, in static front loads

	Test *Test // whose load it is, in place of those above; nil: none
}

// DefaultCases are common practice at concept stage, without a source: landing at full travel, hard
// braking at sag and at full travel, a rearward force, a side load.
func DefaultCases() []Case {
	return []Case{
		{Name: "landing", At: FullTravel, VerticalStatic: 3},
		{Name: "braking at sag", At: AtSag, TyreFriction: 1},
		{Name: "braking at full travel", At: FullTravel, TyreFriction: 1},
		{Name: "rearward push", At: TopOut, RearwardN: 1200},
		{Name: "side load", At: AtSag, SideStatic: 0.3},
	}
}

// Over is by which factor the forces of a load case are those of another one on any fork; 0 where that is not so, or not known.
func (l *Case) Over(other *Case) float64 {
	mine, ok := l.given()
	theirs, too := other.given()
	if !ok || !too || l.At != other.At {
		return 0
	}
	dot, square, own := 0.0, 0.0, 0.0
	for i, x := range mine {
		dot += x * theirs[i]
		square += theirs[i] * theirs[i]
		own += x * x
	}
	if by := dot / square; by > 0 && math.Abs(dot*dot-square*own) <= 1e-14*square*own {
		return by
	}
	return 0
}

// given are the forces in N of a load case that are the same on any fork: rearward, along, and what a brake holds by its arm, or by
// the wheel's radius. It is false where there are others.
func (l *Case) given() (forces [4]float64, ok bool) {
	t := l.Test
	if t == nil {
		return [4]float64{l.RearwardN}, l.RearwardN != 0 && l.VerticalStatic == 0 && l.TyreFriction == 0 && l.SideStatic == 0
	}
	forces = [4]float64{t.RearwardN, t.AlongN}
	switch {
	case t.Braked && t.BrakeArmMM == 0:
		forces[3] = t.RearwardN
	case t.Braked:
		forces[2] = t.RearwardN * t.BrakeArmMM
	}
	return forces, true
}
