package jobs

import (
	"io"
	"math"
	"slices"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/stance"
	"forkfront/objectives"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/spaceframe"
)

// wholeFork is a sized fork as a space frame of both sides.
type wholeFork struct {
	spaceFrame
	d     *objectives.Design
	z     *structure.Sized[float64]
	at    []kinematics.Vec[float64]
	items []structure.Item // of its tubes
	nodes map[[3]int]int   // by body, point and side
	tubes map[[2]int][]int // bars by tube and side
	hub   int
}

func (f *wholeFork) sides(body int) []int {
	switch a := f.d.Across; {
	case a.HalfWidthMM[body] == 0:
		return []int{0}
	case a.OneSide[body]:
		return []int{1}
	}
	return []int{1, -1}
}

func (f *wholeFork) spot(point int, y float64) [3]float64 {
	return [3]float64{f.at[point].Along, f.at[point].Ahead, y}
}

func (f *wholeFork) of(body, point, side int) int {
	k := [3]int{body, point, side}
	n, there := f.nodes[k]
	if !there {
		n = f.node(f.spot(point, float64(side)*f.d.Across.HalfWidthMM[body]))
		f.nodes[k] = n
	}
	return n
}

func newWholeFork(d *objectives.Design, z *structure.Sized[float64], at loads.Stance, rod float64) *wholeFork {
	f := &wholeFork{d: d, z: z, at: z.Places(at), nodes: map[[3]int]int{}, tubes: map[[2]int][]int{}, items: structure.Parts(z)}
	m := d.Mechanism
	for i, mb := range m.Tubes() {
		for _, s := range f.sides(mb.Body) {
			t := &f.items[i]
			spots := f.along(mb)
			for k := 1; k < len(spots); k++ {
				bar := f.round(f.of(mb.Body, spots[k-1], s), f.of(mb.Body, spots[k], s), d.Material.YoungMPa, t.DiameterMM, t.DiameterMM-2*t.WallMM, 1)
				f.tubes[[2]int{i, s}] = append(f.tubes[[2]int{i, s}], bar)
			}
		}
	}
	f.bushes()
	f.hub = f.node(f.spot(m.Point("axle"), 0))
	for point := range m.Points {
		var bodies []int
		through, diameter := false, 0.0
		for j := range m.Joints() {
			a, b, p := m.Joint(j)
			if p != point {
				continue
			}
			for _, body := range []int{a, b} {
				if !slices.Contains(bodies, body) {
					bodies = append(bodies, body)
				}
			}
			through = through || z.Pivots[j].Shafts == 1 && (d.Across.Tubes(a) == 2 || d.Across.Tubes(b) == 2)
			diameter = max(diameter, z.Pivots[j].ShaftMM)
		}
		axle := m.Points[point] == "axle"
		if axle && !slices.Contains(bodies, m.Wheel()) {
			bodies = append(bodies, m.Wheel())
		}
		if len(bodies) > 0 {
			f.pivot(point, bodies, through, axle, diameter)
		}
	}
	f.shock(rod)
	for _, s := range f.sides(m.Ground()) {
		if n, there := f.nodes[[3]int{m.Ground(), m.Point("root"), s}]; there {
			f.hold(n, 0, 1, 2, 3, 4, 5)
		}
	}
	return f
}

// along lists the points of a tube: its ends, and where a bush of a slide is between them.
func (f *wholeFork) along(mb mechanism.Member) []int {
	for _, s := range f.d.Mechanism.Slides() {
		for _, at := range []int{s.Mouth, s.Through[1]} {
			from, to, bush := f.at[mb.From], f.at[mb.To], f.at[at]
			if at == mb.From || at == mb.To || mb.Body != s.Guide && mb.Body != s.Slider {
				continue
			}
			if off := kinematics.Distance(from, bush) + kinematics.Distance(bush, to) - kinematics.Distance(from, to); off < 1e-6 {
				return []int{mb.From, at, mb.To}
			}
		}
	}
	return []int{mb.From, mb.To}
}

