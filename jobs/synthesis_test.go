package jobs

import (
	"math"
	"math/cmplx"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/optimize"
)

// Path synthesis with 18 points at given crank angles: targets of Kunjur & Krishnamurty (1997), taken up
// by Cabrera, Simon & Prado, Mech. Mach. Theory 37 (2002) 1165 (recalled). The four-bar is a mechanism
// file, its positions come from the solver that forks go through, and the project's own optimizer
// searches.
//
// The tracer is at z0 + A e^iθ2 + B e^iθ3 where the crank's angle θ2 is given and the coupler's angle θ3
// depends only on the ratios of the links. So A (crank and the linkage's turn), B (the tracer on the
// coupler) and z0 (the place) are the solution of a linear least-squares problem, and only the ratios and
// the first crank angle are searched for (variable projection: Golub and Pereyra 1973).
type synthesis struct {
	m       *mechanism.Mechanism
	plain   kinematics.Tracer[float64]
	tangent kinematics.Tracer[complex128]
	path    []kinematics.Vec[float64]
	lifted  []kinematics.Vec[complex128]
}

var synthesisTargets = []complex128{
	0.5 + 1.1i, 0.4 + 1.1i, 0.3 + 1.1i, 0.2 + 1.0i, 0.1 + 0.9i, 0.05 + 0.75i, 0.02 + 0.6i, 0 + 0.5i, 0 + 0.4i,
	0.03 + 0.3i, 0.1 + 0.25i, 0.15 + 0.2i, 0.2 + 0.3i, 0.3 + 0.4i, 0.4 + 0.5i, 0.5 + 0.7i, 0.6 + 0.9i, 0.6 + 1.0i,
}

// synthesisTurns are those of the crank from the first target on.
func synthesisTurns() []float64 {
	var turns []float64
	for i := range synthesisTargets {
		turns = append(turns, 20*degree*float64(i))
	}
	return turns
}

// dual is a pair of coordinates that may carry a derivative.
type dual = kinematics.Vec[complex128]

// off is from plus a distance in a direction, and across that.
func off(from, direction dual, by, across complex128) dual {
	return dual{
		Along: from.Along + by*direction.Along - across*direction.Ahead,
		Ahead: from.Ahead + by*direction.Ahead + across*direction.Along,
	}
}

// fourLinks places a four-bar on its open branch: its four lengths, the crank's angle, where its crank
// turns, the turn of all of it, and where the tracer is from the crank pin along the coupler and across.
// It is false where the links do not reach.
func (s *synthesis) fourLinks(r [4]complex128, crank complex128, a dual, turn complex128, tracer [2]complex128) ([]dual, bool) {
	heading := func(angle complex128) dual { return dual{Along: cmplx.Cos(angle), Ahead: cmplx.Sin(angle)} }
	b, d := off(a, heading(turn+crank), r[1], 0), off(a, heading(turn), r[0], 0)
	way := dual{Along: d.Along - b.Along, Ahead: d.Ahead - b.Ahead}
	square := way.Along*way.Along + way.Ahead*way.Ahead
	apart := cmplx.Sqrt(square)
	way = dual{Along: way.Along / apart, Ahead: way.Ahead / apart}
	u := (r[2]*r[2] - r[3]*r[3] + square) / (2 * apart)
	h := r[2]*r[2] - u*u
	if !(real(h) > 0) {
		return nil, false
	}
	c := off(b, way, u, cmplx.Sqrt(h))
	coupler := dual{Along: (c.Along - b.Along) / r[2], Ahead: (c.Ahead - b.Ahead) / r[2]}
	at := make([]dual, len(s.m.Points))
	for name, p := range map[string]dual{"a_crank": a, "b_coupler": b, "c_rocker": c, "d_ground": d, "axle": off(b, coupler, tracer[0], tracer[1])} {
		at[s.m.Point(name)] = p
	}
	return at, true
}

// trace is where the tracer gets to; fewer places than targets where the crank does not turn so far.
func (s *synthesis) trace(at []dual) []kinematics.Vec[float64] {
	plain := make([]kinematics.Vec[float64], len(at))
	for i, p := range at {
		plain[i] = kinematics.Vec[float64]{Along: real(p.Along), Ahead: real(p.Ahead)}
	}
	s.path = s.plain.Trace(s.path, s.m, plain, synthesisTurns())
	return s.path
}

func (s *synthesis) Fork() optimize.Problem { return &synthesis{m: s.m} }

// Variables are the logarithms of the links over the crank, and the first crank angle.
func (s *synthesis) Variables() []optimize.Variable {
	return []optimize.Variable{
		{Name: "ground", Low: 0, High: 4},
		{Name: "coupler", Low: 0, High: 4},
		{Name: "rocker", Low: 0, High: 4},
		{Name: "first crank angle", High: 2 * math.Pi},
	}
}

func (s *synthesis) Objectives() []optimize.Objective {
	return []optimize.Objective{{Name: "sum of squares"}}
}

// Constraints are those for a crank that turns all the way: its pin and the ground's are never farther
// apart than coupler and rocker reach together, nor nearer than they fold; that the solver gets to all
// targets; and the bounds of lengths (0–50) and of places (±50).
func (s *synthesis) Constraints() []string {
	return []string{"stretched", "folded", "closes", "bounds"}
}

// shape is the linkage of crank 1 with the tracer on the rocker's pin.
func (s *synthesis) shape(x []complex128) ([]dual, bool) {
	r := [4]complex128{cmplx.Exp(x[0]), 1, cmplx.Exp(x[1]), cmplx.Exp(x[2])}
	return s.fourLinks(r, x[3], dual{}, 0, [2]complex128{r[2], 0})
}

