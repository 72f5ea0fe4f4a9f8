package files

import (
	"math"
	"slices"

	"forkfront/constraints"
	"forkfront/jobs/files/sections"
	"forkfront/objectives"
)

// AddDefaults adds the limits that are common practice for every measure that the job's constraints do not name. They
// become part of the job, so that a resumed run keeps those that it began with.
func (j *JobFile) AddDefaults() {
	for _, l := range j.defaults() {
		name := objectives.Measures[l.Measure].Name
		if !slices.ContainsFunc(j.Constraints, func(c JobConstraint) bool { return c.Measure == name }) {
			j.Constraints = append(j.Constraints, JobConstraint{Measure: name, Min: Finite(l.Min), Max: Finite(l.Max), Default: true})
		}
	}
}

// defaults are the limits that the job has unless it says otherwise.
func (j *JobFile) defaults() []constraints.Limit {
	coils := j.CoilRatesNPerMM
	if slices.Equal(coils, sections.CoilsOnSale()) {
		coils = nil
	}
	all := constraints.Defaults(coils, j.Structure.ForeAftNPerMM, j.Given(&j.Aims, &j.Build))
	if j.Race != nil {
		all = append(all, constraints.RaceDefaults()...)
	}
	return all
}

// defaultNames are the measures of these limits.
func (j *JobFile) defaultNames() (names []string) {
	for _, l := range j.defaults() {
		names = append(names, objectives.Measures[l.Measure].Name)
	}
	return names
}

// Finite is an end of a range; nil where it does not bind.
func Finite(x float64) *float64 {
	if math.IsInf(x, 0) {
		return nil
	}
	return &x
}
