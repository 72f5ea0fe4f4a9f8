package frame

import (
	"math"
	"testing"
)

// Closed forms of cantilevers, whichever way they point: F L³/(3 E I) across, F L/(E A) along, T L/(G J),
// and of an L of two tubes: the tip across its plane gives F a³/3EI + F b³/3EI + F b² a/GJ.
func TestFrameOfACantilever(t *testing.T) {
	tube := RigidityOf(70000, math.Pi/4*(30*30-26*26), math.Pi/64*(30*30*30*30-26*26*26*26)) // 30 × 2
	for _, u := range [][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0.6, 0.8, 0}, {1. / 3, 2. / 3, 2. / 3}} {
		var f Frame[float64]
		f.Hold(f.Node([3]float64{}), 6)
		tip := f.Node([3]float64{400 * u[0], 400 * u[1], 400 * u[2]})
		f.Beam(0, tip, tube)
		axes, _ := axesOf(f.at[0], f.at[tip])
		var load Load[float64]
		for i := range 3 {
			load[i], load[3+i] = 1000*axes[1][i]+500*axes[0][i], 2e4*axes[0][i]
		}
		s := Factor(&f)
		if s == nil {
			t.Fatal("loose")
		}
		d := s.Solve(map[int]Load[float64]{tip: load})
		x := d[tip]
		along := func(axis, from int) (sum float64) {
			for i := range 3 {
				sum += x[from+i] * axes[axis][i]
			}
			return sum
		}
		// 17.586789 mm: 1000 N on 400 mm of 30 × 2, E 70,000 (exact)
		for _, c := range [][2]float64{{along(1, 0), 17.586789}, {along(0, 0), 500 * 400 / (70000 * 175.929189)}, {along(0, 3), 2e4 * 400 / (70000 / 2.6 * 2 * 17329.025077)}} {
			if math.Abs(c[0]-c[1]) > 1e-6*math.Max(1, c[1]) {
				t.Errorf("%v: %.8f, want %.8f", u, c[0], c[1])
			}
		}
		// At its foot the beam bears the loads turned round and the moment of the force at its tip.
		ends := f.Ends(0, d)
		for i, want := range []float64{-500, -1000, 0, -2e4, 0, -4e5, 500, 1000, 0, 2e4, 0, 0} {
			if math.Abs(ends[i]-want) > 1e-6*4e5 {
				t.Errorf("%v: the ends bear %.9g", u, ends)
				break
			}
		}
	}
	var f Frame[float64]
	f.Hold(f.Node([3]float64{}), 6)
	f.Node([3]float64{300, 0, 0})
	tip := f.Node([3]float64{300, 200, 0})
	f.Beam(0, 1, tube)
	f.Beam(1, tip, tube)
	s := Factor(&f)
	if s == nil {
		t.Fatal("loose")
	}
	x := s.Solve(map[int]Load[float64]{tip: {2: 1000}})[tip]
	want := 1000 * (27e6/(3*tube.Bending) + 8e6/(3*tube.Bending) + 4e4*300/tube.Torsion)
	if math.Abs(x[2]-want) > 1e-9*want {
		t.Errorf("an L deflects by %.9g, want %.9g", x[2], want)
	}
}

func TestFrameThatIsLoose(t *testing.T) {
	var f Frame[float64]
	foot := f.Node([3]float64{})
	f.Hold(foot, 5)
	last := f.Node([3]float64{100, 0, 0})
	f.Beam(foot, last, Rigidity[float64]{Axial: 1e6, Bending: 1e8, Torsion: 1e8})
	if Factor(&f) != nil {
		t.Error("a beam that turns about a pin is stiff")
	}
	f.Tie(last, f.Node([3]float64{100, 0, 0}), 6)
	f.Hold(last, 2)
	if Factor(&f) == nil {
		t.Error("a beam on two supports is loose")
	}
}

