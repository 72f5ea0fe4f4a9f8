package objectives

import (
	"math"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
	"forkfront/objectives/structure/frame"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// Forks without anything across, one tube each in the mid-plane.
func TestForeAftStiffnessAgainstAFrame(t *testing.T) {
	sizedForks(t, 40, func(c *Conditions, d *Design) {
		clear(d.Across.HalfWidthMM)
		sc := newScorer(c)
		var s Score
		sc.Score(&s, d)
		want := planeStiffness(t, c, d, sc)
		if got := s.Values[Index("fore_aft_stiffness_n_per_mm")]; math.Abs(got-want) > 1e-8*want {
			t.Errorf("%.9g N/mm, by the frame %.9g", got, want)
		}
	})
}

// Shafts that are rigid, from side to side, add nothing however far apart the bodies on them lie: a fork of pairs of
// tubes is then as stiff as its plane. (The wheel axle is rigid here by being short, and the shocks stand on the tubes.)
func TestRigidShaftsLeaveTheStiffnessOfThePlane(t *testing.T) {
	sizedForks(t, 20, func(c *Conditions, d *Design) {
		c.Structure.Pivots.ShaftYieldMPa *= 1e-7 // shafts 215 times as thick, 2e9 times as stiff
		d.Shock.Count, d.Across.ShockHalfWidthMM = 2, 45
		for b := range d.Across.HalfWidthMM {
			d.Across.HalfWidthMM[b] = 45
		}
		d.Across.HalfWidthMM[d.Mechanism.Wheel()] = 0.01
		for p := range d.Across.Shafts {
			d.Across.Shafts[p] = fork.ShaftThrough
		}
		sc := newScorer(c)
		var s Score
		sc.Score(&s, d)
		want := planeStiffness(t, c, d, sc)
		got := s.Values[Index("fore_aft_stiffness_n_per_mm")]
		if s.Missing[Index("fore_aft_stiffness_n_per_mm")] != "" || math.Abs(got-want) > 1e-6*want { // what the axle of 0.01 mm leaves
			t.Errorf("%.9g N/mm, by the frame %.9g", got, want)
		}
		c.Structure.Pivots.ShaftYieldMPa *= 1e7
		sc.Score(&s, d)
		if usual := s.Values[Index("fore_aft_stiffness_n_per_mm")]; usual > 0.9999*planeStiffness(t, c, d, sc) {
			t.Errorf("%.9g N/mm with shafts that bend, by the frame without any %.9g", usual, planeStiffness(t, c, d, sc))
		}
	})
}

// planeStiffness is the fore-aft stiffness of the fork scored last by a plane frame solved by stiffness: every member a
// beam, every pin a hinge, the shock a stiff rod whose own compliance is taken off, the crown held at root.
func planeStiffness(t *testing.T, c *Conditions, d *Design, sc *scorer) float64 {
	t.Helper()
	const rod = 1e9 // N
	z := Sizes(sc.study(nil))
	places, sag := z.Places(loads.AtSag), &sc.ride.Sag
	m := d.Mechanism
	root := m.Point(scheme.PointRoot)
	var f frame.Frame[float64]
	nodes := map[[2]int]int{}
	first := map[int]int{} // node at each point
	node := func(body, point int) int {
		if n, there := nodes[[2]int{body, point}]; there {
			return n
		}
		n := f.Node([3]float64{places[point].Along, places[point].Ahead, 0})
		nodes[[2]int{body, point}] = n
		if with, there := first[point]; there {
			f.Tie(n, with, 5) // all but the rotation about the pin
		} else {
			first[point] = n
		}
		if body == m.Ground() && point == root {
			f.Hold(n, 6)
		}
		return n
	}
	for _, mb := range m.Members() {
		node(mb.Body, mb.From)
		node(mb.Body, mb.To)
	}
	for i, mb := range m.Members() {
		tube := z.Members[i]
		size := parts.TubeSection(&c.Structure.Tubes, tube.DiameterMM)
		f.Beam(node(mb.Body, mb.From), node(mb.Body, mb.To), frame.RigidityOf(d.Material.YoungMPa*tube.Count, size.Area, size.Inertia))
	}
	upper, a := m.ShockEnd(0)
	lower, b := m.ShockEnd(1)
	f.Beam(node(upper, a), node(lower, b), frame.Rigidity[float64]{Axial: rod})
	axle := m.Point(scheme.PointAxle)
	back := kinematics.Vec[float64]{Along: -sag.CosHead, Ahead: -sag.SinHead}
	solver := frame.Factor(&f)
	if solver == nil {
		t.Fatal("loose")
	}
	x := solver.Solve(map[int]frame.Load[float64]{first[axle]: {back.Along, back.Ahead}})[first[axle]]
	push := (back.Ahead*sag.AheadRate - back.Along) / sag.ShockRate // virtual work
	return 1 / (x[0]*back.Along + x[1]*back.Ahead - push*push*sag.ShockMM/rod)
}