// bushes joins the tubes of slides by rods of 10 mm and 10⁸ N/mm, along the normal of the tubes in the plane and across it.
func (f *wholeFork) bushes() {
	for _, s := range f.d.Mechanism.Slides() {
		line := f.at[s.Through[0]].Minus(f.at[s.Through[1]])
		length := math.Hypot(line.Along, line.Ahead)
		for _, point := range []int{s.Mouth, s.Through[1]} {
			for _, side := range f.sides(s.Guide) {
				from, to := f.of(s.Guide, point, side), f.of(s.Slider, point, side)
				for _, way := range [][3]float64{{-line.Ahead / length, line.Along / length, 0}, {2: 1}} {
					at := f.spaceFrame.at[to]
					for i := range at {
						at[i] += 10 * way[i]
					}
					far := f.node(at)
					f.tie(far, to, 0, 1, 2)
					f.hold(far, 3, 4, 5)
					f.bars = append(f.bars, frameBar{[2]int{from, far}, 1e9, 0, 0})
				}
			}
		}
	}
}

// onFrame tells whether a body is part of the bike's frame, which does not deform.
func (f *wholeFork) onFrame(body int) bool {
	return !slices.ContainsFunc(f.d.Mechanism.Members(), func(mb mechanism.Member) bool { return mb.Body == body })
}

// owner is the body that a pivot's shaft is fixed to: the widest, then the ground.
func (f *wholeFork) owner(bodies []int) int {
	return slices.MaxFunc(bodies, func(a, b int) int {
		wa, wb := f.d.Across.HalfWidthMM[a], f.d.Across.HalfWidthMM[b]
		if wa != wb {
			return int(math.Copysign(1, wa-wb))
		}
		if a == f.d.Mechanism.Ground() {
			return 1
		}
		if b == f.d.Mechanism.Ground() {
			return -1
		}
		return 0
	})
}

func (f *wholeFork) pivot(point int, bodies []int, through, axle bool, diameter float64) {
	owner := f.owner(bodies)
	inside := diameter * 0.7
	if axle {
		owner, diameter, inside = f.d.Mechanism.Wheel(), 15, 9
	}
	type on struct {
		y float64
		n int
	}
	var shaft []on
	for _, s := range f.sides(owner) {
		shaft = append(shaft, on{float64(s) * f.d.Across.HalfWidthMM[owner], f.of(owner, point, s)})
	}
	if f.onFrame(owner) {
		for i := range shaft {
			f.hold(shaft[i].n, 0, 1, 2, 3, 4, 5)
		}
	}
	if axle {
		if i := slices.IndexFunc(shaft, func(o on) bool { return o.y == 0 }); i >= 0 {
			f.tie(f.hub, shaft[i].n, 0, 1, 2, 3, 4, 5)
		} else {
			shaft = append(shaft, on{0, f.hub})
		}
	}
	for _, b := range bodies {
		if b == owner {
			continue
		}
		for _, s := range f.sides(b) {
			y := float64(s) * f.d.Across.HalfWidthMM[b]
			if !through && !axle && !slices.Contains(f.sides(owner), s) && f.d.Across.HalfWidthMM[owner] > 0 {
				continue
			}
			i := slices.IndexFunc(shaft, func(o on) bool { return math.Abs(o.y-y) < 1e-9 })
			if i < 0 {
				shaft = append(shaft, on{y, f.node(f.spot(point, y))})
				i = len(shaft) - 1
			}
			if f.onFrame(b) {
				f.hold(shaft[i].n, 0, 1, 2, 3, 4)
				continue
			}
			f.tie(f.of(b, point, s), shaft[i].n, 0, 1, 2, 3, 4)
		}
	}
	slices.SortFunc(shaft, func(a, b on) int { return int(math.Copysign(1, a.y-b.y)) })
	for i := 1; i < len(shaft); i++ {
		if !axle && !through && shaft[i-1].y < 0 && shaft[i].y > 0 {
			continue
		}
		f.round(shaft[i-1].n, shaft[i].n, shaftMPa, diameter, inside, 1)
	}
}

