package structure

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/statics"
	"forkfront/objectives/trial"
)

// Least complementary energy of the redundant forces and the displacements of the mesh are two ways to the same loads in
// tubes: of random girders with pivots on stubs and through shafts, bodies at random half widths, one shock or two, under
// opposed torques and in all load cases. Only the rounding of the two differs.
func TestRedundantForcesAgainstDisplacements(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 9))
	m, setting, rules := trial.Girder(), trial.Setting(), DefaultRules()
	baseline := ride.NewBaseline(&setting)
	var motion kinematics.Motion
	var rd ride.Ride[float64]
	var sz Sizer
	compared := 0
	for range 60 {
		layout := trial.Layout(m, r)
		shock := fork.Shock{Count: 1 + r.IntN(2), EyeToEyeMM: 165, StrokeMM: 45}
		across := fork.DefaultAcross(m)
		across.ShockHalfWidthMM = []float64{20, 110}[r.IntN(2)]
		for i, b := range r.Perm(len(m.Bodies)) { // apart, as short shafts round the displacements
			across.HalfWidthMM[b] = 30 + 18*float64(i) + 10*r.Float64()
		}
		for p := range across.Shafts {
			across.Shafts[p] = []fork.ShaftKind{fork.ShaftStub, fork.ShaftStub, fork.ShaftThrough}[r.IntN(3)]
		}
		motion.Sweep(m, &setting.Chassis, layout, setting.TravelMM, setting.Samples)
		ride.Study(&rd, &setting, baseline, &shock, &motion, m)
		if rd.Missing[ride.NeedDive] != "" {
			continue
		}
		z, why := sz.Size(rules, &rd, m, layout, across, fork.MaterialNamed("7075-T6"))
		if why != "" || z.antisymmetric == nil {
			continue
		}
		compared++
		of := sz.meshOf(z)
		k := sz.kept(&of)
		k.redundancy.Build(&k.symmetric, &of)
		k.antisymmetric.Opposed = true
		k.antisymmetric.Build(&of)
		k.symmetric.NumberUnknowns(&sz.orders)
		k.antisymmetric.NumberUnknowns(&sz.orders)
		z.tubeRigidities()
		for k := range rules.Cases {
			if rules.Cases[k].SideStatic == 0 {
				differ(t, z, func() []statics.TubeLoads[float64] {
					z.factorSymmetric(rules.Cases[k].At)
					z.symmetricLoads(k)
					return z.loads
				})
			}
		}
		for _, at := range []loads.Stance{loads.TopOut, loads.AtSag, loads.FullTravel} {
			differ(t, z, func() []statics.TubeLoads[float64] {
				z.opposedLoads(at)
				return z.opposed
			})
		}
	}
	if compared < 20 {
		t.Errorf("compared %d forks only", compared)
	}
}

// differ complains where both ways to loads do not come to the same.
func differ(t *testing.T, z *Sized[float64], loads func() []statics.TubeLoads[float64]) {
	t.Helper()
	z.redundancy.Few = false
	want := append([]statics.TubeLoads[float64](nil), loads()...)
	z.redundancy.Few = true
	got := loads()
	scale := 0.0
	for i := range want {
		for _, moment := range []float64{want[i].Start, want[i].End, want[i].OutOfPlaneStart, want[i].OutOfPlaneEnd, want[i].Twist} {
			scale = math.Max(scale, math.Abs(moment))
		}
	}
	if !(scale > 0) {
		t.Fatal("nothing is loaded")
	}
	for i := range want {
		off := want[i]
		off.Add(&got[i], -1)
		for _, d := range []float64{off.Axial * z.lengths[i], off.Start, off.End, off.OutOfPlaneStart, off.OutOfPlaneEnd, off.Twist} {
			if !(math.Abs(d) < 1e-8*scale) {
				t.Errorf("member %d: %.12g, by displacements %.12g", i, got[i], want[i])
				break
			}
		}
	}
}
