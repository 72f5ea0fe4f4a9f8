package simulation

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/stance"
	"forkfront/objectives/ride"
)

// bodies is the same bike by another method: every body of the linkage has its own three coordinates, pins hold them together
// by constraint forces (Lagrange multipliers), the shock pushes its two eyes apart, and the method of Dormand and Prince of
// the fifth order takes the steps. It shares formulas with the simulation only for the tyres, friction and stops, whose
// definition they are. Links have no mass.
type bodies struct {
	f     *made
	b     *bike // parameters
	on    [2]*Road
	count int       // bodies
	ref   []vec     // by body: its reference point in the layout, m
	mass  []float64 // by body, at the reference point
	gyr   []float64 // by body: inertia about it
	// found by accelerate
	depth, load [2]float64
}

// newBodies places the masses: that of the rear wheel is fixed to the frame, that of the front one to the axle.
func newBodies(f *made, b *bike, front, rear *Road) *bodies {
	m := f.mechanism
	n := len(m.Bodies)
	d := &bodies{f: f, b: b, on: [2]*Road{front, rear}, count: n, ref: make([]vec, n), mass: make([]float64, n), gyr: make([]float64, n)}
	g := m.Ground()
	d.mass[g] = b.body + b.rear
	d.ref[g] = b.centre.Times(b.body).Plus(b.rearAxle.Times(b.rear)).Times(1 / d.mass[g])
	square := func(v vec) float64 { return v.Dot(v) }
	d.gyr[g] = b.inertia + b.body*square(b.centre.Minus(d.ref[g])) + b.rear*square(b.rearAxle.Minus(d.ref[g]))
	d.mass[m.Wheel()] = b.front
	d.ref[m.Wheel()] = d.point("axle")
	return d
}

func (d *bodies) point(name string) vec { return d.f.layout[d.f.mechanism.Point(name)].Times(perMM) }

// place is where a point of a body is, and how fast: forward and up.
func (d *bodies) place(y []float64, body int, p vec) (at, velocity, arm [2]float64) {
	q, v := y[3*body:], y[3*(d.count+body):]
	sin, cos := math.Sincos(q[2])
	p = p.Minus(d.ref[body])
	arm = [2]float64{p.Along*cos - p.Ahead*sin, p.Along*sin + p.Ahead*cos}
	return [2]float64{q[0] + arm[0], q[1] + arm[1]}, [2]float64{v[0] - v[2]*arm[1], v[1] + v[2]*arm[0]}, arm
}

// push adds a force at a point of a body.
func (d *bodies) push(force []float64, y []float64, body int, p vec, fx, fz float64) {
	_, _, arm := d.place(y, body, p)
	force[3*body] += fx
	force[3*body+1] += fz
	force[3*body+2] += arm[0]*fz - arm[1]*fx
}

// start puts the bodies where a state of the simulation has them.
func (d *bodies) start(s *state) []float64 {
	var at stance.State[float64]
	if !d.f.motion.Solve(&at, nil, s.at[stroke]/perMM) {
		panic("no such travel")
	}
	y := make([]float64, 6*d.count)
	sin, cos := math.Sincos(s.at[pitch] - d.b.head)
	points := mechanism.Positions(d.f.mechanism, nil, &at, d.f.layout)
	joint := make([]int, d.count) // a point of each body
	for j := range d.f.mechanism.Joints() {
		a, b, p := d.f.mechanism.Joint(j)
		joint[a], joint[b] = p, p
	}
	for i := range d.count {
		pose, p := at.Pose[i], joint[i]
		in := points[p].Times(perMM).Plus(pose.Turned(d.ref[i].Minus(d.f.layout[p].Times(perMM)))).Minus(d.b.centre)
		turn := pose.Turned(vec{Along: 1})
		y[3*i] = s.at[forward] + in.Along*cos - in.Ahead*sin
		y[3*i+1] = s.at[up] + in.Along*sin + in.Ahead*cos
		y[3*i+2] = s.at[pitch] - d.b.head + math.Atan2(turn.Ahead, turn.Along)
		y[3*(d.count+i)] = s.speed[forward]
	}
	return y
}