func (f *wholeFork) shock(axial float64) {
	m := f.d.Mechanism
	half := f.d.Across.ShockHalf(&f.d.Shock)
	sides := []int{0}
	if f.d.Shock.Count > 1 {
		sides = []int{1, -1}
	}
	var ends [2][]int
	for i := range 2 {
		body, point := m.ShockEnd(i)
		for _, s := range sides {
			if f.d.Shock.Count > 1 && f.d.Across.HalfWidthMM[body] == half {
				ends[i] = append(ends[i], f.of(body, point, s))
				continue
			}
			n := f.node(f.spot(point, float64(s)*half))
			if f.onFrame(body) {
				f.hold(n, 0, 1, 2, 3, 4, 5)
				ends[i] = append(ends[i], n)
				continue
			}
			ends[i] = append(ends[i], n)
			for _, bs := range f.sides(body) {
				switch {
				case bs == 0 && s == 0:
					f.tie(n, f.of(body, point, 0), 0, 1, 2, 3, 4, 5)
				case bs == 0 || s == 0 || bs == s:
					f.round(n, f.of(body, point, bs), shaftMPa, 18, 0.7*18, 1)
				}
			}
		}
	}
	for k := range sides {
		f.bars = append(f.bars, frameBar{[2]int{ends[0][k], ends[1][k]}, axial, 0, 0})
	}
}

