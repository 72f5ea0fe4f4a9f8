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

// newton solves all pin equations of a mechanism together, as an independent check of the dyads:
// three unknowns a moving body, the Jacobian by elimination, from a nearby start.
func newton(m *mechanism.Mechanism, layout []plane.Vec[float64], along float64, start []plane.Pose[float64]) ([]plane.Pose[float64], bool) {
	pose := append([]plane.Pose[float64](nil), start...)
	var moving []int
	for b := range m.Bodies {
		if b != m.Ground() {
			moving = append(moving, b)
		}
	}
	n := 3 * len(moving)
	column := func(b int) int {
		for i, x := range moving {
			if x == b {
				return 3 * i
			}
		}
		return -1
	}
	at := func(b, p int) (plane.Vec[float64], plane.Vec[float64]) {
		arm := pose[b].Turned(layout[p].Minus(layout[m.Anchors()[b]]))
		return pose[b].At.Plus(arm), arm
	}
	for range 50 {
		a := make([][]float64, 0, n)
		add := func(b int, row []float64, axis int, sign float64, arm plane.Vec[float64]) {
			if c := column(b); c >= 0 {
				row[c+axis] += sign
				row[c+2] += sign * [2]float64{-arm.Ahead, arm.Along}[axis]
			}
		}
		worst := 0.0
		push := func(row []float64, residual float64) {
			row[n] = -residual
			worst = math.Max(worst, math.Abs(residual))
			a = append(a, row)
		}
		for _, j := range m.JointList() {
			if j.Slides() {
				// Neither turns against the other, and the point of b that lay on the line stays on it.
				ta, tb := pose[j.A], pose[j.B]
				row := make([]float64, n+1)
				for body, sign := range map[int]float64{j.A: -400, j.B: 400} {
					if c := column(body); c >= 0 {
						row[c+2] += sign
					}
				}
				push(row, 400*(tb.Sin*ta.Cos-tb.Cos*ta.Sin))
				pa, ra := at(j.A, j.Through[0])
				pb, rb := at(j.B, j.Through[0])
				line := layout[j.Through[1]].Minus(layout[j.Through[0]])
				normal := ta.Turned(line.Quarter().Times(1 / math.Hypot(line.Along, line.Ahead)))
				gap := pb.Minus(pa)
				row = make([]float64, n+1)
				if c := column(j.A); c >= 0 {
					row[c] -= normal.Along
					row[c+1] -= normal.Ahead
					row[c+2] += normal.Quarter().Dot(gap) - normal.Dot(ra.Quarter())
				}
				if c := column(j.B); c >= 0 {
					row[c] += normal.Along
					row[c+1] += normal.Ahead
					row[c+2] += normal.Dot(rb.Quarter())
				}
				push(row, normal.Dot(gap))
				continue
			}
			pa, ra := at(j.A, j.Point)
			pb, rb := at(j.B, j.Point)
			gap := pa.Minus(pb)
			for axis, g := range []float64{gap.Along, gap.Ahead} {
				row := make([]float64, n+1)
				add(j.A, row, axis, 1, ra)
				add(j.B, row, axis, -1, rb)
				push(row, g)
			}
		}
		axle, arm := at(m.Wheel(), m.Axle())
		row := make([]float64, n+1)
		add(m.Wheel(), row, 0, 1, arm)
		push(row, axle.Along-along)
		if worst < 1e-11 {
			return pose, true
		}
		d, ok := eliminate(a)
		if !ok {
			return nil, false
		}
		for i, b := range moving {
			turn := pose[b]
			s, c := math.Sincos(d[3*i+2])
			pose[b] = plane.Pose[float64]{At: turn.At.Plus(plane.Vec[float64]{Along: d[3*i], Ahead: d[3*i+1]}), Cos: turn.Cos*c - turn.Sin*s, Sin: turn.Sin*c + turn.Cos*s}
		}
	}
	return pose, true
}

