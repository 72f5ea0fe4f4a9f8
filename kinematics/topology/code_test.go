package topology_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/topology"
)

// forksOfAllKinds are those with pins up to eight bodies, and those with a slide up to six.
func forksOfAllKinds() []topology.Topology {
	return slices.Concat(topology.Forks(topology.Options{Bodies: 8}), topology.Forks(topology.Options{Bodies: 6, Slide: true, AnyTrain: true}))
}

// renumbered is the same fork with its bodies numbered, and its pivots listed and turned, at random.
func renumbered(r *rand.Rand, t topology.Topology) topology.Topology {
	to := r.Perm(t.Bodies)
	pair := func(p [2]int) [2]int {
		k := r.IntN(2)
		return [2]int{to[p[k]], to[p[1-k]]}
	}
	other := topology.Topology{Bodies: t.Bodies, Slide: -1, Ground: to[t.Ground], Axle: to[t.Axle], Caliper: to[t.Caliper], Shock: pair(t.Shock)}
	for _, i := range r.Perm(len(t.Pivots)) {
		if i == t.Slide {
			other.Slide = len(other.Pivots)
		}
		other.Pivots = append(other.Pivots, pair(t.Pivots[i]))
	}
	return other
}

// By definition: one fork has one code, however its bodies are numbered; two forks have two; and a code says all about
// its fork.
func TestCodesNameForks(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 1))
	seen := map[string]bool{}
	for i, fork := range forksOfAllKinds() {
		code := fork.Code()
		if seen[code] {
			t.Errorf("%s names two forks", code)
		}
		seen[code] = true
		if i%7 != 0 {
			continue
		}
		other := renumbered(r, fork)
		same := other.Canonical()
		if got := same.Code(); got != code {
			t.Errorf("%s renumbered is %s", code, got)
		}
		read, err := topology.Parse(code)
		if err != nil || read.Code() != code || read.Duties() != fork.Duties() {
			t.Errorf("%s is read as %+v, %v", code, read, err)
		}
	}
}

// The codes of design drawings: a girder, an arm, an arm with a floating brake, a telescopic fork.
func TestCodesOfKnownForks(t *testing.T) {
	for code, duties := range map[string]string{
		"cl+cl":                         "2+0+0",
		"scl+cl":                        "2+0+0",
		"c1-c2-1l-2l+c1":                "4+0+0",
		"c1-cl-1b-lb+cl":                "2+2+0",
		"c1-c2-c3-14-1l-2l-34+c3":       "4+0+2",
		"c1-c2-c3-14-1l-2l-34+c4":       "4+0+2",
		"c1-c2-14-13-23-4l-3l+c1":       "6+0+0",
		"c1-c2-1l-s2l+2l":               "4+0+0",
		"c1-c2-c3-14-1l-2l-35-45-3l+c3": "",
	} {
		fork, err := topology.Parse(code)
		if (err == nil) != (duties != "") {
			t.Errorf("%s: %v", code, err)
			continue
		}
		if got := fork.Duties().String(); err == nil && got != duties {
			t.Errorf("%s: %s; expected %s", code, got, duties)
		}
	}
	other, err := topology.Parse("c2-c1-l1-l2+2c")
	if err != nil || other.Code() != "c1-c2-1l-2l+c1" {
		t.Errorf("the girder numbered otherwise is %+v, %v", other, err)
	}
}

func TestParseSaysWhatIsWrong(t *testing.T) {
	for code, want := range map[string]string{
		"":                                  "is not a code; expected pivots, + and the bodies of the shock",
		"girder":                            "is not a code",
		"c1-c2-1l-2l":                       "is not a code",
		"+":                                 "expected two bodies",
		"c1-c2-1l-2l+":                      "expected two bodies",
		"c1-c2-1l-2x+c1":                    `"x" in`,
		"sc1-sc2-1l-2l+c1":                  "two slides",
		"c1-c2-1l-2l+cc":                    "both ends of the shock",
		"c1-c1-1l-2l+c1":                    "no other pivot the same two",
		"c1-c2-12-1l+c1":                    "rigid",
		"c1-c2-1l+cl":                       "2+", // 3 degrees of freedom
		"c1-c2-1l-2l-3l+c1":                 "degrees of freedom",
		"c1-12-2l-cl+cl":                    "bodies bear no load",
		"c1-cb-1l-lb+c1":                    "guides the axle",
		"cl-c1-1b-slb+cl":                   "no pivot joins",
		"c9-cl+c9":                          "bodies",
		strings.Repeat("c1-", 99):           "is not a code",
		strings.Repeat("c1-", 99) + "cl+cl": "at most",
		"cb-lb+cl":                          "degrees of freedom",
	} {
		_, err := topology.Parse(code)
		if want == "2+" {
			want = "3 degrees of freedom"
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v; expected %q", code, err, want)
		}
	}
}

// A mechanism written for a topology compiles, moves with one degree of freedom at positions that have nothing in
// common (kinematics checks that by the velocities), has members that reach all of its points, and is recognized.
func TestMechanismsOfTopologies(t *testing.T) {
	checked, dyads := 0, 0
	for i, fork := range forksOfAllKinds() {
		if fork.Bodies == 8 && i%37 != 0 || fork.Slide >= 0 && i%5 != 0 {
			continue
		}
		checked++
		spec := fork.Spec()
		m, faults := mechanism.Compile(spec)
		if len(faults) > 0 {
			t.Errorf("%s: %v", fork.Code(), faults)
			continue
		}
		if m.LargestGroup() == 0 {
			dyads++
		}
		if fork.Slide < 0 && m.Unsized() != "" {
			t.Errorf("%s: %s", fork.Code(), m.Unsized())
		}
		if again, err := topology.Of(&spec); err != nil || again.Code() != fork.Code() {
			t.Errorf("%s is recognized as %+v, %v", fork.Code(), again, err)
		}
	}
	if t.Logf("%d mechanisms, %d of them solved by dyads", checked, dyads); checked < 300 || dyads < 100 || dyads == checked {
		t.Error("too few of either kind")
	}
}

func TestMechanismsThatAreNotEnumerated(t *testing.T) {
	girder, err := topology.Parse("c1-c2-1l-2l+c1")
	if err != nil {
		t.Fatal(err)
	}
	for want, change := range map[string]func(*scheme.MechanismSpec){
		"drives no shock": func(s *scheme.MechanismSpec) { s.Shock = [2]string{} },
		"joins 3 bodies":  func(s *scheme.MechanismSpec) { s.Pivots[0].Bodies = []string{"crown", "link_1", "link_2"} },
		"2 slides":        func(s *scheme.MechanismSpec) { s.Slides = make([]scheme.SlideSpec, 2) },
		"bear no load":    func(s *scheme.MechanismSpec) { s.Axle, s.Brake = "link_1", "link_1" },
	} {
		spec := girder.Spec()
		change(&spec)
		if _, err := topology.Of(&spec); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v; expected %q", err, want)
		}
	}
}
