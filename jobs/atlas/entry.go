package atlas

import (
	"cmp"
	"fmt"
	"strings"

	"forkfront/jobs/files"
	"forkfront/jobs/words"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/topology"
)

// Entry is one linkage of the list.
type Entry struct {
	topology.Topology
	Code    string
	Duties  topology.Duties
	BuiltIn []string // names of the built-in mechanisms with this topology

	mechanism *mechanism.Mechanism
}

// Entries describes topologies in their canonical numbering.
func Entries(forks []topology.Topology) ([]Entry, error) {
	names, err := builtIns()
	if err != nil {
		return nil, err
	}
	all := make([]Entry, len(forks))
	for i, t := range forks {
		code := t.Code()
		all[i] = Entry{Topology: t, Code: code, Duties: t.Duties(), BuiltIn: names[code], mechanism: files.Compile(t.Spec())}
	}
	return all, nil
}

// builtIns are the names of the built-in mechanisms by code.
func builtIns() (map[string][]string, error) {
	names := map[string][]string{}
	for _, name := range files.BuiltIns() {
		m, err := files.LoadMechanism(name, ".")
		if err != nil {
			return nil, err
		}
		t, err := topology.Of(&m.Spec)
		if err != nil {
			return nil, fmt.Errorf("built-in mechanism %s: %w", name, err)
		}
		names[t.Code()] = append(names[t.Code()], name)
	}
	return names, nil
}

// Guides says in words what guides the axle.
func (e *Entry) Guides() string {
	switch {
	case e.Duties.Guide == 2 && e.Slide >= 0 && e.slides(e.Ground, e.Axle):
		return "slide"
	case e.Duties.Guide == 2:
		return "arm"
	}
	return map[int]string{4: "four-bar", 6: "six-bar", 8: "eight-bar"}[e.Duties.Guide]
}

// slides tells whether the slide is between two bodies.
func (e *Entry) slides(a, b int) bool {
	p := e.Pivots[e.Slide]
	return p == [2]int{a, b} || p == [2]int{b, a}
}

// Does says in words what the bodies are there for.
func (e *Entry) Does() string {
	parts := []string{e.Guides()}
	if n := e.Duties.Caliper; n > 0 {
		parts = append(parts, fmt.Sprintf("caliper on %s more", words.Plural(n, "body", "bodies")))
	}
	if n := e.Duties.Shock; n > 0 {
		parts = append(parts, fmt.Sprintf("shock driven by %s more", words.Plural(n, "body", "bodies")))
	}
	return strings.Join(parts, ", ")
}

// Drives says which bodies the shock is between.
func (e *Entry) Drives() string { return e.Name(e.Shock[0]) + "–" + e.Name(e.Shock[1]) }

// Names are those of the built-in mechanisms, or a dash.
func (e *Entry) Names() string { return cmp.Or(strings.Join(e.BuiltIn, ", "), "–") }

// Solved says how the motion is solved.
func (e *Entry) Solved() string {
	if n := e.mechanism.LargestGroup(); n > 0 {
		return fmt.Sprintf("Newton on %d bodies", n)
	}
	return "dyads"
}