func eliminate(a [][]float64) ([]float64, bool) {
	n := len(a)
	for i := range n {
		p := i
		for r := i; r < n; r++ {
			if math.Abs(a[r][i]) > math.Abs(a[p][i]) {
				p = r
			}
		}
		if math.Abs(a[p][i]) < 1e-12 {
			return nil, false
		}
		a[i], a[p] = a[p], a[i]
		for r := range n {
			if r == i {
				continue
			}
			f := a[r][i] / a[i][i]
			for c := i; c <= n; c++ {
				a[r][c] -= f * a[i][c]
			}
		}
	}
	x := make([]float64, n)
	for i := range n {
		x[i] = a[i][n] / a[i][i]
	}
	return x, true
}

func TestClosedFormAgreesWithNewtonOnAllPins(t *testing.T) {
	c := cargo()
	checked := 0
	for _, kind := range []struct {
		spec scheme.MechanismSpec
		draw func(*rand.Rand) map[string][2]float64
	}{{girderSpec, randomGirder}, {floatingSpec, randomFloating}} {
		m := mustCompile(t, kind.spec)
		r := rand.New(rand.NewPCG(1, 2))
		var mo Motion
		for range 300 {
			layout := laidOut(m, c, kind.draw(r))
			mo.Sweep(m, c, layout, 100, 33)
			if mo.Fault != "" {
				continue
			}
			for i := range mo.States {
				s := &mo.States[i]
				want, ok := newton(m, layout, c.AxleToCrownMM-s.TravelMM, s.Pose)
				if !ok {
					continue
				}
				for b := range want {
					gap := want[b].At.Minus(s.Pose[b].At)
					// 1e-9 mm is what the search's derivatives need.
					if d := math.Hypot(gap.Along, gap.Ahead) + 400*math.Abs(want[b].Sin-s.Pose[b].Sin); d > 1e-9 {
						t.Fatalf("%s at %g mm: body %s is %g mm off", m.Name, s.TravelMM, m.Bodies[b], d)
					}
				}
				checked++
			}
		}
	}
	if checked < 5000 {
		t.Fatalf("only %d states were checked", checked)
	}
}

func TestRatesAgreeWithCentralDifferences(t *testing.T) {
	c := cargo()
	m := mustCompile(t, floatingSpec)
	r := rand.New(rand.NewPCG(3, 4))
	var mo Motion
	checked := 0
	for range 200 {
		mo.Sweep(m, c, laidOut(m, c, randomFloating(r)), 100, 33)
		if mo.Fault != "" {
			continue
		}
		const h = 1e-3
		var low, mid, high stance.State[float64]
		var d stance.Second[float64]
		if !mo.Solve(&low, nil, 40-h) || !mo.Solve(&high, nil, 40+h) || !mo.Solve(&mid, &d, 40) {
			t.Fatal("a fork that moves through does not get to 40 mm")
		}
		turn := func(s *stance.State[float64]) float64 {
			return math.Atan2(s.Pose[m.Brake()].Sin, s.Pose[m.Brake()].Cos)
		}
		for _, x := range []struct {
			what               string
			negligible, lo, hi float64
			scale, absolute    float64
		}{
			{"ahead", mid.AheadRate, low.Ahead, high.Ahead, 1, 1e-7},
			{"brake", mid.BrakeRate, turn(&low), turn(&high), 1, 1e-7},
			{"shock", -mid.ShockRate, low.ShockMM, high.ShockMM, 1, 1e-7},
			{"ahead twice", d.Ahead, low.AheadRate, high.AheadRate, 1, 1e-7},
			{"VZ", d.VZ, low.VZ, high.VZ, 1, 1e-7},
			{"shock twice", d.ShockMM, low.ShockRate, high.ShockRate, 1, 1e-7},
			{"contact", d.ContactVX, low.ContactVX, high.ContactVX, 1, 1e-6},
			{"head angle", d.HeadTurn, low.HeadAngle(), high.HeadAngle(), 1, 1e-7},
		} {
			if got := (x.hi - x.lo) / (2 * h); math.Abs(got-x.negligible) > x.absolute*(1+math.Abs(x.negligible)) {
				t.Fatalf("%s: exact %g, central difference %g", x.what, x.negligible, got)
			}
		}
		checked++
	}
	if checked < 100 {
		t.Fatalf("only %d forks were checked", checked)
	}
}

