package kinematics

import (
	"math"
	"slices"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
)

// fourBar is a crank, coupler and rocker on a ground along +x, set at a crank angle on its open or
// crossed branch; along is x and ahead is y.
func fourBar(t *testing.T, l1, l2, l3, l4, crank float64, open bool) *linkage[float64] {
	t.Helper()
	m := mustCompile(t, scheme.MechanismSpec{
		Name: "four-bar", Ground: "ground", Bodies: []string{"ground", "crank", "coupler", "rocker"}, Axle: "coupler",
		Pivots: []scheme.PivotSpec{
			{Name: "a_crank", Bodies: []string{"ground", "crank"}},
			{Name: "b_coupler", Bodies: []string{"crank", "coupler"}},
			{Name: "c_rocker", Bodies: []string{"coupler", "rocker"}},
			{Name: "d_ground", Bodies: []string{"ground", "rocker"}},
		},
	})
	sin, cos := math.Sincos(crank * deg)
	b := plane.Vec[float64]{Along: l2 * cos, Ahead: l2 * sin}
	line := plane.Vec[float64]{Along: l1, Ahead: 0}.Minus(b)
	d := math.Hypot(line.Along, line.Ahead)
	u := (l3*l3 - l4*l4 + d*d) / (2 * d)
	h := math.Sqrt(l3*l3 - u*u)
	if !open {
		h = -h
	}
	unit := line.Times(1 / d)
	layout := make([]plane.Vec[float64], len(m.Points))
	layout[m.Point("b_coupler")] = b
	layout[m.Point("d_ground")] = plane.Vec[float64]{Along: l1, Ahead: 0}
	layout[m.Point("c_rocker")] = b.Plus(unit.Times(u)).Plus(unit.Quarter().Times(h))
	var l linkage[float64]
	if reason := l.set(m, layout); reason != "" {
		t.Fatal(reason)
	}
	return &l
}

func angle(l *linkage[float64], from, to, body string) float64 {
	m := l.m
	b := slices.Index(m.Bodies, body)
	v := l.at(mechanism.BodyPoint{Body: b, Point: m.Point(to)}).Minus(l.at(mechanism.BodyPoint{Body: b, Point: m.Point(from)}))
	return math.Atan2(v.Ahead, v.Along) / deg
}

// Norton, Design of Machinery, examples 4-1, 6-7 and 7-1 (values from memory, recomputed): ground
// 100, crank 40, coupler 120, rocker 80 at 40 degrees, 25 rad/s and 15 rad/s².
func TestFourBarRatesOfATextbook(t *testing.T) {
	for _, x := range []struct {
		open                           bool
		coupler, rocker, wc, wr, ac, a float64
	}{
		{true, 20.297883, 57.324880, -4.120914, 6.997985, 296.089193, 470.133530},
		{false, -60.977967, -98.004964, -9.258772, -20.377672, math.NaN(), math.NaN()},
	} {
		// Assembled 10 degrees before and turned there, so that the branch has to be kept.
		l := fourBar(t, 100, 40, 120, 80, 30, x.open)
		if l.locate(drive[float64]{cos: math.Cos(10 * deg), sin: math.Sin(10 * deg)}) >= 0 {
			t.Fatal("does not close")
		}
		// The turn is exact as a rotation, near 10 degrees as an angle; bring it there.
		sin, cos := math.Sincos(10 * deg)
		if l.locate(drive[float64]{cos: cos, sin: sin}) >= 0 {
			t.Fatal("does not close")
		}
		l.rates()
		l.accelerations()
		coupler, rocker := slices.Index(l.m.Bodies, "coupler"), slices.Index(l.m.Bodies, "rocker")
		check := func(what string, got, want, slop float64) {
			if !math.IsNaN(want) && math.Abs(got-want) > slop {
				t.Errorf("open %v: %s %.6f, want %.6f", x.open, what, got, want)
			}
		}
		check("coupler", angle(l, "b_coupler", "c_rocker", "coupler"), x.coupler, 1e-6)
		check("rocker", angle(l, "d_ground", "c_rocker", "rocker"), x.rocker, 1e-6)
		check("coupler rate", 25*l.rate[coupler].Turn, x.wc, 1e-6)
		check("rocker rate", 25*l.rate[rocker].Turn, x.wr, 1e-6)
		check("coupler acceleration", 625*l.accel[coupler].Turn+15*l.rate[coupler].Turn, x.ac, 1e-5)
		check("rocker acceleration", 625*l.accel[rocker].Turn+15*l.rate[rocker].Turn, x.a, 1e-5)
		if x.open {
			v := l.velocity(mechanism.BodyPoint{Body: rocker, Point: l.m.Point("c_rocker")}).Times(25)
			check("pin velocity x", v.Along, -471.241693, 1e-5)
			check("pin velocity y", v.Ahead, 302.242900, 1e-5)
			if got := math.Asin(l.sineMin()) / deg; math.Abs(got-37.026997) > 1e-6 {
				t.Errorf("transmission angle %.6f, want 37.026997", got)
			}
		}
	}
}

