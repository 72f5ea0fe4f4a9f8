package objectives

import (
	"math"
	"testing"

	"forkfront/kinematics"
	"forkfront/objectives/fork"
	"forkfront/objectives/structure"
	"forkfront/objectives/trial"
)

// chain is one side of an arm, from the axle in the mid-plane to the root, by the force method: what
// the mid-plane bears is found by least energy, and beams are integrated by Simpson's rule, exact here.
// It knows nothing of nodes and stiffness matrices.
type chain struct {
	from  [3]float64
	beams []struct {
		a, b [3]float64
		r    rigidity
	}
	pivot [3]float64 // where no moment is passed about the direction across
}

// energy of two states of load at the start of the chain: 2 U for twice the same.
func (c *chain) energy(p, q [6]float64) (sum float64) {
	for _, b := range c.beams {
		axes, length := axesAlong(b.a, b.b)
		for i, w := range []float64{1, 4, 1} {
			var at [3]float64
			for k := range at {
				at[k] = b.a[k] + (b.b[k]-b.a[k])*float64(i)/2
			}
			f, m := c.inside(p, at, axes)
			g, n := c.inside(q, at, axes)
			sum += w * length / 6 * (f[0]*g[0]/b.r.axial + m[0]*n[0]/b.r.torsion + (m[1]*n[1]+m[2]*n[2])/b.r.bending)
		}
	}
	return sum
}

func (c *chain) inside(p [6]float64, at [3]float64, axes [3][3]float64) (force, moment [3]float64) {
	f := [3]float64{p[0], p[1], p[2]}
	turn := crossed([3]float64{c.from[0] - at[0], c.from[1] - at[1], c.from[2] - at[2]}, f)
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
	outOfPlane(t, structure.TiltFixed, (*chain).give)
}

func TestOutOfPlaneStiffnessOfAnArmOnSphericalBearings(t *testing.T) {
	outOfPlane(t, structure.TiltFree, (*chain).tilting)
}

// outOfPlane holds the space frame of an arm against the force method.
func outOfPlane(t *testing.T, tilt string, give func(*chain, [6]float64) float64) {
	t.Helper()
	a, d := newHandArm(t)
	a.c.Structure.Pivots.Tilt = tilt
	d.Shock.Count = 1 // one shock in the middle passes nothing here
	prepare(a.c)
	var s Score
	sc := NewScorer(a.c)
	sc.Score(&s, d)
	sc.study(d).Complete(&s)
	z := sc.study(nil).Sized()
	m := a.members(25)
	spot := func(p xy, half float64) [3]float64 { return [3]float64{p[0], p[1], half} }
	c := chain{from: spot(m[3][1], 0), pivot: spot(xy{}, 45)}
	add := func(from, to [3]float64, young, outside, inside float64) {
		c.beams = append(c.beams, struct {
			a, b [3]float64
			r    rigidity
		}{from, to, rigidityOf(young, math.Pi/4*(outside*outside-inside*inside), math.Pi/64*(math.Pow(outside, 4)-math.Pow(inside, 4)))})
	}
	add(spot(m[3][1], 0), spot(m[3][1], 72), 199950, 15, 9)
	for i, mb := range d.Mechanism.Members() {
		half := 45.0
		if mb.Body == d.Mechanism.Wheel() {
			half = 72
		}
		from, to := z.Places(structure.AtSag)[mb.From], z.Places(structure.AtSag)[mb.To]
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
			sc.study(d).Complete(&s)
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
	spec.Members = trial.GirderMembers[3:]
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
			e.Across = fork.DefaultAcross(d.Mechanism)
			change(&e)
			var s Score
			sc := NewScorer(c)
			sc.Score(&s, &e)
			sc.study(&e).Complete(&s)
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

// rigidity of a round beam: E A, E I and G J, for a Poisson's ratio of 0.3.
type rigidity struct{ axial, bending, torsion float64 }

func rigidityOf(young, area, inertia float64) rigidity {
	return rigidity{young * area, young * inertia, young / 2.6 * 2 * inertia}
}

// axesAlong are three unit vectors square to each other, the first from a to b.
func axesAlong(a, b [3]float64) (axes [3][3]float64, length float64) {
	unit := func(v [3]float64) ([3]float64, float64) {
		size := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
		return [3]float64{v[0] / size, v[1] / size, v[2] / size}, size
	}
	x, length := unit([3]float64{b[0] - a[0], b[1] - a[1], b[2] - a[2]})
	other := [3]float64{0, 0, 1}
	if math.Abs(x[2]) > 0.9 {
		other = [3]float64{1, 0, 0}
	}
	y, _ := unit(crossed(other, x))
	return [3][3]float64{x, y, crossed(x, y)}, length
}

func crossed(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