// A cantilever of the length L deflects by F L³/3EI, and of a diameter D with a wall in proportion by 1/D⁴ of that: the
// logarithms of its deflection and of the rotation of its tip have the derivatives 3 and 2 by that of the length, and −4 by
// that of the diameter, however it lies. A spring that turns out of the way of a force gives way more.
func TestDerivativesOfACantilever(t *testing.T) {
	const step = 1e-40
	inertia := math.Pi / 64 * (30*30*30*30 - 26*26*26*26)
	for _, u := range [][3]float64{{1, 0, 0}, {0.6, 0.8, 0}, {1. / 3, 2. / 3, 2. / 3}} {
		for _, c := range []struct{ length, inertia, want, turned float64 }{{1, 0, 3, 2}, {0, 4, -4, -4}, {1, 4, -1, -2}} {
			var plain Frame[float64]
			var f Frame[complex128]
			plain.Hold(plain.Node([3]float64{}), 6)
			f.Hold(f.Node([3]complex128{}), 6)
			at, own := [3]float64{400 * u[0], 400 * u[1], 400 * u[2]}, [3]complex128{}
			for i := range own {
				own[i] = complex(at[i], at[i]*c.length*step)
			}
			tip := plain.Node(at)
			f.Node(own)
			plain.Beam(0, tip, RigidityOf(70000, 176, inertia))
			f.Beam(0, tip, RigidityOf(70000, 176, complex(inertia, inertia*c.inertia*step)))
			axes, _ := axesOf(plain.at[0], plain.at[tip])
			var load Load[float64]
			var loads Load[complex128]
			for i := range 3 {
				load[i] = 1000 * axes[1][i]
				loads[i] = complex(load[i], 0)
			}
			s := Factor(&plain)
			d := s.Differentiate(&f, map[int]Load[complex128]{tip: loads}, s.Solve(map[int]Load[float64]{tip: load}), step)[tip]
			var moved, turned complex128
			for i := range 3 {
				moved += d[i] * complex(axes[1][i], 0)
				turned += d[3+i] * complex(axes[2][i], 0)
			}
			if by := imag(moved) / real(moved) / step; math.Abs(by-c.want) > 1e-9 {
				t.Errorf("%v: the deflection changes by %.12g, want %g", u, by, c.want)
			}
			if by := imag(turned) / real(turned) / step; math.Abs(by-c.turned) > 1e-9 {
				t.Errorf("%v: the rotation changes by %.12g, want %g", u, by, c.turned)
			}
		}
	}
	var plain Frame[float64]
	var f Frame[complex128]
	plain.Hold(plain.Node([3]float64{}), 6)
	f.Hold(f.Node([3]complex128{}), 6)
	end := plain.Node([3]float64{})
	f.Node([3]complex128{})
	for i := 1; i < 6; i++ { // all but the first displacement
		plain.rename(plain.number[end][i], held)
		f.rename(f.number[end][i], held)
	}
	plain.Spring(0, end, [3]float64{1, 0, 0}, 50)
	f.Spring(0, end, [3]complex128{complex(1, 0.5*step), complex(0, 2*step), 0}, 50)
	s := Factor(&plain)
	d := s.Differentiate(&f, map[int]Load[complex128]{end: {100}}, s.Solve(map[int]Load[float64]{end: {100}}), step)[end]
	if got := d[0]; math.Abs(real(got)-2) > 1e-12 || math.Abs(imag(got)/step+2) > 1e-9 { // F / (k w²): w grows by half
		t.Errorf("a spring gives way by %v", got)
	}
}

