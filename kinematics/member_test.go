package kinematics

import (
	"slices"
	"strings"
	"testing"
)

func withMembers(members ...MemberSpec) MechanismSpec {
	s := girderSpec
	s.Members = members
	return s
}

var girderMembers = []MemberSpec{
	{"crown", "root", "lower_rear"},
	{"crown", "root", "upper_rear"},
	{"crown", "root", "shock_upper"},
	{"lower_link", "lower_rear", "shock_lower"},
	{"lower_link", "shock_lower", "lower_front"},
	{"upper_link", "upper_rear", "upper_front"},
	{"blade", "upper_front", "lower_front"},
	{"blade", "lower_front", "axle"},
}

// Whatever the order of the file, members come by body and from the root of each tree outwards.
func TestMembersAreOrderedFromTheRoot(t *testing.T) {
	m := mustCompile(t, withMembers(girderMembers...))
	turned := slices.Clone(girderMembers)
	slices.Reverse(turned)
	for i := range turned {
		turned[i].From, turned[i].To = turned[i].To, turned[i].From
	}
	if other := mustCompile(t, withMembers(turned...)); !slices.Equal(m.Members(), other.Members()) {
		t.Errorf("the order of the file matters: %v, %v", m.Members(), other.Members())
	}
	if m.Unsized() != "" || len(m.Members()) != len(girderMembers) {
		t.Fatalf("%d members, unsized %q", len(m.Members()), m.Unsized())
	}
	seen := map[[2]int]bool{}
	for i, mb := range m.Members() {
		first := i == 0 || m.Members()[i-1].Body != mb.Body
		if !first && !seen[[2]int{mb.Body, mb.From}] {
			t.Errorf("member %v starts from a point that no member before it has", mb)
		}
		if first && mb.Body == m.Ground() && m.Points[mb.From] != PointRoot {
			t.Errorf("the ground's tree starts at %q", m.Points[mb.From])
		}
		seen[[2]int{mb.Body, mb.From}], seen[[2]int{mb.Body, mb.To}] = true, true
	}
}

func TestMembersThatDoNotFormATree(t *testing.T) {
	for _, c := range []struct {
		add  MemberSpec
		want string
	}{
		{MemberSpec{"blade", "upper_front", "axle"}, "closes a loop"},
		{MemberSpec{"crown", "lower_rear", "upper_rear"}, "closes a loop"},
	} {
		if _, faults := Compile(withMembers(append(slices.Clone(girderMembers), c.add)...)); len(faults) != 1 || !strings.Contains(faults[0].Text, c.want) {
			t.Errorf("%v: %v, want one fault that says %q", c.add, faults, c.want)
		}
	}
	apart := []MemberSpec{{"crown", "root", "lower_rear"}, {"crown", "upper_rear", "shock_upper"}}
	if _, faults := Compile(withMembers(apart...)); len(faults) != 1 || !strings.Contains(faults[0].Text, "is not connected to the others") {
		t.Errorf("two trees on one body: %v", faults)
	}
}

func TestMembersThatCannotBeSized(t *testing.T) {
	for want, members := range map[string][]MemberSpec{
		`no member of "crown" leads to its point "upper_rear"`: slices.Delete(slices.Clone(girderMembers), 1, 2),
		`body "upper_link" has no members`:                     slices.Delete(slices.Clone(girderMembers), 5, 6),
		"":                                                     girderMembers[3:], // a ground without members is the frame's
	} {
		if m := mustCompile(t, withMembers(members...)); m.Unsized() != want {
			t.Errorf("unsized %q, want %q", m.Unsized(), want)
		}
	}
	legs := telescopicSpec
	for want, members := range map[string][]MemberSpec{
		"":                             {{"crown", "upper_bush", "lower_bush"}, {"crown", "root", "upper_bush"}, {"crown", "upper_bush", "shock_upper"}, {"lowers", "axle", "shock_lower"}},
		`body "lowers" has no members`: {{"crown", "upper_bush", "lower_bush"}, {"crown", "root", "upper_bush"}, {"crown", "upper_bush", "shock_upper"}},
		`no member of "crown" runs from "upper_bush" to "lower_bush", between which the tube of slide "tube" is straight`: {{"crown", "root", "lower_bush"}, {"crown", "root", "upper_bush"}, {"crown", "upper_bush", "shock_upper"}, {"lowers", "axle", "shock_lower"}},
	} {
		legs.Members = members
		if m := mustCompile(t, legs); m.Unsized() != want {
			t.Errorf("unsized %q, want %q", m.Unsized(), want)
		}
	}
}
