package simulation

import (
	"math"
	"testing"

	"forkfront/objectives/ride"
)

// The force on the fork does the work of springs, dampers and nothing else where there is neither friction nor a stop (virtual
// work over the travel), in every event; at rest it is the front load less the weight of the unsprung mass, straight up.
func TestForceOnTheForkBalances(t *testing.T) {
	rs, s := cargo()
	p := NewPlan(s, &rs)
	m := NewSimulator()
	for _, f := range append(randomGirders(t, &rs, 2), floating(&rs), twinLinks(&rs)) {
		f.FrictionN, f.BrakedN = 0, 0
		var all Traces
		m.Trace(&all, p, &f.Fork, AllEvents)
		checked := 0
		for e := range all {
			tr := &all[e]
			if tr.Missing != "" {
				continue
			}
			for i := range tr.Rows() {
				travel := tr.Values[TraceTravelMM][i]
				if travel < 0 || travel > f.Ride.Setting.TravelMM {
					continue
				}
				var at position
				m.linkage.at(&at, travel*perMM)
				along, ahead, torque := tr.Values[TraceForkAlongN][i], tr.Values[TraceForkAheadN][i], tr.Values[TraceBrakeNM][i]
				outside := -along + ahead*at.aheadRate + torque*at.brakeRate
				inside := (ride.SpringForce(f.Ride, at.shock/perMM) + tr.Values[TraceDamperN][i]*float64(f.Ride.Shock.Count)) * at.shockRate
				if math.Abs(outside-inside) > 1e-9*(math.Abs(along)+math.Abs(ahead)+math.Abs(inside)) {
					t.Fatalf("%s, sample %d: %.6f N along the travel, springs and dampers %.6f N", Events[e].Name, i, outside, inside)
				}
				checked++
			}
		}
		if checked < 1000 {
			t.Errorf("only %d samples", checked)
		}
		stop := &all[Stop]
		weight := rs.Chassis.UnsprungFrontKG * ride.Gravity
		size := math.Hypot(stop.Values[TraceForkAlongN][0], stop.Values[TraceForkAheadN][0])
		if want := stop.Values[TraceFrontLoadN][0] - weight; math.Abs(size-want) > 1e-6*want {
			t.Errorf("at rest %.6f N act on the fork, want %.6f", size, want)
		}
	}
}