// accelerate fills in how fast the state changes.
func (d *bodies) accelerate(dy, y []float64, braking float64) {
	m, n := d.f.mechanism, 3*d.count
	ground, wheel := m.Ground(), m.Wheel()
	force := make([]float64, n)
	for i := range d.count {
		force[3*i+1] -= d.mass[i] * 9.80665
	}
	axle := d.point("axle")
	brake := d.tyre(force, y, 0, wheel, axle, m.Brake(), braking)
	d.tyre(force, y, 1, ground, d.b.rearAxle, ground, braking)
	d.shock(force, y)
	travel, rate := d.travel(y)
	along := -(d.b.friction + d.b.perBrakeN*brake) * math.Tanh(rate/creepMPerS)
	if in := travel - d.b.travel; in > 0 {
		along -= math.Max(250e3*in+d.b.stopLoss*rate, 0)
	}
	if travel < 0 {
		along += math.Max(-250e3*travel-d.b.stopLoss*rate, 0)
	}
	sin, cos := math.Sincos(y[3*ground+2])
	d.push(force, y, wheel, axle, -along*cos, -along*sin)
	force[3*ground] += along * cos // the frame is held at the same place
	force[3*ground+1] += along * sin
	at, _, _ := d.place(y, wheel, axle)
	force[3*ground+2] += (at[0]-y[3*ground])*along*sin - (at[1]-y[3*ground+1])*along*cos

	size := n + 2*m.Joints()
	system, right := mat.NewDense(size, size, nil), mat.NewVecDense(size, nil)
	for i := range d.count {
		for k, mass := range [3]float64{d.mass[i], d.mass[i], d.gyr[i]} {
			system.Set(3*i+k, 3*i+k, mass)
		}
	}
	for i, f := range force {
		right.SetVec(i, f)
	}
	for j := range m.Joints() {
		a, b, p := m.Joint(j)
		for side, body := range [2]int{a, b} {
			sign := float64(1 - 2*side)
			_, _, arm := d.place(y, body, d.f.layout[p].Times(perMM))
			spin := y[n+3*body+2]
			for k := range 2 {
				row := n + 2*j + k
				set := func(column int, x float64) {
					system.Set(row, column, x)
					system.Set(column, row, x)
				}
				set(3*body+k, sign)
				set(3*body+2, sign*[2]float64{-arm[1], arm[0]}[k])
				right.SetVec(row, right.AtVec(row)+sign*spin*spin*arm[k])
			}
		}
	}
	var x mat.VecDense
	if err := x.SolveVec(system, right); err != nil {
		if _, ok := err.(mat.Condition); !ok {
			panic(err)
		}
	}
	copy(dy, y[n:])
	for i := range n {
		dy[n+i] = x.AtVec(i)
	}
}

// tyre adds the forces of the road on a wheel and the torque on the body with the caliper; it returns the braking force.
func (d *bodies) tyre(force, y []float64, wheel, body int, axle vec, caliper int, braking float64) float64 {
	at, v, _ := d.place(y, body, axle)
	depth, nx, nz := bruteForce(d.on[wheel], at[0], at[1], d.b.radius[wheel])
	d.depth[wheel], d.load[wheel] = depth, 0
	if depth <= 0 {
		return 0
	}
	load := math.Max(d.b.tyre[wheel]*depth-d.b.tyreLoss[wheel]*(nx*v[0]+nz*v[1]), 0)
	brake := math.Min(d.b.brakeShare[wheel]*braking, load)
	d.load[wheel] = load
	d.push(force, y, body, axle, load*nx-brake*nz, load*nz+brake*nx)
	force[3*caliper+2] -= brake * (d.b.radius[wheel] - depth)
	return brake
}

// bruteForce is the contact with a road by trying all its segments.
func bruteForce(r *Road, x, z, radius float64) (depth, nx, nz float64) {
	best := math.Inf(1)
	for i := range len(r.x) - 1 {
		sx, sz := r.x[i+1]-r.x[i], r.z[i+1]-r.z[i]
		u := ((x-r.x[i])*sx + (z-r.z[i])*sz) / (sx*sx + sz*sz)
		u = math.Max(0, math.Min(u, 1))
		px, pz := x-r.x[i]-u*sx, z-r.z[i]-u*sz
		if d := math.Hypot(px, pz); d < best {
			best, nx, nz = d, px/d, pz/d
		}
	}
	return radius - best, nx, nz
}