// Norton, Design of Machinery, table P4-1 (inputs from memory, angles recomputed): links 1 to 4 and
// the crank angle; coupler and rocker of the open and of the crossed branch.
func TestFourBarAnglesOfATextbook(t *testing.T) {
	for _, x := range [][9]float64{
		{6, 2, 7, 9, 30, 88.837, 117.286, -115.211, -143.660},
		{7, 9, 3, 8, 85, -43.232, 120.247, -67.304, 129.217},
		{8, 5, 8, 6, 75, 7.497, 78.212, -79.021, -149.736},
		{6, 8, 8, 9, 25, -16.315, 7.236, 155.720, 132.170},
		{4, 5, 2, 5, 80, -1.547, 103.091, -113.540, 141.823},
		{4, 6, 10, 7, 88, -13.275, 31.910, -102.127, -147.311},
		{9, 7, 10, 7, 60, -3.904, 50.242, -91.663, -145.810},
		{9, 7, 11, 6, 120, -1.320, 104.506, -50.424, -156.251},
	} {
		for branch, open := range []bool{true, false} {
			// Assembled one degree off, so that the solver has to find the place.
			l := fourBar(t, x[0], x[1], x[2], x[3], x[4]+0.3, open)
			sin, cos := math.Sincos(-0.3 * deg)
			if l.locate(drive[float64]{cos: cos, sin: sin}) >= 0 {
				t.Fatalf("%v does not close", x)
			}
			c, r := angle(l, "b_coupler", "c_rocker", "coupler"), angle(l, "d_ground", "c_rocker", "rocker")
			if math.Abs(c-x[5+2*branch]) > 6e-4 || math.Abs(r-x[6+2*branch]) > 6e-4 { // printed digits
				t.Errorf("%v, open %v: %.3f, %.3f", x[:5], open, c, r)
			}
		}
	}
}

// A crank that reaches its toggle cannot close any further: the two limits of row b, and one of
// row n, of the same table.
func TestToggleOfTheCrank(t *testing.T) {
	for _, x := range [][6]float64{{7, 9, 3, 8, 60, 85.903956}, {7, 9, 3, 8, 60, 33.557310}, {9, 7, 11, 6, 120, 33.557310}} {
		l := fourBar(t, x[0], x[1], x[2], x[3], x[4], true)
		closes := func(to float64) bool {
			sin, cos := math.Sincos((to - x[4]) * deg)
			return l.locate(drive[float64]{cos: cos, sin: sin}) < 0
		}
		inside := math.Copysign(1e-4, x[4]-x[5])
		if !closes(x[5]+inside) || closes(x[5]-inside) {
			t.Errorf("%v: the toggle is not at %g", x[:4], x[5])
		}
	}
}
