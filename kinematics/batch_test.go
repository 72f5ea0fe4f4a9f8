package kinematics

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
	"forkfront/kinematics/topology"
)

// All samples side by side against the walk from sample to sample, on random forks: the same states,
// and the batch gives way wherever the walk finds a fault.
func TestBatchAgreesWithTheContinuation(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	c := cargo()
	telescope := func(*rand.Rand) map[string][2]float64 {
		return map[string][2]float64{"upper_bush": {100, 38}, "lower_bush": {300, 38 + 40*r.Float64()}, "shock_upper": {0, 0}, "shock_lower": {400, 30}, "root": {25, 0}}
	}
	for _, kind := range []struct {
		spec   scheme.MechanismSpec
		random func(*rand.Rand) map[string][2]float64
	}{{girderSpec, randomGirder}, {floatingSpec, randomFloating}, {telescopicSpec, telescope}} {
		m := mustCompile(t, kind.spec)
		aside, stopped := 0, 0
		for range 400 {
			layout := laidOut(m, c, kind.random(r))
			samples := []int{2, 3, 12, 33, 50}[r.IntN(5)]
			c.Level = r.IntN(2) == 0
			var swept Motion
			swept.Sweep(m, c, layout, 100, samples)
			walked, ok := walk(t, &swept, m, c, layout, 100)
			if !ok {
				continue
			}
			if walked.Fault != "" {
				stopped++
				continue
			}
			if swept.batch.plain {
				aside++
			}
		}
		t.Logf("%s: %d side by side, %d stop short", m.Name, aside, stopped)
		if aside < 100 {
			t.Errorf("%s: %d forks only were solved side by side", m.Name, aside)
		}
	}
}

// The same where vector loops are solved: linkages of every kind, and topologies of six and eight bodies with their points drawn at random.
// What Solve gives between samples is the walk's to the same accuracy.
func TestLoopsOfAllSamplesAgreeWithTheContinuation(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	c := cargo()
	solved, walked, stopped := 0, 0, 0
	check := func(m *mechanism.Mechanism, layout []plane.Vec[float64]) {
		travel := 20 + 60*r.Float64()
		var swept Motion
		swept.Sweep(m, c, layout, travel, []int{9, 33, 50}[r.IntN(3)])
		alone, ok := walk(t, &swept, m, c, layout, travel)
		switch {
		case !ok || m.OnlyDyads():
			return
		case swept.Fault != "":
			stopped++
			return
		case !swept.loops.solved:
			walked++
			return
		}
		solved++
		var a, b stance.State[float64]
		at := travel * r.Float64()
		if !swept.Solve(&a, nil, at) || !alone.Solve(&b, nil, at) {
			t.Fatalf("%s: no state at %g mm", m.Name, at)
		}
		sameState(t, &a, &b)
	}
	for i := range kinds {
		k := &kinds[i]
		m := mustCompile(t, k.spec)
		for n := range 20 {
			check(m, laidOut(m, c, k.drawn(r, 2*float64(n))))
		}
	}
	for _, code := range []string{
		"c1-c2-13-1l-24-34-4l+c2", "c1-c2-13-14-2l-3l-4l+3l", "c1-c2-s13-14-2l-3l-4l+cl", "c1-c2-13-1l-s24-34-4l+13", "sc1-c2-13-1l-24-34-4l+cl",
		"c1-c2-13-14-23-25-46-4l-56-5l+1l", "c1-c2-13-14-25-26-35-36-3l-4l+4l", "c1-c2-13-14-25-2l-35-3l-4b-lb+2b",
		"c1-c2-13-1l-24-35-36-45-46-4l+14", "c1-c2-13-14-2l-35-3l-45-56-l6+56", "c1-c2-13-14-25-35-46-4l-56-5l+23",
	} {
		top, err := topology.Parse(code)
		if err != nil {
			t.Fatal(err)
		}
		m := mustCompile(t, top.Spec())
		if m.LargestGroup() == 0 {
			t.Errorf("%s is solved by dyads", code)
		}
		for range 20 {
			layout := make([]plane.Vec[float64], len(m.Points))
			for i := range layout {
				layout[i] = plane.Vec[float64]{Along: -200 + 600*r.Float64(), Ahead: -200 + 400*r.Float64()}
			}
			layout[m.Axle()] = plane.Vec[float64]{Along: c.AxleToCrownMM, Ahead: c.ForkOffsetMM}
			check(m, layout)
		}
	}
	t.Logf("%d side by side, %d walked, %d stop short", solved, walked, stopped)
	if solved < 200 || walked > solved/8 {
		t.Errorf("%d linkages were solved side by side, %d were not", solved, walked)
	}
}