// shock pushes its eyes apart.
func (d *bodies) shock(force, y []float64) {
	var at, v [2][2]float64
	var body, point [2]int
	for i := range 2 {
		body[i], point[i] = d.f.mechanism.ShockEnd(i)
		at[i], v[i], _ = d.place(y, body[i], d.f.layout[point[i]].Times(perMM))
	}
	dx, dz := at[1][0]-at[0][0], at[1][1]-at[0][1]
	length := math.Hypot(dx, dz)
	dx, dz = dx/length, dz/length
	closing := -((v[1][0]-v[0][0])*dx + (v[1][1]-v[0][1])*dz)
	coefficient := d.f.CompressionNS
	if closing < 0 {
		coefficient = d.f.ReboundNS
	}
	coefficient *= float64(d.f.shock.Count)
	start := d.f.layout[point[1]].Minus(d.f.layout[point[0]])
	push := coefficient*closing + d.spring(math.Hypot(start.Along, start.Ahead)-length/perMM)
	d.push(force, y, body[1], d.f.layout[point[1]].Times(perMM), push*dx, push*dz)
	d.push(force, y, body[0], d.f.layout[point[0]].Times(perMM), -push*dx, -push*dz)
}

// spring is the force of all shocks at a compression in mm, in N: design formulas with the rate and pressure that were found.
func (d *bodies) spring(compression float64) float64 {
	k := &d.f.shock
	if k.Air == nil {
		return float64(k.Count) * ride.SpringRate(&d.f.ride) * (compression + k.PreloadMM)
	}
	area := math.Pi / 4 * k.Air.BoreMM * k.Air.BoreMM
	absolute := ride.AirPressure(&d.f.ride)/10 + 0.101325
	return float64(k.Count) * area * (absolute*math.Pow(k.Air.ChamberMM/(k.Air.ChamberMM-compression), k.Air.Exponent) - 0.101325)
}

// travel is how far the axle has moved along the steering axis, and how fast.
func (d *bodies) travel(y []float64) (at, rate float64) {
	ground := d.f.mechanism.Ground()
	axle, v, _ := d.place(y, d.f.mechanism.Wheel(), d.point("axle"))
	q, speed := y[3*ground:], y[3*(d.count+ground):]
	sin, cos := math.Sincos(q[2])
	x, z := axle[0]-q[0], axle[1]-q[1]
	along := x*cos + z*sin + d.ref[ground].Along
	rate = -((v[0]-speed[0]+speed[2]*z)*cos + (v[1]-speed[1]-speed[2]*x)*sin)
	return d.point("axle").Along - along, rate
}

