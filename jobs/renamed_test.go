package jobs

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/kinematics/scheme"
	"forkfront/objectives"
	"forkfront/objectives/structure/spaceframe"
)

// renamed calls the bodies and pivots of a concept by other names, drawn so that their order by name changes.
func renamed(c *files.ConceptFile, r *rand.Rand) {
	taken := map[string]string{
		scheme.PointAxle: scheme.PointAxle, scheme.PointRoot: scheme.PointRoot,
		scheme.PointShockUpper: scheme.PointShockUpper, scheme.PointShockLower: scheme.PointShockLower, "": "",
	}
	name := func(old string) string {
		if _, known := taken[old]; !known {
			taken[old] = fmt.Sprintf("n%06d_%s", r.IntN(1e6), strings.Repeat("x", len(taken)))
		}
		return taken[old]
	}
	each := func(all []string) []string {
		var to []string
		for _, s := range all {
			to = append(to, name(s))
		}
		return to
	}
	s := &c.Spec
	s.Ground, s.Axle, s.Brake, s.Bodies = name(s.Ground), name(s.Axle), name(s.Brake), each(s.Bodies)
	s.Shock = [2]string{name(s.Shock[0]), name(s.Shock[1])}
	if len(s.Steering) == 2 {
		s.Steering = each(s.Steering)
	}
	s.Pivots, s.Members = slices.Clone(s.Pivots), slices.Clone(s.Members)
	for i := range s.Pivots {
		s.Pivots[i] = scheme.PivotSpec{Name: name(s.Pivots[i].Name), Bodies: each(s.Pivots[i].Bodies)}
	}
	for i, mb := range s.Members {
		s.Members[i] = scheme.MemberSpec{Body: name(mb.Body), From: name(mb.From), To: name(mb.To)}
	}
	for i, sh := range s.Shafts {
		s.Shafts[i] = scheme.ShaftSpec{Pivot: name(sh.Pivot), Body: name(sh.Body)}
	}
	c.PointsMM = rekeyed(c.PointsMM, name)
	c.Across.HalfWidthMM, c.Across.Shafts = rekeyed(c.Across.HalfWidthMM, name), rekeyed(c.Across.Shafts, name)
	c.Across.OneSided = each(c.Across.OneSided)
}

func rekeyed[V any](m map[string]V, name func(string) string) map[string]V {
	to := map[string]V{}
	for k, v := range m {
		to[name(k)] = v
	}
	return to
}

// Stiffness, sizes, loads and mass do not depend on what bodies and pivots are called.
func TestNamesDoNotChangeTheStructure(t *testing.T) {
	t.Parallel()
	sized := 0
	for _, path := range conceptFiles(t) {
		if strings.Contains(path, "telescopic") {
			continue // slides get no sizes
		}
		sized++
		r := rand.New(rand.NewPCG(15, 10))
		var first objectives.Score
		for round := range 6 {
			c, source, err := files.ReadConcept(path, opened(t, path))
			if err != nil {
				t.Fatal(err)
			}
			if round > 0 {
				renamed(c, r)
			}
			d, err := cases.Design(c, source, io.Discard)
			if err != nil {
				t.Fatal(err)
			}
			var s objectives.Score
			objectives.NewScorer(cases.Conditions(c)).Score(&s, d).Complete(&s)
			if round == 0 {
				first = s
				continue
			}
			for i := range objectives.Measures {
				m := &objectives.Measures[i]
				if m.Needs != objectives.NeedStructure {
					continue
				}
				a, b := first.Values[i], s.Values[i]
				if (first.Missing[i] == "") != (s.Missing[i] == "") || !(math.Abs(a-b) <= 1e-9*(1+math.Abs(a))) {
					t.Errorf("%s: %s is %.12g, with other names %.12g; missing %q and %q", path, m.Name, a, b, first.Missing[i], s.Missing[i])
				}
			}
		}
	}
	if sized < 5 {
		t.Errorf("only %d forks with sizes", sized)
	}
}

// The body that a mechanism fixes a shaft to matters, and what the default is can be stated.
func TestShaftFixedToABody(t *testing.T) {
	const path = "examples/cargo-girder.yaml"
	lateral := func(shafts ...scheme.ShaftSpec) float64 {
		c, source, err := files.ReadConcept(path, opened(t, path))
		if err != nil {
			t.Fatal(err)
		}
		c.Spec.Shafts = shafts
		d, err := cases.Design(c, source, io.Discard)
		if err != nil {
			t.Fatal(err)
		}
		var s objectives.Score
		st := objectives.NewScorer(cases.Conditions(c)).Score(&s, d)
		side, _, ok := spaceframe.OutOfPlane(spaceframe.Of(objectives.Sizes(st)))
		if !ok {
			t.Fatal("loose")
		}
		return side
	}
	usual := lateral()
	stated := lateral(scheme.ShaftSpec{Pivot: "lower_front", Body: "blade"}, scheme.ShaftSpec{Pivot: "lower_rear", Body: "crown"})
	other := lateral(scheme.ShaftSpec{Pivot: "lower_front", Body: "lower_link"}, scheme.ShaftSpec{Pivot: "upper_front", Body: "upper_link"})
	if stated != usual {
		t.Errorf("%.9g N/mm with the default stated, %.9g without", stated, usual)
	}
	if math.Abs(other-usual) < 0.01*usual {
		t.Errorf("%.9g N/mm with the shafts on the links, %.9g with the shafts on the blade", other, usual)
	}
}
