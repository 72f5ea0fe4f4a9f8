package simulation

import (
	"math"
	"testing"

	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
)

// A damper whose force does not grow with speed is dry friction: let go, the amplitude falls by 2F/k with every half of a period
// π/ω, in a straight line (the textbooks' Coulomb damping; from memory).
func TestAConstantForceLetsTheAmplitudeFallInAStraightLine(t *testing.T) {
	const a, b, mass, omega, inertia = 6.0, 6.0, 80.0, 10.0, 1000.0
	atFront := (inertia + mass*b*b) / ((a + b) * (a + b))
	const load = mass * ride.Gravity / 2
	rate := atFront * omega * omega
	force := 0.07 * perMM * rate // the amplitude falls by 0.14 mm
	_, s, f := upright(a, b, load/rate/2, mass, inertia, rate, 1)
	f.Adjustment = quarter.Adjustment{
		CompressionNS: force / quarter.ChordMPerS, ReboundNS: force / quarter.ChordMPerS,
		Curve: quarter.NewCurve([]quarter.CurvePoint{{SpeedMPerS: -1, ForceN: -5}, {SpeedMPerS: -1e-6, ForceN: -5}, {SpeedMPerS: 1e-6, ForceN: 5}, {SpeedMPerS: 1, ForceN: 5}}),
	}
	m := NewSimulator()
	m.stepS = 1e-5
	m.set(&s, f)
	var peaks, times [5]float64 // of each half of a period, about its end
	letGo(t, m, 1.41, func(time, moved float64) {
		if i := int(time*omega/math.Pi + 0.5); math.Abs(moved) > peaks[i] {
			peaks[i], times[i] = math.Abs(moved), time
		}
	})
	for i, got := range peaks {
		if want, end := 1-0.14*float64(i), math.Pi/omega*float64(i); math.Abs(got-want) > 0.002 || math.Abs(times[i]-end) > 0.003 {
			t.Errorf("half period %d: %.4f mm at %.4f s, want %.4f mm at %.4f s", i, got, times[i], want, end)
		}
	}
}

// A curve that is a straight line is no curve, and of a curve only the shape counts: clicks set the scale.
func TestOnlyTheShapeOfACurveCounts(t *testing.T) {
	rs, s := cargo()
	m, p := NewSimulator(), NewPlan(s, &rs)
	events := func(curve ...quarter.CurvePoint) (o [2]Outcome) {
		f := floating(&rs).Fork
		if curve != nil {
			f.Curve = quarter.NewCurve(curve)
		}
		m.set(&s, &f)
		m.stop(&o[0], p)
		if why := m.bump(&o[1], p.braked[2], brakeFootM, 8, p.brakingN); why != "" {
			t.Fatal(why)
		}
		return o
	}
	apart := func(a, b [2]Outcome) (most float64) {
		for i := range a {
			for q := range a[i].Values {
				most = math.Max(most, math.Abs(a[i].Values[q]-b[i].Values[q])/(1+math.Abs(a[i].Values[q])))
			}
		}
		return most
	}
	type point = quarter.CurvePoint
	none := events()
	if off := apart(none, events(point{SpeedMPerS: -2, ForceN: -14}, point{SpeedMPerS: 1, ForceN: 7})); off > 1e-6 {
		t.Errorf("a straight line changes values by %g", off)
	}
	bent := events(point{SpeedMPerS: -1, ForceN: -10}, point{SpeedMPerS: 0.1, ForceN: 20}, point{SpeedMPerS: 1, ForceN: 30})
	doubled := events(point{SpeedMPerS: -1, ForceN: -20}, point{SpeedMPerS: 0.1, ForceN: 40}, point{SpeedMPerS: 1, ForceN: 60})
	if off := apart(bent, doubled); off > 1e-6 {
		t.Errorf("twice the forces change values by %g", off)
	}
	if off := apart(bent, none); off < 0.01 {
		t.Errorf("a bent curve changes values by %g only", off)
	}
}

// A damper that blows off in compression passes less of a high bump on than a straight one of the same chord at 0.2 m/s, and
// lets the fork travel further.
func TestABlowOffPassesLessOn(t *testing.T) {
	rs, s := cargo()
	s.Bump.HeightMM = 20
	m, p := NewSimulator(), NewPlan(s, &rs)
	f := floating(&rs).Fork
	bump := func() (o Outcome) {
		m.set(&s, &f)
		if why := m.bump(&o, p.free[1], freeFootM, 5, 0); why != "" {
			t.Fatal(why)
		}
		return o
	}
	straight := bump()
	f.Curve = quarter.NewCurve([]quarter.CurvePoint{{SpeedMPerS: -1, ForceN: -1}, {SpeedMPerS: 0.2, ForceN: 1}, {SpeedMPerS: 5, ForceN: 2}})
	soft := bump()
	if !(soft.Values[HandPeak] < straight.Values[HandPeak] && soft.Values[TravelPct] > straight.Values[TravelPct]) {
		t.Errorf("hands %.3f m/s², travel %.2f %%; straight %.3f, %.2f", soft.Values[HandPeak], soft.Values[TravelPct], straight.Values[HandPeak], straight.Values[TravelPct])
	}
}
