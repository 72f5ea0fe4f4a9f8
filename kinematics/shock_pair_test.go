package kinematics_test

import (
	"fmt"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
)

// The members of a girder by hand, with its shock between other bodies.
func TestMembersOfShockPairs(t *testing.T) {
	girder := scheme.MechanismSpec{
		Name: "girder", Ground: "crown", Bodies: []string{"crown", "lower", "upper", "blade"}, Axle: "blade", Shock: [2]string{"crown", "lower"},
		Pivots: []scheme.PivotSpec{{Name: "a", Bodies: []string{"crown", "lower"}}, {Name: "b", Bodies: []string{"lower", "blade"}}, {Name: "c", Bodies: []string{"crown", "upper"}}, {Name: "d", Bodies: []string{"upper", "blade"}}},
		Members: []scheme.MemberSpec{
			{Body: "crown", From: "root", To: "a"},
			{Body: "crown", From: "root", To: "c"},
			{Body: "crown", From: "c", To: "shock_upper"},
			{Body: "lower", From: "a", To: "shock_lower"},
			{Body: "lower", From: "shock_lower", To: "b"},
			{Body: "upper", From: "c", To: "d"},
			{Body: "blade", From: "d", To: "b"},
			{Body: "blade", From: "b", To: "axle"},
		},
	}
	for pair, want := range map[[2]string]string{
		{"crown", "lower"}: "[{crown root a} {crown root c} {crown c shock_upper} {lower a shock_lower} {lower shock_lower b} {upper c d} {blade d b} {blade b axle}]",
		{"crown", "blade"}: "[{crown root a} {crown root c} {crown c shock_upper} {lower a b} {upper c d} {blade d shock_lower} {blade shock_lower b} {blade b axle}]",
		{"upper", "lower"}: "[{crown root a} {crown root c} {lower a shock_lower} {lower shock_lower b} {upper c shock_upper} {upper shock_upper d} {blade d b} {blade b axle}]",
		{"lower", "crown"}: "[{crown root a} {crown root c} {lower a shock_upper} {lower shock_upper b} {upper c d} {blade d b} {blade b axle} {crown root shock_lower}]",
	} {
		v := girder.Between(pair[0], pair[1])
		if got := fmt.Sprint(v.Members); got != want {
			t.Errorf("%v:\n%s, expected\n%s", pair, got, want)
		}
		m, faults := mechanism.Compile(v)
		if len(faults) > 0 || m.Unsized() != "" {
			t.Errorf("%v: %v, %s", pair, faults, m.Unsized())
		}
	}
	if got := fmt.Sprint(girder.Members[3]); got != "{lower a shock_lower}" {
		t.Errorf("the mechanism itself has changed: %s", got)
	}
}
