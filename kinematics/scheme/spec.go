package scheme

// MechanismSpec is a mechanism as its file states it: names only, no coordinates. Compile turns
// it into a Mechanism or says what is wrong with it.
type MechanismSpec struct {
	Name     string
	Ground   string      // the body that does not move
	Steering []string    // empty or ["ground"]: all of it turns with the steerer; else the lower and the upper ball
	Bodies   []string    // ground included
	Pivots   []PivotSpec // in the order of the file
	Slides   []SlideSpec
	Shafts   []ShaftSpec // where the body that a shaft is fixed to is stated
	Axle     string      // body that carries the wheel axle
	Brake    string      // body that carries the caliper; empty: the axle's body
	Shock    [2]string   // bodies that carry shock_upper and shock_lower; empty: no shock
	Members  []MemberSpec
	Least    bool `json:",omitempty"` // bodies without Members have the shortest tree over their points at top-out
}

// PivotSpec is a pin through two or more bodies.
type PivotSpec struct {
	Name   string
	Bodies []string
}

// SlideSpec lets the second body slide, without turning, along a line of the first.
type SlideSpec struct {
	Name    string
	Bodies  [2]string
	Through [2]string // two points of the first body that the line passes through
}

// MemberSpec is a straight member of a body between two of its points.
type MemberSpec struct {
	Body     string
	From, To string
}

// Fault is one thing wrong with a spec: where in it, as a dotted path such as
// "pivots.lower_rear[1]", and what.
type Fault struct {
	Path string
	Text string
}

// Names that a mechanism may not give to its own pivots for another purpose.
const (
	PointAxle       = "axle"
	PointRoot       = "root"
	PointShockUpper = "shock_upper"
	PointShockLower = "shock_lower"
)

// ShaftSpec names the body that a pivot's shaft is fixed to, so that it turns with it.
type ShaftSpec struct{ Pivot, Body string }
