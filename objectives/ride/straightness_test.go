package ride

import (
	"math"
	"testing"

	"forkfront/kinematics"
)

// Minimum-zone widths: closed forms, and a point set that tells the minimum zone from least squares
// (3.100868) and from the end-point line (3.022439).
func TestStraightness(t *testing.T) {
	curve := func(n int, f func(float64) (float64, float64)) []kinematics.Vec[float64] {
		var p []kinematics.Vec[float64]
		for i := range n {
			x, y := f(float64(i) / float64(n-1))
			p = append(p, kinematics.Vec[float64]{Along: x, Ahead: y})
		}
		return p
	}
	polygon := func(n int) []kinematics.Vec[float64] {
		return curve(n+1, func(u float64) (float64, float64) { return math.Cos(2 * math.Pi * u), math.Sin(2 * math.Pi * u) })[:n]
	}
	for _, x := range []struct {
		what   string
		points []kinematics.Vec[float64]
		want   float64
		slop   float64
	}{
		{"point set", []kinematics.Vec[float64]{{Along: 0}, {Along: 1, Ahead: 3}, {Along: 2, Ahead: 1}, {Along: 3, Ahead: 4}, {Along: 4, Ahead: 2}, {Along: 5, Ahead: 6}, {Along: 6, Ahead: 3}, {Along: 7, Ahead: 5}}, 3, 1e-12},
		{"e^x on [0,1]", curve(20001, func(u float64) (float64, float64) { return u, math.Exp(u) }), 0.106568155674, 1e-9},
		{"e^x on [-1,1]", curve(20001, func(u float64) (float64, float64) { return 2*u - 1, math.Exp(2*u - 1) }), 0.361357118358, 1e-8},
		{"x² on [0,1]", curve(20001, func(u float64) (float64, float64) { return u, u * u }), math.Sqrt2 / 8, 1e-9},
		{"arc of 60°", curve(20001, func(u float64) (float64, float64) {
			return math.Cos((u - 0.5) * 60 * math.Pi / 180), math.Sin((u - 0.5) * 60 * math.Pi / 180)
		}), 1 - math.Cos(math.Pi/6), 1e-9},
		{"triangle", polygon(3), 1 + math.Cos(math.Pi/3), 1e-12},
		{"pentagon", polygon(5), 1 + math.Cos(math.Pi/5), 1e-12},
		{"heptagon", polygon(7), 1 + math.Cos(math.Pi/7), 1e-12},
		{"straight", curve(33, func(u float64) (float64, float64) { return u, 0 }), 0, 1e-15},
	} {
		var z zone
		for i, p := range x.points {
			z.points = append(z.points, corner{p, i})
		}
		z.find()
		a, b, far := x.points[z.edge[0]], x.points[z.edge[1]], x.points[z.far]
		if got := offLine(a, b, far) / kinematics.Distance(a, b); math.Abs(got-x.want) > x.slop {
			t.Errorf("%s: %.12f, want %.12f", x.what, got, x.want)
		}
	}
}
