package objectives

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"forkfront/kinematics/mechanism"
	"forkfront/objectives/fork"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/trial"
)

// chain is one side of an arm, from the axle in the mid-plane to the root, by the force method: what the
// mid-plane bears at the axle and at the shock's two eyes is found by least energy, and beams are integrated by
// Simpson's rule, exact here. It knows nothing of nodes and stiffness matrices.
type chain struct {
	spots [4][3]float64 // in the mid-plane, except the eyes of shocks beside it: the axle, the lower eye, the upper eye, the pivot
	beams []chainBeam
	pivot [3]float64 // where no moment is passed about the direction across
	tilts bool       // no moment is passed at all
}

type chainBeam struct {
	a, b  [3]float64
	r     rigidity
	bears []int // which of the spots' loads run through it
}

// chainLoad has a force and a moment on each spot.
type chainLoad [4][6]float64

// energy of two states of load: 2 U for twice the same.
func (c *chain) energy(p, q *chainLoad) (sum float64) {
	for i := range c.beams {
		b := &c.beams[i]
		axes, length := axesAlong(b.a, b.b)
		for i, w := range []float64{1, 4, 1} {
			var at [3]float64
			for k := range at {
				at[k] = b.a[k] + (b.b[k]-b.a[k])*float64(i)/2
			}
			f, m := c.inside(p, b.bears, at, axes)
			g, n := c.inside(q, b.bears, at, axes)
			sum += w * length / 6 * (f[0]*g[0]/b.r.axial + m[0]*n[0]/b.r.torsion + (m[1]*n[1]+m[2]*n[2])/b.r.bending)
		}
	}
	return sum
}

// about is the force of some spots' loads, and their moment about a place.
func (c *chain) about(p *chainLoad, spots []int, at [3]float64) (force, moment [3]float64) {
	for _, s := range spots {
		f := [3]float64(p[s][:3])
		turn := crossed([3]float64{c.spots[s][0] - at[0], c.spots[s][1] - at[1], c.spots[s][2] - at[2]}, f)
		for k := range 3 {
			force[k] += f[k]
			moment[k] += p[s][3+k] + turn[k]
		}
	}
	return force, moment
}

func (c *chain) inside(p *chainLoad, spots []int, at [3]float64, axes [3][3]float64) (force, moment [3]float64) {
	f, m := c.about(p, spots, at)
	for i := range axes {
		for k := range 3 {
			force[i] += axes[i][k] * f[k]
			moment[i] += axes[i][k] * m[k]
		}
	}
	return force, moment
}

// balanced adds what at the axle keeps the pivot free: a moment across, and forces as well where it tilts.
func (c *chain) balanced(p chainLoad) *chainLoad {
	r := [3]float64{c.spots[0][0] - c.pivot[0], c.spots[0][1] - c.pivot[1], c.spots[0][2] - c.pivot[2]}
	arm := []int{0, 1}
	_, m := c.about(&p, arm, c.pivot)
	if c.tilts {
		p[0][1] += m[0] / r[2] // a force f2 has the moment −r3 f2 about the first axis
		p[0][0] -= m[1] / r[2]
		_, m = c.about(&p, arm, c.pivot)
	}
	p[0][5] -= m[2]
	return &p
}

// give is twice the energy under an antisymmetric load on the axle.
func (c *chain) give(load [6]float64) float64 {
	return c.least(chainLoad{load}, [4][]int{{0, 1}, {0, 1, 5}, {0, 1, 5}, nil})
}

// least is twice the energy under a load, with the forces in the mid-plane that make it least; which says for each
// spot what the mid-plane can bear there.
func (c *chain) least(load chainLoad, which [4][]int) float64 {
	var free []*chainLoad
	for s, which := range which {
		for _, i := range which {
			if s == 0 && c.tilts {
				continue // told by equilibrium
			}
			var unit chainLoad
			unit[s][i] = 1
			free = append(free, c.balanced(unit))
		}
	}
	by := c.balanced(load)
	e, p := mat.NewSymDense(len(free), nil), mat.NewVecDense(len(free), nil)
	for i := range free {
		for j := i; j < len(free); j++ {
			e.SetSym(i, j, c.energy(free[i], free[j]))
		}
		p.SetVec(i, c.energy(free[i], by))
	}
	var x mat.VecDense
	if err := x.SolveVec(e, p); err != nil {
		panic(err)
	}
	return c.energy(by, by) - mat.Dot(p, &x)
}

