package store

import (
	"fmt"

	"forkfront/objectives/simulation"
)

// Outcomes are what candidates of a case did in events, by their numbers, so that a run that is stopped does not simulate them
// again.
type Outcomes struct {
	Digest string
	Case   string
	Of     map[int]simulation.Results
}

func (c *Checkpoints) outcomesPath(i int) string { return c.path(fmt.Sprintf("events-%05d", i)) }

// LoadOutcomes reads those of case i, whose name it has; without any it is empty. A file that cannot be used is reported, and its
// candidates are simulated again.
func (c *Checkpoints) LoadOutcomes(i int, name string) (o *Outcomes, trouble error) {
	o = new(Outcomes)
	err := Unseal(c.outcomesPath(i), o)
	switch {
	case err == nil && o.Digest != c.Digest:
		err = fmt.Errorf("%s belongs to another job", c.outcomesPath(i))
	case err == nil && o.Case != name:
		err = fmt.Errorf("%s belongs to case %q; expected case %q", c.outcomesPath(i), o.Case, name)
	}
	if err != nil || o.Of == nil {
		o = &Outcomes{Digest: c.Digest, Case: name, Of: map[int]simulation.Results{}}
	}
	if Unreadable(err) {
		trouble = err
	}
	return o, trouble
}

// SaveOutcomes keeps those of case i.
func (c *Checkpoints) SaveOutcomes(i int, o *Outcomes) error { return Seal(c.outcomesPath(i), o) }
