package mechanism

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/topology"
)

// trees are all labelled trees of n points, as pairs: one for each sequence of n − 2 points (Prüfer 1918, from memory), so
// that there are n^(n−2) of them (Cayley's formula).
func trees(n int) (all [][][2]int) {
	count := 1
	for range n - 2 {
		count *= n
	}
	for code := range count {
		var sequence []int
		degree := slices.Repeat([]int{1}, n)
		for range n - 2 {
			sequence = append(sequence, code%n)
			degree[code%n]++
			code /= n
		}
		var pairs [][2]int
		for _, p := range sequence {
			leaf := slices.Index(degree, 1)
			pairs = append(pairs, [2]int{min(leaf, p), max(leaf, p)})
			degree[leaf]--
			degree[p]--
		}
		first := slices.Index(degree, 1)
		last := first + 1 + slices.Index(degree[first+1:], 1)
		all = append(all, append(pairs, [2]int{first, last}))
	}
	return all
}

// spansOf are the members of a body with points that are called by their order.
func spansOf(at []plane.Vec[float64]) (all [][2]int) {
	var points []int
	for i := range at {
		points = append(points, i)
	}
	for _, mb := range members(new(Mechanism).span(nil, 0, points, at)) {
		all = append(all, [2]int{mb.From, mb.To})
	}
	return all
}

func lengthOf(pairs [][2]int, at []plane.Vec[float64]) (sum float64) {
	for _, p := range pairs {
		sum += math.Hypot(at[p[0]].Along-at[p[1]].Along, at[p[0]].Ahead-at[p[1]].Ahead)
	}
	return sum
}

func sorted(pairs [][2]int) [][2]int {
	return slices.SortedFunc(slices.Values(pairs), func(a, b [2]int) int { return slices.Compare(a[:], b[:]) })
}

// No tree over the same points is shorter; random points in space, near a line, and on a coarse grid, where spans are equally
// long. Called by other names, points that are all apart differently get the same tree.
func TestNoTreeIsShorter(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := 2; n <= 6; n++ {
		all := trees(n)
		if want := int(math.Round(math.Pow(float64(n), float64(n-2)))); len(all) != want {
			t.Fatalf("%d trees of %d points; there are %d", len(all), n, want)
		}
		for try := range 60 {
			var at []plane.Vec[float64]
			for range n {
				p := plane.Vec[float64]{Along: 400 * r.Float64(), Ahead: 300 * r.Float64()}
				switch try % 3 {
				case 1:
					p.Ahead = 1e-3 * r.Float64()
				case 2:
					p = plane.Vec[float64]{Along: float64(r.IntN(4)), Ahead: float64(r.IntN(3))}
				}
				at = append(at, p)
			}
			got := spansOf(at)
			least := math.Inf(1)
			for _, tree := range all {
				least = math.Min(least, lengthOf(tree, at))
			}
			if is := lengthOf(got, at); len(got) != n-1 || !(is <= least*(1+1e-12)) {
				t.Fatalf("%v: the tree %v has a length of %g, the least is %g", at, got, is, least)
			}
			if try%3 == 2 {
				continue
			}
			names := r.Perm(n)
			renamed := make([]plane.Vec[float64], n)
			for i, to := range names {
				renamed[to] = at[i]
			}
			var back [][2]int
			for _, p := range spansOf(renamed) {
				a, b := slices.Index(names, p[0]), slices.Index(names, p[1])
				back = append(back, [2]int{min(a, b), max(a, b)})
			}
			if !slices.Equal(sorted(back), sorted(got)) {
				t.Errorf("%v: the tree is %v, with other names %v", at, got, back)
			}
		}
	}
}

// Of equally long spans those of the first names are taken: the corners of a square, and five points in one place.
func TestTiesGoByName(t *testing.T) {
	square := []plane.Vec[float64]{{}, {Along: 1}, {Ahead: 1}, {Along: 1, Ahead: 1}}
	if got := sorted(spansOf(square)); !slices.Equal(got, [][2]int{{0, 1}, {0, 2}, {1, 3}}) {
		t.Errorf("a square: %v", got)
	}
	if got := sorted(spansOf(make([]plane.Vec[float64], 5))); !slices.Equal(got, [][2]int{{0, 1}, {0, 2}, {0, 3}, {0, 4}}) {
		t.Errorf("one place: %v", got)
	}
	wrong := []plane.Vec[float64]{{Along: math.NaN()}, {Along: math.Inf(1)}, {Along: 1e300}, {}}
	if got := spansOf(wrong); len(got) != 3 {
		t.Errorf("of what is no number: %v", got)
	}
}

