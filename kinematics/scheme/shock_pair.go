package scheme

import (
	"fmt"
	"slices"
)

// Between is the same mechanism with its shock between two bodies, the upper eye on the first. It is called after both.
// The members of bodies that lose an eye are joined up again; a body that gains one has it on its first member, and the
// ground at the end of a member from its root. An eye that stays on its body stays where its members have it.
func (s *MechanismSpec) Between(upper, lower string) MechanismSpec {
	v := *s
	v.Name = fmt.Sprintf("%s %s-%s", s.Name, upper, lower)
	v.Shock = [2]string{upper, lower}
	v.Members = slices.Clone(s.Members)
	for i, point := range [2]string{PointShockUpper, PointShockLower} {
		if v.Shock[i] != s.Shock[i] {
			v.Members = withoutPoint(v.Members, point)
			v.Members = withPoint(v.Members, v.Shock[i], point)
		}
	}
	return v
}

// withoutPoint takes a point off its body's members. What it joined is joined to the first of its neighbours.
func withoutPoint(members []MemberSpec, point string) []MemberSpec {
	var kept []MemberSpec
	first := ""
	for _, m := range members {
		other := m.From
		if other == point {
			other = m.To
		}
		switch {
		case m.From != point && m.To != point:
			kept = append(kept, m)
		case first == "":
			first = other
		default:
			kept = append(kept, MemberSpec{Body: m.Body, From: first, To: other})
		}
	}
	return kept
}

// withPoint puts a point on a body that has members: between the ends of its first one or, where that begins at the
// ground's root, on a member of its own from there. A body without members stays without.
func withPoint(members []MemberSpec, body, point string) []MemberSpec {
	i := slices.IndexFunc(members, func(m MemberSpec) bool { return m.Body == body })
	switch {
	case i < 0:
		return members
	case members[i].From == PointRoot:
		return append(members, MemberSpec{Body: body, From: PointRoot, To: point})
	}
	m := members[i]
	return slices.Replace(members, i, i+1, MemberSpec{Body: body, From: m.From, To: point}, MemberSpec{Body: body, From: point, To: m.To})
}
