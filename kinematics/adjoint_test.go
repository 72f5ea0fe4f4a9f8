package kinematics

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
)

// Virtual work against the tangent, which differentiates the closure itself, for every point of random
// forks at random travels.
func TestAdjointAgreesWithTheTangent(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	c := cargo()
	for _, kind := range []struct {
		spec   scheme.MechanismSpec
		random func(*rand.Rand) map[string][2]float64
	}{{girderSpec, randomGirder}, {floatingSpec, randomFloating}} {
		m := mustCompile(t, kind.spec)
		checked := 0
		for range 60 {
			layout := laidOut(m, c, kind.random(r))
			var mo Motion
			var pl Adjoint
			mo.Sweep(m, c, layout, 100, 33)
			if mo.Fault != "" {
				continue
			}
			var s stance.State[float64]
			if travel := 100 * r.Float64(); !mo.Solve(&s, nil, travel) {
				t.Fatal("no state")
			}
			if !pl.Set(&mo) || !pl.HasSine() {
				continue // the driver turns back on the way
			}
			rows := make([]Sensitivity, len(m.Points))
			pl.Sensitivities(rows, &s)
			wish := stance.Quantities{Ahead: r.NormFloat64(), AheadRate: r.NormFloat64(), BrakeRate: r.NormFloat64(), ShockMM: r.NormFloat64(), ShockRate: r.NormFloat64()}
			sum, sine := make([]plane.Vec[float64], len(m.Points)), make([]plane.Vec[float64], len(m.Points))
			pl.Sine(sine, &s)
			pl.Add(sum, &s, &wish)
			for point := range m.Points {
				for k := range 2 {
					d := tangentOf(&mo, m, layout, &s, point, k)
					pick := func(v plane.Vec[float64]) float64 { return [2]float64{v.Along, v.Ahead}[k] }
					row := [2]stance.Quantities{rows[point].Along, rows[point].Ahead}[k]
					got := [6]float64{row.Ahead, row.AheadRate, row.BrakeRate, row.ShockMM, row.ShockRate, pick(sine[point])}
					total := 0.0
					for i, w := range [6]float64{wish.Ahead, wish.AheadRate, wish.BrakeRate, wish.ShockMM, wish.ShockRate, 0} {
						total += w * d[i]
						if math.Abs(got[i]-d[i]) > 1e-9*(1+math.Abs(d[i])) { // rounding
							t.Fatalf("%s: number %d by %s, coordinate %d: %.12g, tangent %.12g", m.Name, i, m.Points[point], k, got[i], d[i])
						}
					}
					if math.Abs(pick(sum[point])-total) > 1e-9*(1+math.Abs(total)) {
						t.Fatalf("%s: weighted sum by %s: %.12g, tangent %.12g", m.Name, m.Points[point], pick(sum[point]), total)
					}
					checked++
				}
			}
		}
		if checked < 100 {
			t.Errorf("%s: %d checked only", m.Name, checked)
		}
	}
}

// The same from vector loops against the tangent, for every kind of step, and against virtual work in dyads.
func TestAdjointOfLoopsAgreesWithTheTangent(t *testing.T) {
	r := rand.New(rand.NewPCG(115, 16))
	checked := map[bool]int{} // by whether the adjoint is that of dyads
	every(t, 20, func(t *testing.T, m *mechanism.Mechanism, _ *stance.Chassis, layout []plane.Vec[float64], mo *Motion) {
		var s stance.State[float64]
		var by Adjoint
		if travel := kindTravel * r.Float64(); !mo.Solve(&s, nil, travel) {
			t.Fatal("no state")
		}
		if m.Ball(0).Body >= 0 {
			return
		}
		rows, virtual := make([]Sensitivity, len(m.Points)), make([]Sensitivity, len(m.Points))
		if !by.Set(mo) {
			t.Fatal("not supported")
		}
		by.Sensitivities(virtual, &s)
		checked[by.dyads]++
		if by.dyads && !by.loops.set(mo) {
			t.Fatal("no loops")
		}
		by.dyads = false
		by.Sensitivities(rows, &s)
		for point := range m.Points {
			if point == m.Axle() {
				continue // it is the bike's
			}
			for k := range 2 {
				want := tangentOf(mo, m, layout, &s, point, k)
				row := [2]stance.Quantities{rows[point].Along, rows[point].Ahead}[k]
				work := [2]stance.Quantities{virtual[point].Along, virtual[point].Ahead}[k]
				of := func(q *stance.Quantities) [5]float64 {
					return [5]float64{q.Ahead, q.AheadRate, q.BrakeRate, q.ShockMM, q.ShockRate}
				}
				for i, got := range of(&row) {
					// Rounding, times how ill the positions are told by a group that is hardly held.
					if !(math.Abs(got-want[i]) < 1e-7*(1+math.Abs(want[i]))) || !(math.Abs(got-of(&work)[i]) < 1e-7*(1+math.Abs(got))) {
						t.Fatalf("%s: number %d by %s, coordinate %d: %.12g, virtual work %.12g, tangent %.12g", m.Name, i, m.Points[point], k, got, of(&work)[i], want[i])
					}
				}
			}
		}
	})
	if checked[false] < 60 || checked[true] < 15 {
		t.Errorf("%v checked", checked)
	}
}