// Check of a telescopic fork on a pitching chassis: closed form, computed outside the project.
func TestTelescopicTrailOnAPitchingChassis(t *testing.T) {
	c := &stance.Chassis{HeadAngle: 64 * deg, WheelbaseMM: 1250, FrontRadiusMM: 372, RearRadiusMM: 372, AxleToCrownMM: 570, ForkOffsetMM: 44, FrontBrakeShare: 1}
	m := mustCompile(t, telescopicSpec)
	var mo Motion
	mo.Sweep(m, c, laidOut(m, c, map[string][2]float64{"upper_bush": {150, 44}, "lower_bush": {350, 44}, "shock_upper": {100, 44}, "shock_lower": {500, 44}}), 160, 5)
	if mo.Fault != "" {
		t.Fatal(mo.Fault)
	}
	for i, want := range []float64{132.48, 119.90, 107.28, 94.62, 81.91} {
		if got := mo.States[i].TrailMM; math.Abs(got-want) > 0.005 {
			t.Errorf("trail at %g mm: %.4f, want %.2f", mo.States[i].TravelMM, got, want)
		}
		if mo.States[i].ShockRate-1 > 1e-12 || mo.States[i].Ahead != 44 {
			t.Errorf("a telescopic fork has ratio 1 and a straight path, got %g, %g", mo.States[i].ShockRate, mo.States[i].Ahead)
		}
	}
}

// Published rows of the BicycleParameters data set (two-clause BSD, commit
// e061bc9c827787b32602144e2a3d7b841eeae734): radius from rolled distance, head angle, offset, trail.
func TestTrailOfMeasuredBicycles(t *testing.T) {
	for _, row := range [][4]float64{
		{343.530, 67.1, 70.5, 68.581},
		{342.550, 69.0, 45.0, 83.291},
		{330.178, 71.1, 38.5, 72.351},
		{333.839, 74.2, 31.5, 61.730},
		{341.877, 72.7, 56.5, 47.306},
		{350, 72, 32.071, 80}, // benchmark bicycle, Meijaard et al. 2007
	} {
		if got := stance.Trail(row[0], row[2], row[1]*deg); math.Abs(got-row[3]) > 0.01 { // rounding of the radius
			t.Errorf("trail of %v: %.3f", row, got)
		}
	}
}

func TestShortLinksStopWithTheTravelReached(t *testing.T) {
	c := cargo()
	m := mustCompile(t, girderSpec)
	at := map[string][2]float64{
		"lower_rear": {20, 60}, "lower_front": {30, 85}, "upper_rear": {-120, 60}, "upper_front": {-110, 85},
		"shock_upper": {-150, 100}, "shock_lower": {0, 110}, "root": {25, 0},
	}
	var mo Motion
	mo.Sweep(m, c, laidOut(m, c, at), 100, 33)
	if mo.Fault == "" || mo.ReachedMM <= 0 || mo.ReachedMM >= 100 {
		t.Fatalf("links of 27 mm cannot give 100 mm of travel: reached %g, fault %q", mo.ReachedMM, mo.Fault)
	}
	t.Log(mo.ReachedMM, mo.Fault)
}

func BenchmarkGirderSweep(b *testing.B) {
	m, _ := mechanism.Compile(girderSpec)
	c := cargo()
	layout := laidOut(m, c, randomGirder(rand.New(rand.NewPCG(5, 1))))
	var mo Motion
	mo.Sweep(m, c, layout, 100, 33)
	b.ReportAllocs()
	for b.Loop() {
		mo.Sweep(m, c, layout, 100, 33)
	}
}
