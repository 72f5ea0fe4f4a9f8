package report

import (
	"reflect"
	"testing"
)

// Candidates with the links of their case's first one need none of their own; others share a tree where theirs are alike.
func TestCandidatesAreToldApartByTheirLinks(t *testing.T) {
	first := [][][2]int{{{0, 1}, {1, 2}}, {{2, 3}}}
	other := [][][2]int{{{0, 1}, {0, 2}}, {{2, 3}}}
	one := &packedCase{Bodies: []packedBody{{Links: first[0]}, {Links: first[1]}}}
	p := packed{Case: []int{0, 1, 0, 0, 1}, Cases: []*packedCase{one, {Bodies: []packedBody{{Links: other[0]}, {Links: other[1]}}}}}
	p.branch([]movement{{links: first}, {links: other}, {links: other}, {links: first}, {links: first}})
	if !reflect.DeepEqual(p.Tree, []int{-1, -1, 0, -1, 1}) || !reflect.DeepEqual(p.Trees, [][][][2]int{other, first}) {
		t.Errorf("%v of %v", p.Tree, p.Trees)
	}
	p = packed{Case: []int{0, 0}, Cases: []*packedCase{one}}
	if p.branch([]movement{{links: first}, {links: first}}); p.Tree != nil || p.Trees != nil {
		t.Errorf("all alike: %v of %v", p.Tree, p.Trees)
	}
}
