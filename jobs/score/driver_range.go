package score

import (
	"fmt"
	"io"
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
)

// driverRange is how far the links of a fork let their driver turn from top-out, disregarding shock, tyre and stops:
// where it ends soon after full travel, a small error in a part is enough to jam. Degrees are positive from along to
// ahead.
type driverRange struct {
	Body       string   `json:"body"`
	FromDeg    float64  `json:"from_deg"`
	ToDeg      float64  `json:"to_deg"`          // 180 and −180 where it turns fully round
	FullTravel *float64 `json:"full_travel_deg"` // null where full travel is not reached
}

// Steps of the driver in degrees: small ones keep to the branch, and refine the end that large ones found.
const (
	largeTurn = 0.25
	SmallTurn = 0.001
	HalfTurn  = 180
)

// RangeOf turns the driver both ways; nil where it slides instead.
func RangeOf(m *mechanism.Mechanism, layout []kinematics.Vec[float64], travelMM float64) *driverRange {
	if !m.DriverTurns() {
		return nil
	}
	r := &driverRange{Body: m.Driver()}
	var tr kinematics.Tracer[float64]
	axle := layout[m.Point(scheme.PointAxle)].Along
	for _, way := range []float64{-1, 1} {
		end := r.turn(&tr, m, layout, way, axle-travelMM)
		if way < 0 {
			r.FromDeg = end
		} else {
			r.ToDeg = end
		}
	}
	return r
}

// turn goes in one direction to the end, and records where the axle first reaches full travel, the nearer of both
// directions.
func (r *driverRange) turn(tr *kinematics.Tracer[float64], m *mechanism.Mechanism, layout []kinematics.Vec[float64], way, full float64) float64 {
	turns := make([]float64, HalfTurn/largeTurn)
	for i := range turns {
		turns[i] = way * largeTurn * float64(i+1) * math.Pi / 180
	}
	path := tr.Trace(nil, m, layout, turns)
	before := layout[m.Point(scheme.PointAxle)].Along
	for i, p := range path {
		if p.Along <= full {
			at := way * largeTurn * (float64(i) + (before-full)/(before-p.Along))
			if r.FullTravel == nil || math.Abs(at) < math.Abs(*r.FullTravel) {
				r.FullTravel = &at
			}
			break
		}
		before = p.Along
	}
	if len(path) == len(turns) {
		return way * HalfTurn
	}
	last := largeTurn * float64(len(path))
	turns = turns[:len(path)]
	for i := 1; float64(i)*SmallTurn < largeTurn; i++ {
		turns = append(turns, way*(last+SmallTurn*float64(i))*math.Pi/180)
	}
	more := tr.Trace(nil, m, layout, turns)
	return way * (last + SmallTurn*float64(len(more)-len(path)))
}

// write prints it as one line.
func (r *driverRange) write(w io.Writer) {
	if r.FromDeg == -HalfTurn && r.ToDeg == HalfTurn {
		fmt.Fprintf(w, "the links allow %s to turn all the way", r.Body)
	} else {
		fmt.Fprintf(w, "the links allow %s to turn from %.1f to %.1f degrees from top-out", r.Body, r.FromDeg, r.ToDeg)
	}
	if r.FullTravel != nil {
		fmt.Fprintf(w, "; full travel is at %.1f", *r.FullTravel)
	}
	fmt.Fprintln(w)
}
