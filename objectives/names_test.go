package objectives

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
	"forkfront/objectives/trial"
)

// renamed is a mechanism of pins with all bodies and pivots called otherwise, and the new name of each pivot.
func renamed(spec scheme.MechanismSpec, r *rand.Rand) (scheme.MechanismSpec, map[string]string) {
	taken := r.Perm(100)
	next := func() string {
		name := fmt.Sprintf("n%02d", taken[0])
		taken = taken[1:]
		return name
	}
	body, pivot := map[string]string{}, map[string]string{}
	to := scheme.MechanismSpec{Name: spec.Name}
	for _, b := range spec.Bodies {
		body[b] = next()
		to.Bodies = append(to.Bodies, body[b])
	}
	to.Ground, to.Axle, to.Brake = body[spec.Ground], body[spec.Axle], body[spec.Brake]
	to.Shock = [2]string{body[spec.Shock[0]], body[spec.Shock[1]]}
	for _, p := range spec.Pivots {
		name := p.Name
		if name != scheme.PointAxle {
			name = next()
		}
		pivot[p.Name] = name
		q := scheme.PivotSpec{Name: name}
		for _, b := range p.Bodies {
			q.Bodies = append(q.Bodies, body[b])
		}
		to.Pivots = append(to.Pivots, q)
	}
	return to, pivot
}

// All measures of motion, spring and braking of random girders, with the shock on either link or on the blade,
// are the same whatever the bodies and pivots are called.
func TestMeasuresDoNotDependOnNames(t *testing.T) {
	c := damped()
	c.Structure = nil
	r := rand.New(rand.NewPCG(33, 5))
	one, two := newScorer(c), newScorer(c)
	compared := make([]int, len(Measures))
	for range 500 {
		spec := trial.Girder().Spec
		spec.Members, spec.Shock[1] = nil, []string{"lower_link", "upper_link", "blade"}[r.IntN(3)]
		other, pivot := renamed(spec, r)
		m, n := trial.Compile(spec), trial.Compile(other)
		layout := trial.Layout(m, r)
		moved := make([]kinematics.Vec[float64], len(layout))
		for i, name := range m.Points {
			if to, ok := pivot[name]; ok {
				name = to
			}
			moved[n.Point(name)] = layout[i]
		}
		shock := fork.Shock{Count: 1, EyeToEyeMM: 165, StrokeMM: 45}
		var a, b Score
		one.Score(&a, &Design{Mechanism: m, Layout: layout, Shock: shock})
		two.Score(&b, &Design{Mechanism: n, Layout: moved, Shock: shock})
		if math.Abs(a.ReachedMM-b.ReachedMM) > 1e-9 || (a.Fault == "") != (b.Fault == "") {
			t.Fatalf("reaches %.12g, %q; renamed %.12g, %q", a.ReachedMM, a.Fault, b.ReachedMM, b.Fault)
		}
		for i := range Measures {
			if (a.Missing[i] == "") != (b.Missing[i] == "") {
				t.Fatalf("%s: %q, renamed %q", Measures[i].Name, a.Missing[i], b.Missing[i])
			}
			if a.Missing[i] != "" {
				continue
			}
			compared[i]++
			slop := 1e-9
			switch Measures[i].Name {
			case "axle_path_angle_at_sag_deg":
				slop = 1e-8 // rates are exact to 1e-10, times the degrees of a radian
			case "damping_variation_pct":
				slop = 1e-7 // of second derivatives from stencils, which divide what rates are exact to by the step
			}
			if x, y := a.Values[i], b.Values[i]; math.Abs(x-y) > slop*math.Max(1, math.Abs(x)) {
				t.Errorf("%s is %.12g, renamed %.12g (%v at %v)", Measures[i].Name, x, y, spec, layout)
			}
		}
	}
	for _, name := range []string{"path_straightness_mm", "trail_variation_mm", "leverage_min", "anti_dive_at_sag_pct", "brake_dive_mm", "transmission_angle_min_deg"} {
		if compared[Index(name)] < 100 {
			t.Errorf("%s was compared %d times", name, compared[Index(name)])
		}
	}
}
