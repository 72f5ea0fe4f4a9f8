package objectives

import (
	"math"
	"testing"

	"forkfront/kinematics"
)

// The fore-aft stiffness by the unit-load theorem against a plane frame solved by stiffness: every
// member a beam, every pin a hinge, the shock a stiff rod whose own give is taken off, the crown held at root.
func TestForeAftStiffnessAgainstAFrame(t *testing.T) {
	const rod = 1e9 // N
	sizedForks(t, 40, func(c *Conditions, d *Design) {
		sc := NewScorer(c)
		var s Score
		sc.Score(&s, d)
		z := &sc.Subject().Sized
		sd := &z.stands[AtSag]
		m := d.Mechanism
		root := m.Point(kinematics.PointRoot)
		f := frame{size: 2 * len(m.Points)} // ways are shared by all that meet at a point
		nodes := map[[2]int]int{}
		node := func(body, point int) int {
			if n, there := nodes[[2]int{body, point}]; there {
				return n
			}
			as := [6]int{2 * point, 2*point + 1, held, held, held, unsaid}
			if body == m.Ground() && point == root {
				as = [6]int{held, held, held, held, held, held}
			}
			nodes[[2]int{body, point}] = f.node([3]float64{sd.places[point].Along, sd.places[point].Ahead, 0}, as)
			return nodes[[2]int{body, point}]
		}
		for _, mb := range m.Members() {
			node(mb.Body, mb.From)
			node(mb.Body, mb.To)
		}
		for i, mb := range m.Members() {
			tube := z.Members[i]
			size := tubeSection(&c.Structure.Tubes, tube.DiameterMM)
			f.beam(node(mb.Body, mb.From), node(mb.Body, mb.To), roundOf(d.Material.YoungMPa*tube.Count, size.area, size.inertia))
		}
		upper, a := m.ShockEnd(0)
		lower, b := m.ShockEnd(1)
		f.beam(node(upper, a), node(lower, b), round{stretch: rod})
		f.rows[2*root][2*root], f.rows[2*root+1][2*root+1] = 1, 1 // not used: root is held
		loads := make([]float64, f.size)
		axle := m.Point(kinematics.PointAxle)
		back := inFork(sd.state, -1, 0)
		loads[2*axle], loads[2*axle+1] = back.Along, back.Ahead
		x, ok := f.solve(loads)
		if !ok {
			t.Fatal("loose")
		}
		push := shockPush(&applied[float64]{force: back}, sd.state)
		want := 1 / (x[2*axle]*back.Along + x[2*axle+1]*back.Ahead - push*push*sd.state.ShockMM/rod)
		if got := s.Values[Index("fore_aft_stiffness_n_per_mm")]; math.Abs(got-want) > 1e-8*want {
			t.Errorf("%.9g N/mm, by the frame %.9g", got, want)
		}
	})
}
