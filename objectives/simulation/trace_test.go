package simulation

import (
	"math"
	"testing"
)

// What a trace shows is what the event's own quantities tell: largest dive and pitch, load variation, largest travel, stop and
// shaft speed, all of which the record reads step by step and on its own.
func TestTracesShowWhatQuantitiesTell(t *testing.T) {
	rs, s := cargo()
	p := NewPlan(s, &rs)
	m := NewSimulator()
	f := &floating(&rs).Fork
	var all Traces
	m.Trace(&all, p, f, AllEvents)
	for i := range Events {
		tr := &all[i]
		if tr.Missing != "" || tr.Rows() < 100 {
			t.Fatalf("%s: %q, %d samples", Events[i].Name, tr.Missing, tr.Rows())
		}
		run := Events[i].one
		if run == nil {
			run = Events[i].run
		}
		var o Outcome
		m.set(&p.Setting, f)
		run(m, &o, p)
		var load, square, n, most, shaft float64
		for k := range tr.Rows() {
			shaft = max(shaft, tr.Values[TraceShaftMPerS][k])
			if tr.Counts[k] {
				off := tr.Values[TraceFrontLoadN][k] - rs.FrontLoadN()
				n, load, square = n+1, load+off, square+off*off
				most = max(most, tr.Values[TraceTravelMM][k])
			}
		}
		near := func(what string, got, want, within float64) {
			if math.Abs(got-want) > within {
				t.Errorf("%s: %s is %.6g, in the trace %.6g", Events[i].Name, what, want, got)
			}
		}
		travels := tr.Values[TraceTravelMM]
		switch i {
		case Stop:
			peak, nose := 0.0, 0.0
			for k := range travels {
				peak, nose = max(peak, travels[k]-travels[0]), max(nose, tr.Values[TracePitchDeg][0]-tr.Values[TracePitchDeg][k])
			}
			near("peak dive", peak, o.Values[PeakDiveMM], 0.02)
			near("pitch", nose, o.Values[PitchDeg], 0.005)
			near("time", float64(tr.Rows()-1)*TraceStepS, stopS, TraceStepS)
		case Drop:
			near("travel", 100*most/rs.TravelMM, o.Values[TravelPct], 0.05)
			near("shaft", shaft, o.Values[ShaftMPerS], 0.01*o.Values[ShaftMPerS])
		default:
			near("load", 100*math.Sqrt(square/n-load*load/n/n)/rs.FrontLoadN(), o.Values[LoadPct], 0.02*o.Values[LoadPct])
			near("travel", 100*most/rs.TravelMM, o.Values[TravelPct], 0.1)
		}
	}
}

// A trace is consistent in itself: it begins at rest under the static load, the damper's force is its speed times one of its two
// coefficients, the speed of the shaft is the slope of the travel over the leverage ratio, and the axle moves along at the
// speed of the event.
func TestTracesAreConsistent(t *testing.T) {
	rs, s := cargo()
	p := NewPlan(s, &rs)
	f := &floating(&rs).Fork
	var all Traces
	NewSimulator().Trace(&all, p, f, AllEvents)
	tr := &all[FreeBump]
	v := &tr.Values
	if load := v[TraceFrontLoadN][0] + v[TraceRearLoadN][0]; math.Abs(load-rs.Chassis.MassKG*9.80665) > 0.1 {
		t.Errorf("the wheels carry %g N at rest", load)
	}
	if x := v[TraceFrontAxleMM]; math.Abs(x[50]-x[0]-s.Bump.FreeMPerS*1e3*50*TraceStepS) > 1 {
		t.Errorf("the axle moves %g mm in 0.1 s", x[50]-x[0])
	}
	compared := 0
	for k := 1; k+1 < tr.Rows(); k++ {
		shaft, force := v[TraceShaftMPerS][k], v[TraceDamperN][k]
		of := f.CompressionNS
		if shaft < 0 {
			of = f.ReboundNS
		}
		if math.Abs(force-of*shaft) > 1e-6*math.Abs(force) {
			t.Fatalf("sample %d: %g N at %g m/s", k, force, shaft)
		}
		if v[TraceTravelMM][k] < 0 || v[TraceTravelMM][k] > rs.TravelMM || math.Abs(shaft) < 0.2 {
			continue
		}
		slope := (v[TraceTravelMM][k+1] - v[TraceTravelMM][k-1]) * perMM / (2 * TraceStepS)
		i := int(v[TraceTravelMM][k] / rs.TravelMM * float64(len(f.Ride.States)-1))
		ratio := 1 / f.Ride.States[i].ShockRate
		compared++
		if math.Abs(slope/shaft/ratio-1) > 0.05 {
			t.Errorf("sample %d: the travel rises by %g m/s, the shaft by %g m/s at a leverage ratio of %g", k, slope, shaft, ratio)
		}
	}
	if compared < 20 {
		t.Errorf("%d slopes compared", compared)
	}
}
