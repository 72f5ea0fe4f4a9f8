package files

import (
	"reflect"
	"slices"
)

// Unlike lists what a job says otherwise than a concept of it, but for its bands and coils.
func (j *JobFile) Unlike(c *ConceptFile) (other []string) {
	here := func(b Bike) bool {
		b.Name = c.Bike.Name
		return b == c.Bike
	}
	for _, x := range []struct {
		key  string
		same bool
	}{
		{"bike", slices.ContainsFunc(j.Bikes, here)},
		{"travel_mm", j.TravelMM == c.TravelMM},
		{"sag_pct", j.SagPct == c.SagPct},
		{"braking_g", j.BrakingG == c.BrakingG},
		{"attitude", j.Attitude == c.Attitude},
		{"material", slices.Contains(j.Materials, c.Material)},
		{"package", j.hasRoom(c)},
		{"structure", reflect.DeepEqual(j.Structure, c.Structure)},
		{"telescopic", j.Telescopic == c.Telescopic},
	} {
		if !x.same {
			other = append(other, x.key)
		}
	}
	return other
}

// hasRoom tells whether the concept's package is one of the job's.
func (j *JobFile) hasRoom(c *ConceptFile) bool {
	all := j.Packages
	if len(all) == 0 {
		all = []PackageSection{j.Package}
	}
	return slices.ContainsFunc(all, func(p PackageSection) bool {
		p.Name = c.Package.Name
		return reflect.DeepEqual(p, c.Package)
	})
}
