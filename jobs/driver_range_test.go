package jobs

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"forkfront/jobs/score"
)

// Norton, Design of Machinery, table P4-1, rows b, n and e (links from memory, toggles recomputed by the
// cosine law): how far the crank turns either way from where it stands.
func TestTheRangeOfTheDriverOfATextbook(t *testing.T) {
	m := linkage(t, "four-bar")
	for _, x := range []struct{ l1, l2, l3, l4, at, low, high float64 }{
		{7, 9, 3, 8, 60, 33.557310, 85.903956},
		{9, 7, 11, 6, 120, 33.557310, 360 - 33.557310},
		{8, 5, 8, 6, 75, -math.MaxFloat64, math.MaxFloat64},
	} {
		r := score.RangeOf(m, laid(m, fourBarAt(x.l1, x.l2, x.l3, x.l4, x.at, 1, 1)), 1e9)
		low, high := max(x.low-x.at, -score.HalfTurn), min(x.high-x.at, score.HalfTurn)
		if math.Abs(r.FromDeg-low) > score.SmallTurn || math.Abs(r.ToDeg-high) > score.SmallTurn || r.FullTravel != nil { // by steps
			t.Errorf("%+v: %g to %g, want %g to %g", x, r.FromDeg, r.ToDeg, low, high)
		}
	}
}

// A single arm turns all the way, and is at full travel where the closed form has it: the axle goes from
// one angle of its circle to another. Sliding tubes do not turn.
func TestTheRangeOfTheDriverOfAnArm(t *testing.T) {
	_, said, errs := command(t, "score", "examples/cargo-arm.yaml", "--json")
	var s score.Scored
	if err := json.Unmarshal([]byte(said), &s); err != nil || s.Driver == nil {
		t.Fatalf("%v: %s", err, errs)
	}
	// Pivot, axle at top-out and travel as the example has them.
	const along, ahead, axleAlong, axleAhead, travel = 400, -200, 408, 38, 100
	if !strings.Contains(fileText(t, "examples/cargo-arm.yaml"), "arm_pivot: [400, -200]") {
		t.Fatal("the example has moved")
	}
	radius := math.Hypot(axleAlong-along, axleAhead-ahead)
	want := (math.Acos((axleAlong-travel-along)/radius) - math.Acos((axleAlong-along)/radius)) / degree
	// 1e-3: linear between steps of a quarter of a degree.
	if d := s.Driver; d.Body != "arm" || d.ToDeg != score.HalfTurn || d.FromDeg != -score.HalfTurn || d.FullTravel == nil || math.Abs(*d.FullTravel-want) > 1e-3 {
		t.Errorf("%+v, want full travel at %g", d, want)
	}
	if _, said, _ := command(t, "score", "examples/cargo-telescopic-link.yaml"); !strings.Contains(said, "the links allow link to turn") {
		t.Errorf("a link that drives sliding tubes is not told of: %s", said)
	}
	if _, said, _ := command(t, "score", "examples/trail-telescopic.yaml"); strings.Contains(said, "the links allow") {
		t.Errorf("a slide turns: %s", said)
	}
}
