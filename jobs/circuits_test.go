package jobs

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/stance"
)

// circuits are four-bars of Norton, Design of Machinery, table P4-1 (values from memory): links 1 to 4, a
// crank angle at which the four-bar stands, and the crank's toggle below it (recomputed); NaN: the crank
// turns round, since the shortest and the longest link together are shorter than the other two (Grashof)
// and the crank is the shortest.
var circuits = []struct {
	what               string
	l1, l2, l3, l4, at float64
	toggle             float64
}{
	{"row b, Grashof, the coupler is the shortest: the crank rocks from 33.6 to 85.9 degrees", 7, 9, 3, 8, 60, 33.557310},
	{"row n, not Grashof: the crank rocks from 33.6 to 326.4 degrees", 9, 7, 11, 6, 60, 33.557310},
	{"row e, Grashof, the crank turns round", 8, 5, 8, 6, 75, math.NaN()},
}

// The crank pin as an axle that has to get from a crank angle to that angle below the ground link, lengths
// 20 times those of the table, along across the ground link. Both ends can be drawn, but a crank that does
// not turn round cannot be driven from one to the other: the travel ends at its toggle, where coupler and
// rocker stand in line.
func TestDrawnButNotDrivenThrough(t *testing.T) {
	m := linkage(t, "four-bar")
	const scale = 20
	up := cmplx.Rect(1, -90*degree) // turns y to x, so that along is what was across the ground link
	for _, x := range circuits {
		place := func(angle float64) map[string]complex128 {
			at := fourBarAt(scale*x.l1, scale*x.l2, scale*x.l3, scale*x.l4, angle, 0, up)
			for name, z := range at {
				if cmplx.IsNaN(z) {
					t.Fatalf("%s: %s cannot be drawn at %g degrees", x.what, name, angle)
				}
			}
			return at
		}
		start, end := place(x.at), place(-x.at)
		travel := real(start["axle"] - end["axle"])
		c := stance.Chassis{HeadAngle: 1, WheelbaseMM: 1e4, FrontRadiusMM: 1e3, RearRadiusMM: 1e3, AxleToCrownMM: real(start["axle"]), ForkOffsetMM: imag(start["axle"])}
		var mo kinematics.Motion
		mo.Sweep(m, &c, laid(m, start), travel, 33)
		if math.IsNaN(x.toggle) {
			if mo.Fault != "" || math.Abs(mo.ReachedMM-travel) > 1e-9 {
				t.Errorf("%s: stops at %g of %g: %s", x.what, mo.ReachedMM, travel, mo.Fault)
			}
			continue
		}
		want := scale * x.l2 * (math.Sin(x.at*degree) - math.Sin(x.toggle*degree))
		if !strings.Contains(mo.Fault, "coupler and rocker cannot close any further") || math.Abs(mo.ReachedMM-want) > 1e-4 { // a creeping step
			t.Errorf("%s: %q at %.6f of %.6f mm, want %.6f", x.what, mo.Fault, mo.ReachedMM, travel, want)
		}
	}
}

// Norton, Design of Machinery, table P4-1 (inputs from memory, angles recomputed), through a mechanism file:
// links 1 to 4 and the crank angle; coupler and rocker of the open and of the crossed branch. The four-bar
// is laid out ten degrees before, and its crank turned from there. The axle is the pin of coupler and
// rocker.
func TestAnglesOfATextbookThroughAFile(t *testing.T) {
	m := linkage(t, "four-bar")
	var tr kinematics.Tracer[float64]
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
		for branch := range 2 {
			at := fourBarAt(x[0], x[1], x[2], x[3], x[4]-10, 1, 1)
			if branch == 1 {
				at["c_rocker"] = meet(at["b_coupler"], x[2], complex(x[0], 0), x[3], false)
				at["axle"] = at["c_rocker"]
			}
			path := tr.Trace(nil, m, laid(m, at), []float64{10 * degree})
			if len(path) != 1 {
				t.Fatalf("%v does not close", x)
			}
			pin := complex(path[0].Along, path[0].Ahead)
			coupler, rocker := cmplx.Phase(pin-cmplx.Rect(x[1], x[4]*degree))/degree, cmplx.Phase(pin-complex(x[0], 0))/degree
			if math.Abs(coupler-x[5+2*branch]) > 6e-4 || math.Abs(rocker-x[6+2*branch]) > 6e-4 { // printed digits
				t.Errorf("%v, branch %d: %.3f, %.3f", x[:5], branch, coupler, rocker)
			}
		}
	}
}

// The cranks of rows e and g of that table turn all the way; those of b and n come to their toggles, on
// either side of where they stand.
func TestTogglesOfATextbookThroughAFile(t *testing.T) {
	m := linkage(t, "four-bar")
	var tr kinematics.Tracer[float64]
	for _, x := range []struct{ l1, l2, l3, l4, at, low, high float64 }{
		{8, 5, 8, 6, 75, math.NaN(), math.NaN()},
		{6, 8, 8, 9, 25, math.NaN(), math.NaN()},
		{7, 9, 3, 8, 60, 33.557310, 85.903956},
		{9, 7, 11, 6, 120, 33.557310, 360 - 33.557310},
	} {
		at := laid(m, fourBarAt(x.l1, x.l2, x.l3, x.l4, x.at, 1, 1))
		reaches := func(angle float64) bool {
			turns := make([]float64, 400) // small steps keep the branch
			for i := range turns {
				turns[i] = (angle - x.at) * degree * float64(i+1) / float64(len(turns))
			}
			return len(tr.Trace(nil, m, at, turns)) == len(turns)
		}
		if math.IsNaN(x.low) {
			if !reaches(x.at+360) || !reaches(x.at-360) {
				t.Errorf("%v: the crank does not turn all the way", x)
			}
			continue
		}
		for _, toggle := range [2]float64{x.low, x.high} {
			inside := math.Copysign(1e-4, x.at-toggle)
			if !reaches(toggle+inside) || reaches(toggle-inside) {
				t.Errorf("%v: the toggle is not at %g", x, toggle)
			}
		}
	}
}
