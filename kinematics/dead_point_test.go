package kinematics

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
)

// arcLength is an independent continuation: the places and turns of all moving bodies and the travel, 3n + 1
// unknowns, along the equations of all pins and of the axle, in steps of arc length (Keller's pseudo-arclength
// method). It knows nothing of drivers, dyads, loops or branches. Lengths count in units of 100 mm.
type arcLength struct {
	n    int // moving bodies, 3 unknowns each, then the travel
	pins [][3]int
	body []int // unknown of each body's place, by body; −1 for the ground
	at   [][2]float64
	axle [2]int // body, point
	a    [][]float64
	b    []float64
}

const unit = 100 // mm

func newArcLength(m *mechanism.Mechanism, spec *scheme.MechanismSpec, layout []plane.Vec[float64]) *arcLength {
	c := &arcLength{}
	number := map[string]int{}
	for _, name := range spec.Bodies {
		if number[name] = len(c.body); name == spec.Ground {
			c.body = append(c.body, -1)
			continue
		}
		c.body = append(c.body, 3*c.n)
		c.n++
	}
	for _, p := range spec.Pivots {
		for _, other := range p.Bodies[1:] {
			c.pins = append(c.pins, [3]int{number[p.Bodies[0]], number[other], m.Point(p.Name)})
		}
	}
	for _, p := range layout {
		c.at = append(c.at, [2]float64{p.Along / unit, p.Ahead / unit})
	}
	c.axle = [2]int{number[spec.Axle], m.Point(scheme.PointAxle)}
	size := 3*c.n + 1
	c.a, c.b = make([][]float64, size), make([]float64, size)
	for i := range c.a {
		c.a[i] = make([]float64, size+1)
	}
	return c
}

// point is where a point of a body is, and its derivative by the body's turn.
func (c *arcLength) point(y []float64, body, p int) (x, ahead, dx, da float64) {
	px, pa := c.at[p][0], c.at[p][1]
	k := c.body[body]
	if k < 0 {
		return px, pa, 0, 0
	}
	sin, cos := math.Sincos(y[k+2])
	rx, ra := cos*px-sin*pa, sin*px+cos*pa
	return y[k] + rx, y[k+1] + ra, -ra, rx
}

// system fills in the Jacobian and the residual turned round, of 3n equations.
func (c *arcLength) system(y []float64) {
	for i := range c.a {
		clear(c.a[i])
	}
	put := func(row, body int, sign, dx, da float64) {
		if k := c.body[body]; k >= 0 {
			c.a[row][k] += sign
			c.a[row][k+2] += sign * dx
			c.a[row+1][k+1] += sign
			c.a[row+1][k+2] += sign * da
		}
	}
	size := len(c.a)
	for i, p := range c.pins {
		x0, a0, dx0, da0 := c.point(y, p[0], p[2])
		x1, a1, dx1, da1 := c.point(y, p[1], p[2])
		put(2*i, p[0], 1, dx0, da0)
		put(2*i, p[1], -1, dx1, da1)
		c.a[2*i][size], c.a[2*i+1][size] = x1-x0, a1-a0
	}
	row := 2 * len(c.pins)
	x, _, dx, _ := c.point(y, c.axle[0], c.axle[1])
	k := c.body[c.axle[0]]
	c.a[row][k], c.a[row][k+2], c.a[row][size-1] = 1, dx, 1
	c.a[row][size] = c.at[c.axle[1]][0] - y[size-1] - x
}

