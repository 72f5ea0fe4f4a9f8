package objectives

import (
	"math"
	"testing"

	"forkfront/kinematics"
)

// chain is one side of an arm, from the axle in the mid-plane to the root, by the force method: what
// the mid-plane bears is found by least energy, and beams are integrated by Simpson's rule, exact here.
// It knows nothing of nodes and stiffness matrices.
type chain struct {
	from  [3]float64
	beams []struct {
		a, b [3]float64
		r    round
	}
	pivot [3]float64 // where no moment is passed about the direction across
}

// energy of two states of load at the start of the chain: 2 U for twice the same.
func (c *chain) energy(p, q [6]float64) (sum float64) {
	for _, b := range c.beams {
		axes, length := axesOf(b.a, b.b)
		for i, w := range []float64{1, 4, 1} {
			var at [3]float64
			for k := range at {
				at[k] = b.a[k] + (b.b[k]-b.a[k])*float64(i)/2
			}
			f, m := c.inside(p, at, axes)
			g, n := c.inside(q, at, axes)
			sum += w * length / 6 * (f[0]*g[0]/b.r.stretch + m[0]*n[0]/b.r.twist + (m[1]*n[1]+m[2]*n[2])/b.r.bend)
		}
	}
	return sum
}

func (c *chain) inside(p [6]float64, at [3]float64, axes [3][3]float64) (force, moment [3]float64) {
	f := [3]float64{p[0], p[1], p[2]}
	turn := product([3]float64{c.from[0] - at[0], c.from[1] - at[1], c.from[2] - at[2]}, f)
	for i := range axes {
		for k := range 3 {
			force[i] += axes[i][k] * f[k]
			moment[i] += axes[i][k] * (p[3+k] + turn[k])
		}
	}
	return force, moment
}

// pinned adds the moment across that keeps the pivot free.
func (c *chain) pinned(p [6]float64) [6]float64 {
	p[5] = -((c.from[0]-c.pivot[0])*p[1] - (c.from[1]-c.pivot[1])*p[0])
	return p
}

// give is twice the energy under a load, with the forces in the mid-plane that make it least.
func (c *chain) give(load [6]float64) float64 {
	load = c.pinned(load)
	x, y := c.pinned([6]float64{1}), c.pinned([6]float64{0, 1})
	a, b, d := c.energy(x, x), c.energy(x, y), c.energy(y, y)
	p, q := c.energy(load, x), c.energy(load, y)
	det := a*d - b*b
	return c.energy(load, load) - (p*(d*p-b*q)+q*(a*q-b*p))/det
}

// tilting is twice the energy under a load when the pivot passes no moment at all; equilibrium alone
// gives the forces in the mid-plane.
func (c *chain) tilting(load [6]float64) float64 {
	r := [3]float64{c.from[0] - c.pivot[0], c.from[1] - c.pivot[1], c.from[2] - c.pivot[2]}
	load[1] = (load[3] + r[1]*load[2]) / r[2]
	load[0] = (r[0]*load[2] - load[4]) / r[2]
	load[5] = r[1]*load[0] - r[0]*load[1]
	return c.energy(load, load)
}

func TestOutOfPlaneStiffnessOfAnArm(t *testing.T) {
	outOfPlane(t, TiltFixed, (*chain).give)
}

func TestOutOfPlaneStiffnessOfAnArmOnSphericalBearings(t *testing.T) {
	outOfPlane(t, TiltFree, (*chain).tilting)
}