// The method of Dormand and Prince: nodes and weights of the fifth order (J. Comp. Appl. Math. 6, 1980).
var (
	princeNodes = [6]float64{0, 1. / 5, 3. / 10, 4. / 5, 8. / 9, 1}
	princeParts = [6][5]float64{
		{},
		{1. / 5},
		{3. / 40, 9. / 40},
		{44. / 45, -56. / 15, 32. / 9},
		{19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
		{9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
	}
	princeSum = [6]float64{35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84}
)

// simulate takes steps and shows the state after each.
func (d *bodies) simulate(y []float64, lasts, step, braking float64, see func(time float64, y []float64)) {
	var k [6][]float64
	for i := range k {
		k[i] = make([]float64, len(y))
	}
	at := make([]float64, len(y))
	for i := range int(math.Round(lasts/step)) + 1 {
		time := float64(i) * step
		for stage := range 6 {
			copy(at, y)
			for p := range stage {
				for j := range at {
					at[j] += step * princeParts[stage][p] * k[p][j]
				}
			}
			d.accelerate(k[stage], at, braking*math.Min((time+princeNodes[stage]*step)/0.1, 1))
			if stage == 0 {
				see(time, y)
			}
		}
		for stage, w := range princeSum {
			for j := range y {
				y[j] += step * w * k[stage][j]
			}
		}
	}
}

// gap is how far the pins have come apart, in m.
func (d *bodies) gap(y []float64) (most float64) {
	for j := range d.f.mechanism.Joints() {
		a, b, p := d.f.mechanism.Joint(j)
		at, _, _ := d.place(y, a, d.f.layout[p].Times(perMM))
		to, _, _ := d.place(y, b, d.f.layout[p].Times(perMM))
		most = math.Max(most, math.Hypot(at[0]-to[0], at[1]-to[1]))
	}
	return most
}

// A girder, an arm with a floating brake and a carrier on two links with air springs: the hard stop to 0.02 mm, loads to 0.5 %,
// the pitch to 0.002°; a braked bump to 0.5 % of the variation of load. These are the differences that two correct programs
// may have.
func TestBodiesWithConstraintForces(t *testing.T) {
	rs, s := cargo()
	for name, f := range map[string]*made{"girder": randomGirders(t, &rs, 3)[2], "floating brake": floating(&rs), "two links": twinLinks(&rs)} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			m, p := NewSimulator(), NewPlan(s, &rs)
			m.set(&s, &f.Fork)
			var got Outcome
			m.stop(&got, p)
			if got.Missing != "" {
				t.Fatal(got.Missing)
			}
			start, _ := m.rest(0)
			start.speed[forward] = s.StopMPerS

			d := newBodies(f, &m.bike, level, level)
			y := d.start(&start)
			dy := make([]float64, len(y))
			d.accelerate(dy, y, 0)
			for _, a := range dy[3*d.count:] {
				if math.Abs(a) > 1e-5 {
					t.Fatalf("not at rest: acceleration %g", a)
				}
			}
			dive, nose, rear := 0.0, 0.0, math.Inf(1)
			ground := f.mechanism.Ground()
			pitchAt := y[3*ground+2]
			d.simulate(y, stopS, 0.5e-3, p.brakingN, func(_ float64, y []float64) {
				at, _ := d.travel(y)
				dive = math.Max(dive, at-start.at[stroke])
				nose = math.Max(nose, pitchAt-y[3*ground+2])
				rear = math.Min(rear, d.load[1])
			})
			if gap := d.gap(y); gap > 1e-6 {
				t.Fatalf("pins are %g m apart", gap)
			}
			stopOff := [3]float64{got.Values[PeakDiveMM] - dive/perMM, got.Values[PitchDeg] - nose*180/math.Pi, 100 * (got.Values[RearLoadMinN]/rear - 1)}
			if off := got.Values[PeakDiveMM] - dive/perMM; math.Abs(off) > 0.02 {
				t.Errorf("peak dive %.4f mm, as bodies %.4f", got.Values[PeakDiveMM], dive/perMM)
			}
			if off := got.Values[PitchDeg] - nose*180/math.Pi; math.Abs(off) > 0.002 {
				t.Errorf("pitch %.5f°, as bodies %.5f", got.Values[PitchDeg], nose*180/math.Pi)
			}
			if off := got.Values[RearLoadMinN]/rear - 1; math.Abs(off) > 0.005 {
				t.Errorf("least rear load %.3f N, as bodies %.3f", got.Values[RearLoadMinN], rear)
			}

			bump := Trapezoid(1, 0.03, 0.02, 0.12)
			got = Outcome{}
			if why := m.bump(&got, bump, 1, 8, p.brakingN); why != "" {
				t.Fatal(why)
			}
			start.speed[forward] = 8
			d = newBodies(f, &m.bike, bump, level)
			var n, sum, square, from float64
			d.simulate(d.start(&start), 0.8, 0.25e-3, p.brakingN, func(time float64, y []float64) {
				at, _, _ := d.place(y, f.mechanism.Wheel(), d.point("axle"))
				if at[0] < 1-0.6*0.258 || from > 0 && time-from > bumpS-0.125e-3 {
					return
				}
				if from == 0 {
					from = time
				}
				n, sum, square = n+1, sum+d.load[0], square+d.load[0]*d.load[0]
			})
			want := 100 * math.Sqrt(square/n-sum/n*sum/n) / rs.FrontLoadN()
			t.Logf("dive off by %.2g mm, pitch by %.2g°, least rear load by %.2g %%; variation of load on a bump by %.2g %%", stopOff[0], stopOff[1], stopOff[2], 100*(got.Values[LoadPct]/want-1))
			if off := got.Values[LoadPct]/want - 1; math.Abs(off) > 0.005 {
				t.Errorf("variation of load %.4f %%, as bodies %.4f", got.Values[LoadPct], want)
			}
		})
	}
}