// foreAft is the fore-aft stiffness of an arm with two shocks, each at its arm's width, and a shaft from side to side at its pivot, by the force method: half of
// a newton backward at the hub, what the shock pushes on a side, and in the mid-plane, at the hub and at the pivot, a
// force across and moments about the other two directions.
func (a *handArm) foreAft(d *Design, z *structure.Sized[float64]) float64 {
	c, at := armChain(d, z, loads.AtSag, 72)
	back := ground(-0.5, 0)
	lower, upper := at("shock_lower", 0), at("shock_upper", 0)
	line := xy{lower[0] - upper[0], lower[1] - upper[1]}
	from := xy{c.spots[0][0] - c.pivot[0], c.spots[0][1] - c.pivot[1]}
	eye := xy{lower[0] - c.pivot[0], lower[1] - c.pivot[1]}
	push := -from.cross(back) / eye.cross(line) // no moment about the pivot
	load := chainLoad{{back[0], back[1]}, {push * line[0], push * line[1]}, {-push * line[0], -push * line[1]}}
	return 1 / (2 * c.least(load, [4][]int{{2, 3, 4}, nil, nil, {2, 3, 4}}))
}

func TestOutOfPlaneStiffnessOfAnArm(t *testing.T) { outOfPlane(t, parts.TiltFixed) }

func TestOutOfPlaneStiffnessOfAnArmOnSphericalBearings(t *testing.T) {
	outOfPlane(t, parts.TiltFree)
}

// armChain is one side of a sized arm, its shocks at a half width, and tells where its points are.
func armChain(d *Design, z *structure.Sized[float64], stance loads.Stance, shocks float64) (*chain, func(name string, half float64) [3]float64) {
	m := d.Mechanism
	spot := func(point int, half float64) [3]float64 {
		at := z.Places(stance)[point]
		return [3]float64{at.Along, at.Ahead, half}
	}
	axle, pivot := m.Point("axle"), m.Point("pivot")
	lower, upper := m.Point("shock_lower"), m.Point("shock_upper")
	c := &chain{pivot: spot(pivot, 45)}
	c.spots = [4][3]float64{spot(axle, 0), spot(lower, shocks), spot(upper, shocks), spot(pivot, 0)}
	add := func(from, to [3]float64, young, outside, inside float64, bears ...int) {
		r := rigidityOf(young, math.Pi/4*(outside*outside-inside*inside), math.Pi/64*(math.Pow(outside, 4)-math.Pow(inside, 4)))
		c.beams = append(c.beams, chainBeam{from, to, r, bears})
	}
	add(c.spots[0], spot(axle, 72), 199950, 15, 9, 0)
	if shocks != 72 {
		add(c.spots[1], spot(lower, 72), 199950, 18, 0.7*18, 1)
	}
	add(c.spots[2], spot(upper, 45), 199950, 18, 0.7*18, 2)
	for i, mb := range m.Members() {
		half := 45.0
		if mb.Body == m.Wheel() {
			half = 72
		}
		bears := map[[2]int][]int{{axle, lower}: {0}, {lower, pivot}: {0, 1}, {pivot, upper}: {0, 1, 3}, {upper, m.Point("root")}: {0, 1, 2, 3}}
		on := bears[[2]int{mb.From, mb.To}]
		if on == nil {
			on = bears[[2]int{mb.To, mb.From}]
		}
		tube := z.Members[i].DiameterMM
		add(spot(mb.From, half), spot(mb.To, half), 71020, tube, tube-2*math.Max(1.2, 0.08*tube), on...)
	}
	shaft := z.Pivots[0].ShaftMM
	add(spot(pivot, 45), spot(pivot, 72), 199950, shaft, 0.7*shaft, 0, 1)
	add(spot(pivot, 0), spot(pivot, 45), 199950, shaft, 0.7*shaft, 3)
	return c, func(name string, half float64) [3]float64 { return spot(m.Point(name), half) }
}

// outOfPlane compares the space frame of an arm with the force method. Its one shock bears nothing here, but the
// shafts at its eyes hold both sides together.
func outOfPlane(t *testing.T, tilt string) {
	t.Helper()
	a, d := newHandArm(t)
	a.c.Structure.Pivots.Tilt = tilt
	d.Shock.Count = 1
	prepare(a.c)
	var s Score
	sc := newScorer(a.c)
	sc.Score(&s, d)
	sc.study(d).Complete(&s)
	z := Sizes(sc.study(nil))
	c, _ := armChain(d, z, loads.AtSag, 0)
	c.tilts = tilt == parts.TiltFree
	contact := ground(0, -258)
	// Both halves under half of the load S: U = S² give, and S moves by dU/dS.
	side := 1 / (2 * c.give([6]float64{0, 0, 0.5, 0.5 * contact[1], -0.5 * contact[0], 0}))
	torsion := 1 / (2 * c.give([6]float64{0, 0, 0, 0.5})) / 1000 * math.Pi / 180
	for name, want := range map[string]float64{"lateral_stiffness_n_per_mm": side, "torsional_stiffness_nm_per_deg": torsion} {
		if got := s.Values[Index(name)]; s.Missing[Index(name)] != "" || math.Abs(got-want) > 1e-6*want { // elimination of 100 unknowns
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
			sc := newScorer(c)
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
	onFrame, faults := mechanism.Compile(spec)
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
			sc := newScorer(c)
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
