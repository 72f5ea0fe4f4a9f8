package files

import (
	"github.com/invopop/jsonschema"

	"forkfront/objectives"
	"forkfront/objectives/simulation"
)

// MeasureNames lists all that objectives and constraints can name, for suggestions.
func MeasureNames() []string {
	var names []string
	for _, list := range [][]objectives.Measure{objectives.Measures, objectives.EventMeasures} {
		for i := range list {
			names = append(names, list[i].Name)
		}
	}
	return names
}

// readingNames lists the quantities of events.
func readingNames() []string {
	var names []string
	for _, r := range simulation.Readings {
		names = append(names, r.Name())
	}
	return names
}

func knownMeasure(name string) bool { return objectives.Index(name) >= 0 }

// listMeasures makes a schema allow the names of the registry wherever a measure is expected.
func listMeasures(s *jsonschema.Schema) {
	if s.Properties == nil {
		return
	}
	if p, ok := s.Properties.Get("measure"); ok {
		for _, name := range MeasureNames() {
			p.Enum = append(p.Enum, name)
		}
	}
}
