package kinematics

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
)

// balanced are random loads on all moving bodies, and a force at the axle along the steering axis
// that makes their virtual work 0.
func balanced(m *mechanism.Mechanism, s *stance.State[float64], r *rand.Rand) []mechanism.Load[float64] {
	loads := make([]mechanism.Load[float64], len(m.Bodies))
	work := 0.0
	for b := range loads {
		if b == m.Ground() {
			continue
		}
		force, moment := plane.Vec[float64]{Along: r.NormFloat64(), Ahead: r.NormFloat64()}, 100*r.NormFloat64()
		rate, pose := &s.Rate[b], &s.Pose[b]
		loads[b].Push(force, pose.At)
		loads[b].Moment += moment
		work += force.Dot(rate.At) + moment*rate.Turn
	}
	// The axle goes back along the axis by 1 per mm of travel.
	loads[m.Wheel()].Push(plane.Vec[float64]{Along: work, Ahead: 0}, plane.Vec[float64]{Along: s.Along, Ahead: s.Ahead})
	return loads
}

// Loads whose virtual work is 0 are held: nothing is left on any body that moves, no pin bears a
// moment and no slide a force along itself.
func TestEveryKindHoldsLoadsThatDoNoWork(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 2))
	every(t, 20, func(t *testing.T, m *mechanism.Mechanism, _ *stance.Chassis, layout []plane.Vec[float64], mo *Motion) {
		for _, i := range []int{0, 13, 32} {
			s := &mo.States[i]
			loads := balanced(m, s, r)
			places := mechanism.Positions(m, nil, s, layout)
			dst := make([]mechanism.Load[float64], m.Joints())
			mechanism.JointLoads(m, dst, loads, places)
			for b := range loads {
				if l := loads[b]; b != m.Ground() && math.Hypot(l.Force.Along, l.Force.Ahead)+math.Abs(l.Moment)/100 > 1e-8 {
					t.Fatalf("%v is left on %s", l, m.Bodies[b])
				}
			}
			for k, j := range m.JointList() {
				size := 1 + math.Hypot(dst[k].Force.Along, dst[k].Force.Ahead)
				off := 0.0
				if j.Slides() {
					line := places[j.Through[1]].Minus(places[j.Through[0]])
					off = dst[k].Force.Dot(line) / math.Hypot(line.Along, line.Ahead)
				} else {
					off = dst[k].About(places[j.Point]) / 100
				}
				if math.Abs(off) > 1e-8*size {
					t.Fatalf("joint %s bears %g where it gives way", j.Name, off)
				}
			}
		}
	})
}

func TestLoadsOfEveryKindAllocateNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 3))
	every(t, 4, func(t *testing.T, m *mechanism.Mechanism, _ *stance.Chassis, layout []plane.Vec[float64], mo *Motion) {
		s := &mo.States[5]
		loads, dst, places := balanced(m, s, r), make([]mechanism.Load[float64], m.Joints()), mechanism.Positions(m, nil, s, layout)
		if n := testing.AllocsPerRun(5, func() { mechanism.JointLoads(m, dst, loads, places) }); n != 0 {
			t.Fatalf("%g allocations", n)
		}
	})
}

// A pin through three bodies, none of them on the ground, is told from whichever serves best: the
// arm with its link, and then the push rod, are dyads, not one group.
func TestAPinThroughThreeBodies(t *testing.T) {
	m := mustCompile(t, scheme.MechanismSpec{
		Name: "push rod on the blade's pin", Ground: "crown", Bodies: []string{"crown", "blade", "lower", "upper", "a_rod", "rocker"},
		Pivots: []scheme.PivotSpec{
			pin("lower_rear", "crown", "lower"), pin("lower_front", "lower", "blade"), pin("upper_rear", "crown", "upper"),
			pin("upper_front", "upper", "blade", "a_rod"), pin("rod_end", "a_rod", "rocker"), pin("rocker_pivot", "crown", "rocker"),
		},
		Axle: "blade", Shock: [2]string{"crown", "rocker"},
	})
	for _, line := range m.Solution() {
		t.Log(line)
	}
	if m.LargestGroup() != 0 || len(m.Steps()) != 3 {
		t.Errorf("solved in %d steps, the largest group of %d bodies", len(m.Steps()), m.LargestGroup())
	}
}