// walk sweeps from sample to sample what was swept side by side, and compares both. It is false where a linkage cannot be assembled.
func walk(t *testing.T, swept *Motion, m *mechanism.Mechanism, c *stance.Chassis, layout []plane.Vec[float64], travel float64) (*Motion, bool) {
	t.Helper()
	samples := len(swept.States)
	walked := &Motion{attitude: c.Attitude(), States: make([]stance.State[float64], samples)}
	if walked.link.set(m, layout) != "" {
		return nil, false
	}
	walked.walk(travel, samples, "")
	if walked.Fault != swept.Fault || walked.ReachedMM != swept.ReachedMM {
		t.Fatalf("%s: %q at %g, walked %q at %g", m.Name, swept.Fault, swept.ReachedMM, walked.Fault, walked.ReachedMM)
	}
	if walked.Fault == "" {
		for i := range walked.States {
			sameState(t, &swept.States[i], &walked.States[i])
		}
	}
	return walked, true
}

// sameState compares all numbers of two states: mm to 1e-9, rates to 1e-8, since either takes them up to
// sameRates away from the sample, which near a dead point tells more than elsewhere. The radius of the
// wheel magnifies the contact point's.
func sameState(t *testing.T, a, b *stance.State[float64]) {
	t.Helper()
	pairs := [][3]float64{
		{a.TravelMM, b.TravelMM, 1e-12},
		{a.Along, b.Along, 1e-9},
		{a.Ahead, b.Ahead, 1e-9},
		{a.OffsetMM, b.OffsetMM, 1e-9},
		{a.TrailMM, b.TrailMM, 1e-9},
		{a.WheelbaseMM, b.WheelbaseMM, 1e-9},
		{a.ShockMM, b.ShockMM, 1e-9},
		{a.AheadRate, b.AheadRate, 1e-8},
		{a.SinHead, b.SinHead, 1e-8},
		{a.CosHead, b.CosHead, 1e-8},
		{a.SinSteer, b.SinSteer, 1e-9},
		{a.CosSteer, b.CosSteer, 1e-9},
		{a.VX, b.VX, 1e-8},
		{a.VZ, b.VZ, 1e-8},
		{a.BrakeRate, b.BrakeRate, 1e-8},
		{a.ContactVX, b.ContactVX, 1e-6},
		{a.ShockRate, b.ShockRate, 1e-8},
		{a.SineMin, b.SineMin, 1e-9},
		{a.Drive.Cos, b.Drive.Cos, 1e-10},
		{a.Drive.Sin, b.Drive.Sin, 1e-10},
		{a.Drive.Way, b.Drive.Way, 1e-9},
	}
	for k := range a.Pose {
		p, q, v, w := a.Pose[k], b.Pose[k], a.Rate[k], b.Rate[k]
		pairs = append(pairs, [][3]float64{
			{p.At.Along, q.At.Along, 1e-9},
			{p.At.Ahead, q.At.Ahead, 1e-9},
			{p.Cos, q.Cos, 1e-10},
			{p.Sin, q.Sin, 1e-10},
			{v.At.Along, w.At.Along, 1e-8},
			{v.At.Ahead, w.At.Ahead, 1e-8},
			{v.Turn, w.Turn, 1e-8},
		}...)
	}
	for i, p := range pairs {
		if size := math.Max(1, math.Abs(p[1])); !(math.Abs(p[0]-p[1]) <= p[2]*size) {
			t.Fatalf("number %d at %g mm: %.14g side by side, %.14g walked", i, b.TravelMM, p[0], p[1])
		}
	}
}

// A Hermite polynomial through n points gives a polynomial of degree 2n − 1 exactly.
func TestStencilsAreExactForPolynomials(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 200 {
		n := 1 + r.IntN(stencilNodes)
		var coefficients []float64
		for range 2 * n {
			coefficients = append(coefficients, r.NormFloat64())
		}
		of := func(x float64) (value, rate float64) {
			for i := len(coefficients) - 1; i >= 0; i-- {
				value, rate = value*x+coefficients[i], rate*x+value
			}
			return value, rate
		}
		nodes, sum := make([]float64, n), 0.0
		for i := range nodes {
			nodes[i] = float64(i)/float64(n) + 0.1*r.Float64()/float64(n)
		}
		x := r.Float64()
		var value, rate [stencilNodes]float64
		hermite(nodes, x, value[:], rate[:])
		for i, at := range nodes {
			f, d := of(at)
			sum += value[i]*f + rate[i]*d
		}
		if want, _ := of(x); math.Abs(sum-want) > 1e-8 { // rounding, magnified by the weights
			t.Fatalf("%d nodes: %.12g, want %.12g", n, sum, want)
		}
	}
}

// Every sample is predicted once, from samples that are known by then.
func TestStagesCoverAllSamples(t *testing.T) {
	for samples := 2; samples < 70; samples++ {
		known := map[int]bool{0: true}
		for _, stage := range newStages(samples) {
			for i, sample := range stage.samples {
				for _, k := range stage.from[i].nodes {
					if !known[k] {
						t.Fatalf("%d samples: %d follows from %d, which is not known yet", samples, sample, k)
					}
				}
			}
			for _, sample := range stage.samples {
				if known[sample] {
					t.Fatalf("%d samples: %d twice", samples, sample)
				}
				known[sample] = true
			}
		}
		if len(known) != samples {
			t.Fatalf("%d samples: %d solved", samples, len(known))
		}
	}
}
