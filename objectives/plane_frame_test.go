package objectives

import (
	"math"
	"testing"

	"forkfront/kinematics"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/frame"
)

// The fore-aft stiffness by the unit-load theorem against a plane frame solved by stiffness: every
// member a beam, every pin a hinge, the shock a stiff rod whose own give is taken off, the crown held at root.
func TestForeAftStiffnessAgainstAFrame(t *testing.T) {
	const rod = 1e9 // N
	sizedForks(t, 40, func(c *Conditions, d *Design) {
		sc := NewScorer(c)
		var s Score
		sc.Score(&s, d)
		z := sc.study(nil).Sized()
		places, sag := z.Places(structure.AtSag), &sc.ride.Sag
		m := d.Mechanism
		root := m.Point(kinematics.PointRoot)
		f := frame.Frame{Size: 2 * len(m.Points)} // ways are shared by all that meet at a point
		nodes := map[[2]int]int{}
		node := func(body, point int) int {
			if n, there := nodes[[2]int{body, point}]; there {
				return n
			}
			as := [6]int{2 * point, 2*point + 1, frame.Held, frame.Held, frame.Held, frame.Own}
			if body == m.Ground() && point == root {
				as = [6]int{frame.Held, frame.Held, frame.Held, frame.Held, frame.Held, frame.Held}
			}
			nodes[[2]int{body, point}] = f.Node([3]float64{places[point].Along, places[point].Ahead, 0}, as)
			return nodes[[2]int{body, point}]
		}
		for _, mb := range m.Members() {
			node(mb.Body, mb.From)
			node(mb.Body, mb.To)
		}
		for i, mb := range m.Members() {
			tube := z.Members[i]
			size := structure.TubeSection(&c.Structure.Tubes, tube.DiameterMM)
			f.Beam(node(mb.Body, mb.From), node(mb.Body, mb.To), frame.RigidityOf(d.Material.YoungMPa*tube.Count, size.Area, size.Inertia))
		}
		upper, a := m.ShockEnd(0)
		lower, b := m.ShockEnd(1)
		f.Beam(node(upper, a), node(lower, b), frame.Rigidity{Axial: rod})
		f.Rows[2*root][2*root], f.Rows[2*root+1][2*root+1] = 1, 1 // not used: root is held
		loads := make([]float64, f.Size)
		axle := m.Point(kinematics.PointAxle)
		back := kinematics.Vec[float64]{Along: -sag.CosHead, Ahead: -sag.SinHead}
		loads[2*axle], loads[2*axle+1] = back.Along, back.Ahead
		x, ok := f.Solve(loads)
		if !ok {
			t.Fatal("loose")
		}
		push := (back.Ahead*sag.AheadRate - back.Along) / sag.ShockRate // virtual work
		want := 1 / (x[2*axle]*back.Along + x[2*axle+1]*back.Ahead - push*push*sag.ShockMM/rod)
		if got := s.Values[Index("fore_aft_stiffness_n_per_mm")]; math.Abs(got-want) > 1e-8*want {
			t.Errorf("%.9g N/mm, by the frame %.9g", got, want)
		}
	})
}