// eliminated solves the system with a last row of the caller's.
func (c *arcLength) eliminated(last []float64, right float64) ([]float64, bool) {
	n := len(c.a)
	copy(c.a[n-1], last)
	c.a[n-1][n] = right
	for i := range n {
		best := i
		for r := i + 1; r < n; r++ {
			if math.Abs(c.a[r][i]) > math.Abs(c.a[best][i]) {
				best = r
			}
		}
		c.a[i], c.a[best] = c.a[best], c.a[i]
		if c.a[i][i] == 0 {
			return nil, false
		}
		for r := i + 1; r < n; r++ {
			if f := c.a[r][i] / c.a[i][i]; f != 0 {
				for k := i; k <= n; k++ {
					c.a[r][k] -= f * c.a[i][k]
				}
			}
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = c.a[i][n]
		for k := i + 1; k < n; k++ {
			x[i] -= c.a[i][k] * x[k]
		}
		x[i] /= c.a[i][i]
	}
	return x, true
}

// tangent is the unit vector along the curve, on the side of another.
func (c *arcLength) tangent(y, side []float64) ([]float64, bool) {
	c.system(y)
	n := len(c.a)
	for i := range n - 1 {
		c.a[i][n] = 0
	}
	v, ok := c.eliminated(side, 1)
	if !ok {
		return nil, false
	}
	length := math.Sqrt(inner(v, v))
	for i := range v {
		v[i] /= length
	}
	return v, true
}

// step goes along the tangent and back to the curve, square to the tangent.
func (c *arcLength) step(y, tangent []float64, by float64) ([]float64, bool) {
	next := append([]float64(nil), y...)
	for i := range next {
		next[i] += by * tangent[i]
	}
	for range 8 {
		c.system(next)
		off := by
		for i := range next {
			off -= (next[i] - y[i]) * tangent[i]
		}
		d, ok := c.eliminated(tangent, off)
		if !ok {
			return nil, false
		}
		for i := range next {
			next[i] += d[i]
		}
		if size := inner(d, d); size < 1e-26 {
			return next, true
		} else if !(size < 1) {
			return nil, false
		}
	}
	return nil, false
}

func inner(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// follow goes along the curve until the travel turns back or is reached. The reached travel is in mm; ok is
// false where the curve cannot be told: it begins at a dead point, or comes so near to a crossing that its
// tangent turns faster than the steps can be short.
func (c *arcLength) follow(travel float64) (reached float64, whole, ok bool) {
	y := make([]float64, len(c.a))
	up := make([]float64, len(c.a))
	up[len(up)-1] = 1
	v, ok := c.tangent(y, up)
	if !ok || v[len(v)-1] < 1e-4 {
		return 0, false, false
	}
	last := len(y) - 1
	by := 0.01
	for range 20000 {
		next, good := c.step(y, v, by)
		var w []float64
		if good {
			w, good = c.tangent(next, v)
		}
		if !good || inner(v, w) < 0.9997 { // 1.4 degrees in a step
			if by /= 2; by < 1e-7 {
				return 0, false, false
			}
			continue
		}
		if w[last] <= 0 {
			fold, good := c.fold(y, v, by)
			if !good {
				return 0, false, false
			}
			return math.Min(fold*unit, travel), fold*unit >= travel, true
		}
		if next[last]*unit >= travel {
			return travel, true, true
		}
		y, v = next, w
		by = math.Min(by*1.4, 0.05)
	}
	return 0, false, false
}

// fold finds where the travel is largest within a step, by bisection.
func (c *arcLength) fold(y, v []float64, by float64) (float64, bool) {
	last := len(y) - 1
	lo, hi, top := 0.0, by, y[last]
	for range 40 {
		next, ok := c.step(y, v, (lo+hi)/2)
		if !ok {
			return 0, false
		}
		w, ok := c.tangent(next, v)
		if !ok {
			return 0, false
		}
		if top = math.Max(top, next[last]); w[last] > 0 {
			lo = (lo + hi) / 2
		} else {
			hi = (lo + hi) / 2
		}
	}
	return top, true
}

// checkReached compares the travel reached with the independent continuation, and tells whether that ended
// within the range, and whether it could tell.
func checkReached(t testing.TB, m *mechanism.Mechanism, spec *scheme.MechanismSpec, c *stance.Chassis, layout []plane.Vec[float64], travel float64) (ends, told bool) {
	t.Helper()
	var mo Motion
	mo.Sweep(m, c, layout, travel, 33)
	want, whole, ok := newArcLength(m, spec, layout).follow(travel)
	if !ok {
		return false, false
	}
	if whole != (mo.Fault == "") && math.Abs(want-travel) > 1e-6 {
		t.Errorf("%s: reaches %.9g of %.9g mm, %q; by arc length %.9g: %v", m.Name, mo.ReachedMM, travel, mo.Fault, want, layout)
	} else if math.Abs(mo.ReachedMM-want) > 1e-6 {
		t.Errorf("%s: reaches %.9g mm, %q; by arc length %.9g: %v", m.Name, mo.ReachedMM, mo.Fault, want, layout)
	}
	return !whole, true
}

// Forks that stop between two samples, and whose links close again beyond them on another branch: a solver that
// only looks for the sign of the axle's velocity jumps across, to an axle some 100 mm further ahead.
func TestForksThatStopBetweenTwoSamples(t *testing.T) {
	c := cargo()
	for _, fork := range []struct {
		mechanism string
		reached   float64
		at        map[string][2]float64
	}{
		{"girder", 137.012631203, map[string][2]float64{
			"lower_rear": {41.5, 64.1}, "lower_front": {74.8, 196.6}, "upper_rear": {-98.5, 42.3}, "upper_front": {-66.5, 156.8},
			"shock_upper": {-177.8, 79.6}, "shock_lower": {4.2, 127.9},
		}},
		{"six-bar", 137.550893119, map[string][2]float64{
			"lower_rear": {42, 53.1}, "lower_front": {98, 191.4}, "upper_rear": {-153.3, 73}, "upper_front": {-41.2, 184.3}, "leg_top": {32.6, 213.3},
			"drop_top": {78.3, 138.1}, "drop_bottom": {128.5, 178.5}, "shock_upper": {-192.7, 82.5}, "shock_lower": {32.7, 114.7},
		}},
	} {
		k := builtIn[slices.IndexFunc(builtIn, func(k builtInFork) bool { return k.spec.Name == fork.mechanism })]
		m := mustCompile(t, k.spec)
		fork.at["root"] = [2]float64{25, 0}
		layout := laidOut(m, c, fork.at)
		if ends, told := checkReached(t, m, &k.spec, c, layout, 155.8); !ends || !told {
			t.Errorf("%s: the continuation by arc length does not end", m.Name)
		}
		var mo Motion
		mo.Sweep(m, c, layout, 155.8, 33)
		if math.Abs(mo.ReachedMM-fork.reached) > 1e-6 || mo.Fault == "" {
			t.Errorf("%s: reaches %.9f mm, %q; want %.9f", m.Name, mo.ReachedMM, mo.Fault, fork.reached)
		}
	}
}

// A travel that equals a sample's within rounding has the sample's state, also where the motion was followed by
// certain steps.
func TestSolveBesideASample(t *testing.T) {
	c := cargo()
	for i := range kinds {
		k := &kinds[i]
		m := mustCompile(t, k.spec)
		var mo Motion
		mo.Sweep(m, c, laidOut(m, c, k.at), kindTravel, 1001)
		if mo.Fault != "" {
			t.Fatalf("%s: %s", m.Name, mo.Fault)
		}
		for n := 1; n < 1000; n += 37 {
			for _, by := range []float64{1e-16, 1e-14, 1e-12, 1e-9} {
				for _, travel := range []float64{mo.States[n].TravelMM * (1 - by), mo.States[n].TravelMM * (1 + by)} {
					var s stance.State[float64]
					if !mo.Solve(&s, nil, travel) {
						t.Fatalf("%s: no state at %.17g mm, beside sample %d", m.Name, travel, n)
					}
					if d := math.Abs(s.Ahead - mo.States[n].Ahead); d > 1e-6 {
						t.Errorf("%s: the axle at %.17g mm is %g mm off that of sample %d", m.Name, travel, d, n)
					}
				}
			}
		}
	}
}

// The travel reached of 2,000 random forks against the continuation by arc length, to 1e-6 mm; a quarter of them end
// within the range.
func TestNoDeadPointIsPassed(t *testing.T) {
	forks := 2000
	if testing.Short() {
		forks /= 2
	}
	r := rand.New(rand.NewPCG(2026, 1128))
	c := cargo()
	ends, told := 0, 0
	for i := range forks {
		k := &builtIn[i%len(builtIn)]
		m, faults := mechanism.Compile(k.spec)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		at := scattered(r, k.at, m.Points, []float64{15, 50, 90}[r.IntN(3)])
		end, ok := checkReached(t, m, &k.spec, c, laidOut(m, c, at), 60+200*r.Float64())
		if end {
			ends++
		}
		if ok {
			told++
		}
	}
	t.Logf("%d end within the range, %d of %d compared", ends, told, forks)
	if ends < forks/4 || told < forks*98/100 {
		t.Errorf("of %d forks %d end within the range, %d were compared", forks, ends, told)
	}
}

func FuzzReachedTravel(f *testing.F) {
	for i := range builtIn {
		f.Add(uint64(i), uint8(i), 50.0, 150.0)
	}
	f.Fuzz(func(t *testing.T, seed uint64, kind uint8, by, travel float64) {
		if !(by >= 0 && by <= 150 && travel >= 1 && travel <= 300) {
			t.Skip()
		}
		k := &builtIn[int(kind)%len(builtIn)]
		m, faults := mechanism.Compile(k.spec)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		c := cargo()
		at := scattered(rand.New(rand.NewPCG(seed, 7)), k.at, m.Points, by)
		checkReached(t, m, &k.spec, c, laidOut(m, c, at), travel)
	})
}