// readExample is the concept of a file and its fork.
func readExample(t testing.TB, path string) (*files.ConceptFile, *objectives.Design) {
	t.Helper()
	c, source, err := files.ReadConcept(path, opened(t, path))
	if err != nil {
		t.Fatal(err)
	}
	d, err := cases.Design(c, source, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	return c, d
}

// sizedExample is an example's fork with its sizes, scored.
func sizedExample(t *testing.T, path string) (*objectives.Design, objectives.Study, *objectives.Score) {
	t.Helper()
	c, d := readExample(t, path)
	var s objectives.Score
	st := objectives.NewScorer(cases.Conditions(c)).Score(&s, d)
	st.Complete(&s)
	return d, st, &s
}

// eachSized calls compare with every example that has sizes.
func eachSized(t *testing.T, compare func(path string, d *objectives.Design, st objectives.Study, s *objectives.Score)) {
	t.Helper()
	compared := 0
	for _, path := range conceptFiles(t) {
		if d, st, s := sizedExample(t, path); objectives.Sizes(st) != nil {
			compare(path, d, st, s)
			compared++
		}
	}
	if compared < 8 {
		t.Errorf("only %d forks compared", compared)
	}
}

// outOfPlane is the lateral stiffness of the frame in N/mm and its torsional stiffness in N·m per degree, at sag.
func (f *wholeFork) outOfPlane(t *testing.T, st objectives.Study) (side, torsion float64) {
	t.Helper()
	sag, radius := &st.Ride().Sag, st.Ride().Setting.Chassis.FrontRadiusMM
	rx, ry := radius*sag.SinHead, -radius*sag.CosHead // from the axle to the contact point
	f.solve(t, map[int][6]float64{f.hub: {0, 0, 1, ry, -rx}})
	side = 1 / (f.moved(f.hub, 2) + f.moved(f.hub, 3)*ry - f.moved(f.hub, 4)*rx)
	f.solve(t, map[int][6]float64{f.hub: {3: 1}})
	return side, 1 / f.moved(f.hub, 3) / 1000 * math.Pi / 180
}

// Lateral and torsional stiffness of all examples with sizes against a frame of its own.
func TestOutOfPlaneStiffnessAgainstASpaceFrame(t *testing.T) {
	eachSized(t, func(path string, d *objectives.Design, st objectives.Study, s *objectives.Score) {
		f := newWholeFork(d, objectives.Sizes(st), loads.AtSag, shaftMPa*math.Pi*25) // a locked shock is a rod of 10 mm
		side, torsion := f.outOfPlane(t, st)
		for name, want := range map[string]float64{"lateral_stiffness_n_per_mm": side, "torsional_stiffness_nm_per_deg": torsion} {
			if got := s.Values[objectives.Index(name)]; !(math.Abs(got-want) < 1e-6*want) { // rounding in stiffnesses of 1e2 to 1e8
				t.Errorf("%s: %s is %.9g, by the frame %.9g", path, name, got, want)
			}
		}
	})
}

// Locked shocks and the shafts at their eyes only stiffen a fork of given sizes (Rayleigh), one in the middle or two at
// any width: compared with a frame of its own in which two shocks are limp, so that their eyes carry nothing.
func TestShocksOnlyStiffen(t *testing.T) {
	stiffened := 0
	eachSized(t, func(path string, d *objectives.Design, st objectives.Study, _ *objectives.Score) {
		for _, shocks := range []struct {
			count int
			half  float64
		}{{1, 0}, {2, 46}, {2, 72}, {2, 300}} {
			d.Shock.Count, d.Across.ShockHalfWidthMM = shocks.count, shocks.half
			side, torsion, ok := spaceframe.OutOfPlane(spaceframe.Of(objectives.Sizes(st)))
			if !ok {
				t.Fatalf("%s is loose with %d shocks at %g mm", path, shocks.count, shocks.half)
			}
			d.Shock.Count, d.Across.ShockHalfWidthMM = 2, 72
			bareSide, bareTorsion := newWholeFork(d, objectives.Sizes(st), loads.AtSag, 10).outOfPlane(t, st)
			if side < bareSide*(1-1e-6) || torsion < bareTorsion*(1-1e-6) { // as both frames agree
				t.Errorf("%s, %d shocks at %g mm: %.9g N/mm and %.9g N·m/°, limp %.9g and %.9g",
					path, shocks.count, shocks.half, side, torsion, bareSide, bareTorsion)
			}
			if torsion > 1.01*bareTorsion {
				stiffened++
			}
		}
	})
	if stiffened < 10 {
		t.Errorf("shocks stiffened %d forks only", stiffened)
	}
}

// Fore-aft stiffness of all examples with sizes, the shock rigid, against a frame of its own in which shafts and axle
// bend. That of a search takes the distribution of moments at the sizes that strength asks for, so it is a lower bound.
func TestForeAftStiffnessAgainstASpaceFrame(t *testing.T) {
	eachSized(t, func(path string, d *objectives.Design, st objectives.Study, s *objectives.Score) {
		f := newWholeFork(d, objectives.Sizes(st), loads.AtSag, 1e10)
		sag := &st.Ride().Sag
		back := [2]float64{-sag.CosHead, -sag.SinHead}
		f.solve(t, map[int][6]float64{f.hub: {back[0], back[1]}})
		want := 1 / (f.moved(f.hub, 0)*back[0] + f.moved(f.hub, 1)*back[1])
		got := s.Values[objectives.Index("fore_aft_stiffness_n_per_mm")]
		t.Logf("%s: %.6g N/mm, by the frame %.6g, off by %.2f %%", path, got, want, 100*(got/want-1))
		if !(math.Abs(got-want) < 0.0005*want) {
			t.Errorf("%s: %.6g N/mm, by the frame %.6g", path, got, want)
		}
		c, _ := readExample(t, path)
		var searched objectives.Score
		objectives.NewScorer(cases.Conditions(c)).Score(&searched, d)
		if low := searched.Values[objectives.Index("fore_aft_stiffness_n_per_mm")]; !(low < want*1.0005 && low > 0.99*want) {
			t.Errorf("%s: %.6g N/mm in a search, by the frame %.6g", path, low, want)
		}
	})
}

// stress is what the tube of a member on a side bears as a part of what is allowed: N/A + √(M² + ¾ T²)/Z at the worse
// of its ends.
func (f *wholeFork) stress(member, side int, allowed float64) float64 {
	tube := &f.items[member]
	outside, inside := tube.DiameterMM, tube.DiameterMM-2*tube.WallMM
	area := math.Pi / 4 * (outside*outside - inside*inside)
	modulus := math.Pi / 32 * (math.Pow(outside, 4) - math.Pow(inside, 4)) / outside
	worst := 0.0
	for _, bar := range f.tubes[[2]int{member, side}] {
		x := f.inside(bar)
		for end := range 2 {
			part := func(i int) float64 { return x.AtVec(6*end + i) }
			worst = max(worst, math.Abs(part(0))/area+math.Sqrt(part(4)*part(4)+part(5)*part(5)+0.75*part(3)*part(3))/modulus)
		}
	}
	return worst / allowed
}

// loaded solves the frame for a load case: forces at the hub, that from the side at the contact point, and the torque
// of the brake on the caliper's side of the body that carries it.
func (f *wholeFork) loaded(t *testing.T, st objectives.Study, at loads.Stance, c *structure.CaseForces) {
	t.Helper()
	m, r := f.d.Mechanism, st.Ride()
	state := map[loads.Stance]*stance.State[float64]{loads.TopOut: r.At(0), loads.AtSag: &r.Sag, loads.FullTravel: r.Full()}[at]
	radius := r.Setting.Chassis.FrontRadiusMM
	rx, ry := radius*state.SinHead, -radius*state.CosHead // from the axle to the contact point
	loads := map[int][6]float64{f.hub: {c.AtAxleN[0], c.AtAxleN[1], c.SideN, ry * c.SideN, -rx * c.SideN}}
	caliper := f.of(m.Brake(), m.Point("axle"), f.sides(m.Brake())[0])
	on := loads[caliper]
	on[5] += c.TorqueNM * 1000
	loads[caliper] = on
	f.solve(t, loads)
}

// Stresses that score shows are those of a frame of its own, and tubes bear the torque of the brake on the caliper's
// side: where shafts are stubs no tube is stressed by more than 1 % above what is allowed, or 2.5 % where a body on one
// side alone loads the others. Where all shafts run from side to side sizes follow a simpler rule, which leaves up to 5 %.
func TestStressesAgainstASpaceFrame(t *testing.T) {
	eachSized(t, func(path string, d *objectives.Design, st objectives.Study, _ *objectives.Score) {
		z, m := objectives.Sizes(st), d.Mechanism
		forces := structure.Forces(z)
		worst := make([]float64, len(m.Tubes()))
		for k, c := range loads.DefaultCases() {
			f := newWholeFork(d, z, c.At, shaftMPa*math.Pi*25)
			f.loaded(t, st, c.At, &forces[k])
			for i, mb := range m.Tubes() {
				for _, side := range f.sides(mb.Body) {
					worst[i] = max(worst[i], f.stress(i, side, d.Material.YieldMPa/1.5))
				}
			}
		}
		shown := spaceframe.BillOfMaterials(spaceframe.Of(z))
		most := 1.05
		if len(m.Slides()) > 0 || slices.ContainsFunc(z.Pivots, func(p parts.Pivot[float64]) bool { return p.Shafts == 2 }) {
			most = 1.01
			if slices.Contains(d.Across.OneSide, true) {
				most = 1.025
			}
		}
		for i := range m.Tubes() {
			name := shown[i].Part
			if !(math.Abs(shown[i].Stress-worst[i]) < 1e-6*worst[i]) { // rounding in stiffnesses of 1e2 to 1e8
				t.Errorf("%s: %s bears %.6f of what is allowed, by the frame %.6f", path, name, shown[i].Stress, worst[i])
			}
			if worst[i] > most {
				t.Errorf("%s: %s of ⌀%.1f bears %.3f of what is allowed", path, name, shown[i].DiameterMM, worst[i])
			}
		}
	})
}

// A brake whose torque is the same on both sides stresses both alike.
func TestStressesOfASymmetricBrake(t *testing.T) {
	d, st, _ := sizedExample(t, "examples/cargo-low-four-bar.yaml")
	z, m := objectives.Sizes(st), d.Mechanism
	c := structure.Forces(z)[1]
	f := newWholeFork(d, z, loads.AtSag, shaftMPa*math.Pi*25)
	half := [6]float64{5: c.TorqueNM * 500}
	axle := m.Point("axle")
	f.solve(t, map[int][6]float64{f.hub: {c.AtAxleN[0], c.AtAxleN[1]}, f.of(m.Brake(), axle, 1): half, f.of(m.Brake(), axle, -1): half})
	for i := range m.Members() {
		if left, right := f.stress(i, 1, 1), f.stress(i, -1, 1); !(math.Abs(left-right) < 1e-6*left) {
			t.Errorf("member %d bears %g on one side and %g on the other", i, left, right)
		}
	}
}