// A mechanism with the tree of a layout is what its spec compiles to when it lists that tree in any order: every field of
// it. So nothing that reads a mechanism can tell which of both it has.
func TestTreeOfALayoutIsAListOfMembers(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	forks := topology.Forks(topology.Options{Bodies: 6})
	slides := topology.Forks(topology.Options{Bodies: 4, Slide: true})
	differ := map[string]bool{}
	for i, fork := range slices.Concat(forks, slides) {
		if fork.Slide < 0 && i%9 != 0 {
			continue
		}
		spec := fork.Spec()
		spec.Least, spec.Members = true, nil
		m, faults := Compile(spec)
		if len(faults) > 0 {
			t.Fatalf("%s: %v", spec.Name, faults)
		}
		layout := make([]plane.Vec[float64], len(m.Points))
		for p := range layout {
			layout[p] = plane.Vec[float64]{Along: 400 * r.Float64(), Ahead: 300 * r.Float64()}
		}
		got := m.At(layout)
		if got.Plain() != m || got.Least() || len(got.Members()) != len(m.Members()) || len(got.Tubes()) != len(m.Tubes()) {
			t.Errorf("%s: %d members and %d tubes; without a layout %d and %d", spec.Name, len(got.Members()), len(got.Tubes()), len(m.Members()), len(m.Tubes()))
		}
		listed := got.Spec
		listed.Members = slices.Clone(listed.Members)
		r.Shuffle(len(listed.Members), func(i, k int) { listed.Members[i], listed.Members[k] = listed.Members[k], listed.Members[i] })
		want, faults := Compile(listed)
		if len(faults) > 0 {
			t.Fatalf("%s: %v", spec.Name, faults)
		}
		if want.Plain() != want || want.At(layout) != want {
			t.Errorf("%s: one that lists its members is another at a layout", spec.Name)
		}
		own := *got
		own.plain, own.Spec = nil, listed
		if !reflect.DeepEqual(&own, want) {
			t.Errorf("%s: %+v; listed %+v", spec.Name, own.members, want.members)
		}
		if !slices.Equal(m.AppendTree(nil, layout), m.AppendTree([]byte{}, layout)) {
			t.Errorf("%s: two trees of one layout", spec.Name)
		}
		for b := range m.Bodies {
			if m.Varies(b) {
				differ[spec.Name] = true
			}
		}
	}
	if len(differ) < 20 {
		t.Errorf("%d mechanisms have bodies whose members vary", len(differ))
	}
}

// The inner tube of a slide is a member however long it is, and nothing else of the guide begins at its far end. A ground that
// is the frame has no members.
func TestTreesOfGuidesAndOfFrames(t *testing.T) {
	spec := scheme.MechanismSpec{
		Name: "leg", Ground: "legs", Axle: "lowers", Shock: [2]string{"legs", "lowers"}, Bodies: []string{"legs", "lowers"}, Least: true,
		Slides: []scheme.SlideSpec{{Name: "leg", Bodies: [2]string{"legs", "lowers"}, Through: [2]string{"leg_top", "leg_end"}}},
	}
	m, faults := Compile(spec)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	layout := make([]plane.Vec[float64], len(m.Points))
	layout[m.Point("leg_end")].Along = 300
	layout[m.Point(scheme.PointRoot)] = plane.Vec[float64]{Along: 295, Ahead: 10} // beside the far end
	layout[m.Point(scheme.PointShockUpper)] = plane.Vec[float64]{Along: 5, Ahead: 20}
	layout[m.Point(scheme.PointShockLower)].Along = 350
	layout[m.Point(scheme.PointAxle)].Along = 400
	own := m.At(layout)
	var guide []scheme.MemberSpec
	for _, mb := range own.Spec.Members {
		if mb.Body == "legs" {
			guide = append(guide, mb)
		}
	}
	want := []scheme.MemberSpec{{Body: "legs", From: "root", To: "shock_upper"}, {Body: "legs", From: "shock_upper", To: "leg_top"}, {Body: "legs", From: "leg_top", To: "leg_end"}}
	if own.Unsized() != "" || !slices.Equal(guide, want) {
		t.Errorf("%q, the guide has %v", own.Unsized(), guide)
	}

	balls := scheme.MechanismSpec{
		Name: "wishbones", Ground: "frame", Axle: "upright", Steering: []string{"low", "high"},
		Bodies: []string{"frame", "upright", "lower", "upper"}, Least: true,
		Pivots: []scheme.PivotSpec{
			{Name: "a", Bodies: []string{"frame", "lower"}},
			{Name: "b", Bodies: []string{"frame", "upper"}},
			{Name: "low", Bodies: []string{"lower", "upright"}},
			{Name: "high", Bodies: []string{"upper", "upright"}},
		},
		Shock: [2]string{"frame", "lower"},
	}
	m, faults = Compile(balls)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for _, mb := range m.Members() {
		if mb.Body == m.Ground() {
			t.Errorf("the frame has a member: %v", mb)
		}
	}
}

// Looking for the tree that a layout has takes no memory.
func TestTreesAreFoundWithoutMemory(t *testing.T) {
	fork := topology.Forks(topology.Options{Bodies: 6})[200]
	spec := fork.Spec()
	spec.Least, spec.Members = true, nil
	m, faults := Compile(spec)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	layout := make([]plane.Vec[float64], len(m.Points))
	for p := range layout {
		layout[p] = plane.Vec[float64]{Along: float64(p * p % 7), Ahead: float64(p)}
	}
	tree := m.AppendTree(nil, layout)
	if n := testing.AllocsPerRun(5, func() { tree = m.AppendTree(tree[:0], layout) }); n > 0 {
		t.Errorf("%g allocations", n)
	}
}