// tangentOf are the derivatives of a state's numbers by one coordinate of a point.
func tangentOf(mo *Motion, m *mechanism.Mechanism, layout []plane.Vec[float64], s *stance.State[float64], point, coordinate int) [6]float64 {
	d := followed(mo, m, layout, s, point, coordinate, 0)
	return [6]float64{imag(d.Ahead) / tiny, imag(d.AheadRate) / tiny, imag(d.BrakeRate) / tiny, imag(d.ShockMM) / tiny, imag(d.ShockRate) / tiny, imag(d.SineMin) / tiny}
}

// tiny is the step of complex derivatives.
const tiny = 1e-40

// followed is the tangent of a state along one coordinate of a point, and travel on the way.
func followed(mo *Motion, m *mechanism.Mechanism, layout []plane.Vec[float64], s *stance.State[float64], point, coordinate int, travel float64) *stance.State[complex128] {
	moved := make([]plane.Vec[complex128], len(layout))
	for i, p := range layout {
		moved[i] = plane.Vec[complex128]{Along: complex(p.Along, 0), Ahead: complex(p.Ahead, 0)}
	}
	if coordinate == 0 {
		moved[point].Along += complex(0, tiny)
	} else {
		moved[point].Ahead += complex(0, tiny)
	}
	var sh Tangent
	var d stance.State[complex128]
	sh.Set(mo, m, moved)
	sh.Differentiate(&d, nil, s, complex(s.TravelMM, travel*tiny))
	return &d
}

// All other numbers of a state follow from a few: Chassis.Differentiate against the tangent, for pitching and
// level bikes, the travel on the move as well.
func TestDerivedQuantitiesAgreeWithTheTangent(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	m := mustCompile(t, girderSpec)
	for range 60 {
		c := cargo()
		c.Level, c.RearRadiusMM = r.IntN(2) == 0, 258+40*r.Float64()
		layout := laidOut(m, c, randomGirder(r))
		var mo Motion
		var pl Adjoint
		var s stance.State[float64]
		var second stance.Second[float64]
		mo.Sweep(m, c, layout, 100, 33)
		if mo.Fault != "" || !mo.Solve(&s, &second, 100*r.Float64()) || !pl.Set(&mo) {
			continue
		}
		rows := make([]Sensitivity, len(m.Points))
		pl.Sensitivities(rows, &s)
		point, travel := m.Point("upper_front"), r.NormFloat64()
		by, on := rows[point].Along, c.QuantityRates(&s, &second)
		by.AddScaled(&on, travel)
		var got stance.State[complex128]
		c.Differentiate(&got, &s, &by, travel, tiny)
		want := followed(&mo, m, layout, &s, point, 0, travel)
		for i, p := range [][2]complex128{
			{got.TravelMM, want.TravelMM},
			{got.Along, want.Along},
			{got.Ahead, want.Ahead},
			{got.AheadRate, want.AheadRate},
			{got.SinHead, want.SinHead},
			{got.CosHead, want.CosHead},
			{got.SinSteer, want.SinSteer},
			{got.CosSteer, want.CosSteer},
			{got.OffsetMM, want.OffsetMM},
			{got.TrailMM, want.TrailMM},
			{got.WheelbaseMM, want.WheelbaseMM},
			{got.VX, want.VX},
			{got.VZ, want.VZ},
			{got.BrakeRate, want.BrakeRate},
			{got.ContactVX, want.ContactVX},
			{got.ShockMM, want.ShockMM},
			{got.ShockRate, want.ShockRate},
		} {
			a, b := imag(p[0])/tiny, imag(p[1])/tiny
			if math.Abs(a-b) > 1e-9*(1+math.Abs(b)) || math.Abs(real(p[0])-real(p[1])) > 1e-9*(1+math.Abs(real(p[1]))) { // rounding
				t.Fatalf("number %d: %g and %.12g, tangent %g and %.12g", i, real(p[0]), a, real(p[1]), b)
			}
		}
		by = rows[point].Along
		c.Differentiate(&got, &s, &by, 0, tiny)
		w := c.Weights(&s, 0.7, -0.3)
		weighed := w.Ahead*by.Ahead + w.AheadRate*by.AheadRate + w.BrakeRate*by.BrakeRate
		if sum := (0.7*imag(got.ContactVX) - 0.3*imag(got.VZ)) / tiny; math.Abs(weighed-sum) > 1e-12*(1+math.Abs(sum)) {
			t.Fatalf("weighed %g, want %g", weighed, sum)
		}
	}
}