func lifted(x []float64) []complex128 {
	out := make([]complex128, len(x))
	for i := range x {
		out[i] = complex(x[i], 0)
	}
	return out
}

// limits writes the first two constraints.
func (s *synthesis) limits(g, x []float64) {
	r1, r3, r4 := math.Exp(x[0]), math.Exp(x[1]), math.Exp(x[2])
	g[0] = (r1 + 1 - r3 - r4) / (1 + r1 + r3 + r4)
	g[1] = (math.Abs(r3-r4) - math.Abs(r1-1)) / (1 + r1 + r3 + r4)
}

func (s *synthesis) Evaluate(dst *optimize.Outcome, x []float64) {
	dst.F[0], dst.G[2], dst.G[3] = math.Inf(1), 1, 0
	s.limits(dst.G, x)
	at, ok := s.shape(lifted(x))
	if !ok {
		return
	}
	path := s.trace(at)
	if dst.G[2] = float64(len(synthesisTargets)-len(path)) / float64(len(synthesisTargets)); dst.G[2] > 0 {
		return
	}
	fit := fitted(x, path)
	dst.F[0] = fit.sum
	for _, length := range fit.found(x)[:4] {
		dst.G[3] = math.Max(dst.G[3], length/50-1)
	}
	for _, place := range fit.found(x)[4:8] {
		dst.G[3] = math.Max(dst.G[3], math.Abs(place)/50-1)
	}
}

// fit is the best place, crank and tracer of a shape: z0 + a e^iθ2 + b e^iθ3.
type fit struct {
	z [3]complex128
	// by target: the crank's and the coupler's direction, and what is left
	crank, coupler, left []complex128
	sum                  float64
}

// fitted solves the normal equations of the three complex coefficients.
func fitted(x []float64, path []kinematics.Vec[float64]) *fit {
	f := &fit{}
	var normal [3][4]complex128
	length := complex(math.Exp(x[1]), 0)
	for i, p := range path {
		crank := cmplx.Rect(1, x[3]+20*degree*float64(i))
		coupler := (complex(p.Along, p.Ahead) - crank) / length
		f.crank, f.coupler = append(f.crank, crank), append(f.coupler, coupler)
		row := [4]complex128{1, crank, coupler, synthesisTargets[i]}
		for j := range normal {
			for k := range row {
				normal[j][k] += cmplx.Conj(row[j]) * row[k]
			}
		}
	}
	for i := range normal {
		for j := range normal {
			if factor := normal[j][i] / normal[i][i]; j != i {
				for k := range normal[j] {
					normal[j][k] -= factor * normal[i][k]
				}
			}
		}
	}
	for i := range f.z {
		f.z[i] = normal[i][3] / normal[i][i]
	}
	for i := range path {
		left := f.z[0] + f.z[1]*f.crank[i] + f.z[2]*f.coupler[i] - synthesisTargets[i]
		f.left = append(f.left, left)
		f.sum += real(left)*real(left) + imag(left)*imag(left)
	}
	return f
}

// found are all ten numbers of the linkage: r1 to r4, rcx, rcy, x0, y0, θ0 and θ2.
func (f *fit) found(x []float64) []float64 {
	r2 := cmplx.Abs(f.z[1])
	rc := f.z[2] / (f.z[1] / complex(r2, 0))
	return []float64{r2 * math.Exp(x[0]), r2, r2 * math.Exp(x[1]), r2 * math.Exp(x[2]), real(rc), imag(rc), real(f.z[0]), imag(f.z[0]), cmplx.Phase(f.z[1]), x[3]}
}

// Gradient is by the envelope theorem: the fitted coefficients stay, and directions move.
func (s *synthesis) Gradient(df, dg [][]float64, x []float64) bool {
	const step = 1e-40
	at, ok := s.shape(lifted(x))
	if !ok || len(s.trace(at)) < len(synthesisTargets) {
		return false
	}
	fit := fitted(x, s.path)
	dual := lifted(x)
	for v := range x {
		dual[v] += complex(0, step)
		at, ok := s.shape(dual)
		if s.lifted = s.tangent.Trace(s.lifted, s.m, at, synthesisTurns()); !ok || len(s.lifted) < len(synthesisTargets) {
			return false
		}
		sum := 0.0
		for i, p := range s.lifted {
			crank, length := complex(0, 0), complex(math.Exp(x[1]), 0)
			if v == 3 {
				crank = 1i * fit.crank[i]
			}
			coupler := (complex(imag(p.Along)/step, imag(p.Ahead)/step) - crank) / length
			if v == 1 {
				coupler -= fit.coupler[i]
			}
			moved := fit.z[1]*crank + fit.z[2]*coupler
			sum += 2 * (real(fit.left[i])*real(moved) + imag(fit.left[i])*imag(moved))
		}
		df[0][v] = sum
		dual[v] = complex(x[v], 0)
	}
	s.limitSlopes(dg, x)
	return true
}

// limitSlopes are the derivatives of the first two constraints; the others are satisfied.
func (s *synthesis) limitSlopes(dg [][]float64, x []float64) {
	r1, r3, r4 := math.Exp(x[0]), math.Exp(x[1]), math.Exp(x[2])
	var g [2]float64
	s.limits(g[:], x)
	all := 1 + r1 + r3 + r4
	fold, stretch := math.Copysign(1, r3-r4), math.Copysign(1, r1-1)
	for i := range dg {
		clear(dg[i])
	}
	dg[0][0], dg[0][1], dg[0][2] = r1*(1-g[0])/all, r3*(-1-g[0])/all, r4*(-1-g[0])/all
	dg[1][0], dg[1][1], dg[1][2] = r1*(-stretch-g[1])/all, r3*(fold-g[1])/all, r4*(-fold-g[1])/all
}
