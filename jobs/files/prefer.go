package files

import (
	"fmt"
	"slices"

	"forkfront/objectives"
	"forkfront/results/picks"
)

// CheckPrefer reports the first weight by which the candidates of the job cannot be ranked.
func (j *JobFile) CheckPrefer(p picks.Preference) error {
	if err := p.Check(); err != nil {
		return err
	}
	for name := range p {
		aimed := slices.ContainsFunc(j.Objectives, func(o JobObjective) bool { return o.Measure == name })
		if m := &objectives.Measures[objectives.Index(name)]; m.Sense == objectives.Neutral && !aimed {
			return fmt.Errorf("%s: %w; give it an objective with a sense or a band", name, picks.ErrNoDirection)
		}
	}
	return nil
}
