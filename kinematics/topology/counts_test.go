package topology_test

import (
	"fmt"
	"testing"

	"forkfront/kinematics/topology"
)

// Numbers of chains: R. L. Norton, Design of Machinery, table 2-3 (recalled; 1, 2 and 16 also counted by an independent
// enumeration). Inversions: 1, 5 and 71 in section 2.12 of the same book (recalled, and counted likewise). Two bodies
// with one pivot are counted by hand. For ten links only the chains are in the table.
func TestChainsAndInversionsAreThePublishedNumbers(t *testing.T) {
	for _, want := range []struct{ bodies, chains, inversions int }{{2, 1, 1}, {4, 1, 1}, {6, 2, 5}, {8, 16, 71}, {10, 230, 0}} {
		chains := topology.Chains(want.bodies)
		inversions := 0
		for i := range chains {
			inversions += len(chains[i].Inversions(false))
		}
		if len(chains) != want.chains || want.inversions > 0 && inversions != want.inversions {
			t.Errorf("%d bodies: %d chains with %d inversions; expected %d with %d", want.bodies, len(chains), inversions, want.chains, want.inversions)
		}
	}
	for _, odd := range []int{0, 1, 3, 5, 7, 9} {
		if chains := topology.Chains(odd); chains != nil {
			t.Errorf("%d bodies: %d chains; 3 (n − 1) − 2 j = 1 has no solution", odd, len(chains))
		}
	}
}

// Assortments of eight links, by numbers of binary, ternary and quaternary ones: Norton, figure 2-11 (recalled, and
// counted independently).
func TestAssortmentsOfEightLinks(t *testing.T) {
	got := map[string]int{}
	for _, c := range topology.Chains(8) {
		got[fmt.Sprint(c.Assortment())]++
	}
	if want := map[string]int{"[4 4]": 9, "[5 2 1]": 5, "[6 0 2]": 2}; fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%v; expected %v", got, want)
	}
}

// Of the two six-link chains, Watt's has its ternary links joined and two inversions, Stephenson's has them apart and
// three (encyclopaedia article "Six-bar linkage", read; Plecnik and McCarthy name Watt II, Stephenson II and III, abstract read).
func TestWattAndStephenson(t *testing.T) {
	found := map[bool]int{}
	for _, c := range topology.Chains(6) {
		ternary := map[int]int{}
		for _, p := range c.Pivots {
			ternary[p[0]]++
			ternary[p[1]]++
		}
		joined := false
		for _, p := range c.Pivots {
			joined = joined || ternary[p[0]] == 3 && ternary[p[1]] == 3
		}
		found[joined] += len(c.Inversions(false))
	}
	if found[true] != 2 || found[false] != 3 {
		t.Errorf("Watt %d, Stephenson %d inversions; expected 2 and 3", found[true], found[false])
	}
}

// An eight-link chain with one quaternary, two ternary and five binary links and a mirror symmetry has five inversions
// (Norton's solutions manual, P2-45, read).
func TestAnEightLinkChainWithFiveInversions(t *testing.T) {
	found := 0
	for _, c := range topology.Chains(8) {
		if fmt.Sprint(c.Assortment()) == "[5 2 1]" && len(c.Inversions(false)) == 5 {
			found++
		}
	}
	if found == 0 {
		t.Error("no such chain has five inversions")
	}
}

// The slider-crank is one chain; where guide and slider are not told apart, it has two inversions: one on a body of the
// slide, one on another (text books tell them apart and have four; two by an independent count).
func TestSliderCranks(t *testing.T) {
	c := topology.Chains(4)[0]
	slides := map[int]bool{}
	for _, i := range c.Inversions(true) {
		slides[i.Slide] = true
	}
	if n := len(slides); n != 1 {
		t.Errorf("%d chains with a slide; expected 1", n)
	}
	if n := len(c.Inversions(true)); n != 2 {
		t.Errorf("%d inversions; expected 2", n)
	}
}

// What is listed: forks with pins up to eight bodies, with one slide up to six, with trains of any length to six. The
// counts up to six bodies are those of an enumeration that shares no code with this one, see
// TestForksAreThoseCountedOtherwise; they stand here so that a change is noticed.
func TestNumbersOfForks(t *testing.T) {
	for _, want := range []struct {
		topology.Options
		forks int
	}{
		{topology.Options{Bodies: 2}, 1},
		{topology.Options{Bodies: 4}, 16},
		{topology.Options{Bodies: 6}, 208},
		{topology.Options{Bodies: 8}, 5530},
		{topology.Options{Bodies: 2, Slide: true}, 1},
		{topology.Options{Bodies: 4, Slide: true}, 51},
		{topology.Options{Bodies: 6, Slide: true}, 1260},
		{topology.Options{Bodies: 6, AnyTrain: true}, 353},
	} {
		if got := len(topology.Forks(want.Options)); got != want.forks {
			t.Errorf("%+v: %d forks; expected %d", want.Options, got, want.forks)
		}
	}
}

func BenchmarkForksUpToEightBodies(b *testing.B) {
	for b.Loop() {
		if len(topology.Forks(topology.Options{Bodies: 8})) == 0 {
			b.Fatal("no forks")
		}
	}
}