// A portal with fixed feet, legs of the height h and a beam of the span L, all of one section, sways under a force P at its top
// by P h³ (2 + 3k) / (12 E I (1 + 6k)), k = h/L, and its feet bear P h (1 + 3k) / (2 (1 + 6k)) (by slope and deflection,
// nothing stretching).
func TestPortal(t *testing.T) {
	const p, h, span, bending = 1000, 300., 450., 1e9
	var f Frame[float64]
	r := Rigidity[float64]{Axial: 1e15, Bending: bending, Torsion: 1e9}
	for _, at := range [][3]float64{{0, 0, 0}, {0, h, 0}, {span, h, 0}, {span, 0, 0}} {
		f.Node(at)
	}
	f.Hold(0, 6)
	f.Hold(3, 6)
	for i := range 3 {
		f.Beam(i, i+1, r)
	}
	d := Factor(&f).Solve(map[int]Load[float64]{1: {p / 2}, 2: {p / 2}})
	k := h / span
	if want := p * h * h * h * (2 + 3*k) / (12 * bending * (1 + 6*k)); math.Abs(d[1][0]-want) > 1e-6*want {
		t.Errorf("it sways by %.9g, want %.9g", d[1][0], want)
	}
	ends := f.Ends(0, d)
	if got, want := math.Hypot(ends[4], ends[5]), p*h/2*(1+3*k)/(1+6*k); math.Abs(got-want) > 1e-6*want {
		t.Errorf("its foot bears %.9g, want %.9g", got, want)
	}
}

// A ring of the radius R that two opposed forces P press together yields by P R³ (π/4 − 2/π) / (E I) and bears P R / π below each
// (Timoshenko, from memory; a thin ring that does not stretch). A polygon of 180 sides comes near.
func TestRing(t *testing.T) {
	const p, radius, bending, sides = 1000., 200., 1e9, 180
	var f Frame[float64]
	for i := range sides {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
		f.Node([3]float64{radius * cos, radius * sin, 0})
	}
	for i := range sides {
		f.Beam(i, (i+1)%sides, Rigidity[float64]{Axial: 1e10, Bending: bending, Torsion: 1e9})
	}
	f.Hold(sides/2, 6) // opposite the force it neither moves nor turns, by symmetry
	d := Factor(&f).Solve(map[int]Load[float64]{0: {-p}})
	if got, want := -d[0][0], p*radius*radius*radius*(math.Pi/4-2/math.Pi)/bending; math.Abs(got-want) > 5e-4*want {
		t.Errorf("it yields by %.7g, want %.7g", got, want)
	}
	ends := f.Ends(0, d)
	if got, want := math.Hypot(ends[4], ends[5]), p*radius/math.Pi; math.Abs(got-want) > 5e-4*want {
		t.Errorf("it bears %.7g, want %.7g", got, want)
	}
}

// Two bars that meet at a pin, each at an angle of 30° to the force there, bear F / (2 cos 30°) along and nothing across, and yield by
// F L / (2 E A cos² 30°).
func TestTwoForceMembers(t *testing.T) {
	const force, length, axial = 1000., 250., 1e6
	sin, cos := math.Sincos(math.Pi / 6)
	var f Frame[float64]
	tip := f.Node([3]float64{})
	for _, side := range []float64{-1, 1} {
		foot := f.Node([3]float64{-length * cos, side * length * sin, 0})
		f.Hold(foot, 3)
		on := f.Node([3]float64{})
		f.Tie(on, tip, 3)
		f.Beam(foot, on, Rigidity[float64]{Axial: axial, Bending: 1e8, Torsion: 1e8, Spin: 1e-6})
	}
	for _, i := range []int{2, 3, 4, 5} {
		f.rename(f.number[tip][i], held)
	}
	d := Factor(&f).Solve(map[int]Load[float64]{tip: {force}})
	if got, want := d[tip][0], force*length/(2*axial*cos*cos); math.Abs(got-want) > 1e-9*want {
		t.Errorf("they yield by %.12g, want %.12g", got, want)
	}
	for b := range 2 {
		ends := f.Ends(b, d)
		across := 0.0
		for _, i := range []int{1, 2, 3, 4, 5, 7, 8, 9, 10, 11} {
			across = max(across, math.Abs(ends[i]))
		}
		if want := force / (2 * cos); math.Abs(ends[6]-want) > 1e-9*want || across > 1e-6 {
			t.Errorf("a bar bears %.9g", ends)
		}
	}
}
