package topology

import (
	"errors"
	"fmt"
	"slices"

	"forkfront/kinematics/scheme"
)

// Of is the canonical topology of a mechanism that compiles. The error tells what it has that is not enumerated: a pin
// through several bodies, more than one slide, no shock, or bodies that Check objects to.
func Of(s *scheme.MechanismSpec) (Topology, error) {
	t := Topology{Bodies: len(s.Bodies), Slide: -1}
	number := func(body string) int { return slices.Index(s.Bodies, body) }
	switch {
	case s.Shock == [2]string{}:
		return t, errors.New("it drives no shock")
	case len(s.Slides) > 1:
		return t, fmt.Errorf("it has %d slides; at most one is allowed", len(s.Slides))
	}
	for _, p := range s.Pivots {
		if len(p.Bodies) != 2 {
			return t, fmt.Errorf("pivot %q joins %d bodies; expected two", p.Name, len(p.Bodies))
		}
		t.Pivots = append(t.Pivots, [2]int{number(p.Bodies[0]), number(p.Bodies[1])})
	}
	for _, p := range s.Slides {
		t.Slide = len(t.Pivots)
		t.Pivots = append(t.Pivots, [2]int{number(p.Bodies[0]), number(p.Bodies[1])})
	}
	t.Ground, t.Axle = number(s.Ground), number(s.Axle)
	if t.Caliper = t.Axle; s.Brake != "" {
		t.Caliper = number(s.Brake)
	}
	t.Shock = [2]int{number(s.Shock[0]), number(s.Shock[1])}
	if err := t.Check(); err != nil {
		return t, err
	}
	return t.Canonical(), nil
}
