package kinematics

import (
	"math"
	"slices"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
)

// Hoeken's straight-line linkage, Norton, Design of Machinery, table 3-1 (values from memory,
// recomputed): crank 1, ground pivot L1, coupler = rocker = extension = (3 L1 − 1)/2, the motion
// symmetric about a crank angle of 180 degrees. Range of the crank, L1, stroke, deviation in % of
// the stroke. The first rows are the straightest, the last three those of steadiest velocity.
func TestHoekensLinkage(t *testing.T) {
	for _, x := range [][4]float64{
		{20, 2.975, 0.601, 0.00001},
		{40, 2.950, 1.193, 0.00004},
		{60, 2.900, 1.763, 0.00027},
		{80, 2.825, 2.299, 0.001},
		{100, 2.725, 2.790, 0.004},
		{120, 2.625, 3.238, 0.010},
		{140, 2.500, 3.623, 0.023},
		{160, 2.350, 3.933, 0.047},
		{180, 2.200, 4.181, 0.096},
		{20, 2.075, 0.480, 0.137},
		{100, 1.900, 2.237, 0.640},
		{180, 1.575, 3.456, 1.446},
	} {
		l3 := (3*x[1] - 1) / 2
		l := fourBar(t, x[1], 1, l3, l3, 180-x[0]/2, true)
		coupler := slices.Index(l.m.Bodies, "coupler")
		low, high := plane.Vec[float64]{Along: math.Inf(1), Ahead: math.Inf(1)}, plane.Vec[float64]{Along: math.Inf(-1), Ahead: math.Inf(-1)}
		const steps = 2000
		for i := range steps + 1 {
			sin, cos := math.Sincos(x[0] * deg * float64(i) / steps)
			if l.locate(drive[float64]{cos: cos, sin: sin}) >= 0 {
				t.Fatalf("%v does not close", x)
			}
			a, b := l.at(mechanism.BodyPoint{Body: coupler, Point: l.m.Point("b_coupler")}), l.at(mechanism.BodyPoint{Body: coupler, Point: l.m.Point("c_rocker")})
			tracer := b.Plus(b.Minus(a))
			low = plane.Vec[float64]{Along: math.Min(low.Along, tracer.Along), Ahead: math.Min(low.Ahead, tracer.Ahead)}
			high = plane.Vec[float64]{Along: math.Max(high.Along, tracer.Along), Ahead: math.Max(high.Ahead, tracer.Ahead)}
		}
		// The line runs along the ground link by symmetry, so the minimum zone is the box's height.
		stroke, deviation := high.Along-low.Along, 100*(high.Ahead-low.Ahead)/(high.Along-low.Along)
		digit := 5.5e-4 // half of the last printed digit: the third, or the fifth of the smallest
		if x[3] < 5e-4 {
			digit = 5.5e-6
		}
		if math.Abs(stroke-x[2]) > 5.5e-4 || math.Abs(deviation-x[3]) > digit {
			t.Errorf("range %g, L1 %g: stroke %.4f and deviation %.6f %%, want %g and %g", x[0], x[1], stroke, deviation, x[2], x[3])
		}
	}
}
