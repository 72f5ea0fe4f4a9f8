package kinematics

import (
	"slices"
	"strings"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
)

func withMembers(members ...scheme.MemberSpec) scheme.MechanismSpec {
	s := girderSpec
	s.Members = members
	return s
}

var girderMembers = []scheme.MemberSpec{
	{Body: "crown", From: "root", To: "lower_rear"},
	{Body: "crown", From: "root", To: "upper_rear"},
	{Body: "crown", From: "root", To: "shock_upper"},
	{Body: "lower_link", From: "lower_rear", To: "shock_lower"},
	{Body: "lower_link", From: "shock_lower", To: "lower_front"},
	{Body: "upper_link", From: "upper_rear", To: "upper_front"},
	{Body: "blade", From: "upper_front", To: "lower_front"},
	{Body: "blade", From: "lower_front", To: "axle"},
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
		if first && mb.Body == m.Ground() && m.Points[mb.From] != scheme.PointRoot {
			t.Errorf("the ground's tree starts at %q", m.Points[mb.From])
		}
		seen[[2]int{mb.Body, mb.From}], seen[[2]int{mb.Body, mb.To}] = true, true
	}
}

func TestMembersThatDoNotFormATree(t *testing.T) {
	for _, c := range []struct {
		add  scheme.MemberSpec
		want string
	}{
		{scheme.MemberSpec{Body: "blade", From: "upper_front", To: "axle"}, "closes a loop"},
		{scheme.MemberSpec{Body: "crown", From: "lower_rear", To: "upper_rear"}, "closes a loop"},
	} {
		if _, faults := mechanism.Compile(withMembers(append(slices.Clone(girderMembers), c.add)...)); len(faults) != 1 || !strings.Contains(faults[0].Text, c.want) {
			t.Errorf("%v: %v, want one fault that says %q", c.add, faults, c.want)
		}
	}
	apart := []scheme.MemberSpec{{Body: "crown", From: "root", To: "lower_rear"}, {Body: "crown", From: "upper_rear", To: "shock_upper"}}
	if _, faults := mechanism.Compile(withMembers(apart...)); len(faults) != 1 || !strings.Contains(faults[0].Text, "is not connected to the others") {
		t.Errorf("two trees on one body: %v", faults)
	}
}

func TestMembersThatCannotBeSized(t *testing.T) {
	for want, members := range map[string][]scheme.MemberSpec{
		`no member of "crown" leads to its point "upper_rear"`: slices.Delete(slices.Clone(girderMembers), 1, 2),
		`body "upper_link" has no members`:                     slices.Delete(slices.Clone(girderMembers), 5, 6),
		"":                                                     girderMembers[3:], // a ground without members is the frame's
	} {
		if m := mustCompile(t, withMembers(members...)); m.Unsized() != want {
			t.Errorf("unsized %q, want %q", m.Unsized(), want)
		}
	}
	legs := telescopicSpec
	for want, members := range map[string][]scheme.MemberSpec{
		"":                             {{Body: "crown", From: "upper_bush", To: "lower_bush"}, {Body: "crown", From: "root", To: "upper_bush"}, {Body: "crown", From: "upper_bush", To: "shock_upper"}, {Body: "lowers", From: "axle", To: "shock_lower"}},
		`body "lowers" has no members`: {{Body: "crown", From: "upper_bush", To: "lower_bush"}, {Body: "crown", From: "root", To: "upper_bush"}, {Body: "crown", From: "upper_bush", To: "shock_upper"}},
		`no member of "crown" runs from "upper_bush" to "lower_bush", between which the tube of slide "tube" is straight`: {{Body: "crown", From: "root", To: "lower_bush"}, {Body: "crown", From: "root", To: "upper_bush"}, {Body: "crown", From: "upper_bush", To: "shock_upper"}, {Body: "lowers", From: "axle", To: "shock_lower"}},
	} {
		legs.Members = members
		if m := mustCompile(t, legs); m.Unsized() != want {
			t.Errorf("unsized %q, want %q", m.Unsized(), want)
		}
	}
}