// outOfPlane holds the space frame of an arm against the force method.
func outOfPlane(t *testing.T, tilt string, give func(*chain, [6]float64) float64) {
	t.Helper()
	a, d := newHandArm(t)
	a.c.Structure.Pivots.Tilt = tilt
	d.Shock.Count = 1 // one shock in the middle passes nothing here
	a.c.Prepare()
	var s Score
	sc := NewScorer(a.c)
	sc.Score(&s, d)
	sc.Complete(&s, d)
	z := &sc.Subject().Sized
	m := a.members(25)
	spot := func(p xy, half float64) [3]float64 { return [3]float64{p[0], p[1], half} }
	c := chain{from: spot(m[3][1], 0), pivot: spot(xy{}, 45)}
	add := func(from, to [3]float64, young, outside, inside float64) {
		c.beams = append(c.beams, struct {
			a, b [3]float64
			r    round
		}{from, to, roundOf(young, math.Pi/4*(outside*outside-inside*inside), math.Pi/64*(math.Pow(outside, 4)-math.Pow(inside, 4)))})
	}
	add(spot(m[3][1], 0), spot(m[3][1], 72), 199950, 15, 9)
	for i, mb := range z.path.members {
		half := 45.0
		if mb.Body == z.path.m.Wheel() {
			half = 72
		}
		from, to := z.stands[AtSag].places[mb.From], z.stands[AtSag].places[mb.To]
		tube := z.Members[i].DiameterMM
		shift := xy{408 - armHalf, armOffset - armReach} // of the pivot
		add(spot(xy{from.Along - shift[0], from.Ahead - shift[1]}, half), spot(xy{to.Along - shift[0], to.Ahead - shift[1]}, half),
			71020, tube, tube-2*math.Max(1.2, 0.08*tube))
	}
	shaft := z.Pivots[0].ShaftMM
	add(spot(xy{}, 45), spot(xy{}, 72), 199950, shaft, 0.7*shaft)
	contact := ground(0, -258)
	// Both halves under half of the load S: U = S² give, and S moves by dU/dS.
	side := 1 / (2 * give(&c, [6]float64{0, 0, 0.5, 0.5 * contact[1], -0.5 * contact[0], 0}))
	torsion := 1 / (2 * give(&c, [6]float64{0, 0, 0, 0.5})) / 1000 * math.Pi / 180
	for name, want := range map[string]float64{"lateral_stiffness_n_per_mm": side, "torsional_stiffness_nm_per_deg": torsion} {
		if got := s.Values[Index(name)]; s.Missing[Index(name)] != "" || math.Abs(got-want) > 1e-6*want { // elimination of 50 unknowns
			t.Errorf("%s: %.9g, by the force method %.9g; missing %q", name, got, want, s.Missing[Index(name)])
		}
	}
}

// A material twice as stiff in everything but its strength makes tubes twice as stiff; shafts and axle
// stay steel.
func TestOutOfPlaneStiffnessGrowsWithTheTubes(t *testing.T) {
	sizedForks(t, 20, func(c *Conditions, d *Design) {
		c.Structure.ForeAftNPerMM = 0
		stiff := func(young float64) *Score {
			m := *d.Material
			m.YoungMPa *= young
			d.Material = &m
			sc := NewScorer(c)
			var s Score
			sc.Score(&s, d)
			sc.Complete(&s, d)
			return &s
		}
		soft, hard := stiff(1), stiff(2)
		for _, name := range []string{"lateral_stiffness_n_per_mm", "torsional_stiffness_nm_per_deg"} {
			a, b := soft.Values[Index(name)], hard.Values[Index(name)]
			if !(b > a) || b > 2*a*(1+1e-9) || !(a > 0) {
				t.Errorf("%s: %g, with tubes twice as stiff %g", name, a, b)
			}
		}
	})
}

// Odd forks get a value or a reason: a wheel's body in the mid-plane, a frame for a crown with two
// shocks on it, all members in the middle or on one side.
func TestOutOfPlaneStiffnessOfOddForks(t *testing.T) {
	spec := girder(t).Spec
	spec.Members = girderMembers[3:]
	onFrame, faults := kinematics.Compile(spec)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	sizedForks(t, 5, func(c *Conditions, d *Design) {
		for what, change := range map[string]func(e *Design){
			"mid-plane wheel":      func(e *Design) { e.Across.HalfWidthMM[e.Mechanism.Wheel()] = 0 },
			"all in the mid-plane": func(e *Design) { clear(e.Across.HalfWidthMM) },
			"one side": func(e *Design) {
				for b := range e.Across.OneSide {
					e.Across.OneSide[b] = true
				}
			},
			"on the frame": func(e *Design) { e.Mechanism, e.Shock.Count = onFrame, 2 },
		} {
			e := *d
			e.Across = DefaultAcross(d.Mechanism)
			change(&e)
			var s Score
			sc := NewScorer(c)
			sc.Score(&s, &e)
			sc.Complete(&s, &e)
			side, mass := Index("lateral_stiffness_n_per_mm"), Index("mass_g")
			if s.Missing[mass] != "" || !(s.Values[mass] > 1000) {
				t.Fatalf("%s: mass %g, missing %q", what, s.Values[mass], s.Missing[mass])
			}
			if loose := s.Missing[side] != ""; loose == (s.Values[side] > 0) {
				t.Fatalf("%s: %g N/mm, missing %q", what, s.Values[side], s.Missing[side])
			}
		}
	})
}
