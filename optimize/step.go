package optimize

import randv2 "math/rand/v2"

// step is one generation, or one burst of the gradient stage. One that fails leaves the
// state as it was before.
func (e *engine) step() error {
	if err := e.stopping.Err(); err != nil {
		return err
	}
	mark := e.snapshot()
	stage, err := e.generation()
	if err != nil {
		e.rollBack(mark)
		return err
	}
	e.generations++
	e.report(stage)
	return e.checkpoint()
}

func (e *engine) generation() (stage string, err error) {
	if err := e.measureSome(); err != nil {
		return "", err
	}
	switch {
	case e.population == nil:
		return "genetic", e.initialise()
	case e.gradientDue():
		if made, err := e.burst(); made || err != nil {
			return "gradient", err
		}
		return "gradient", e.vary()
	}
	return "genetic", e.vary()
}

// vary makes one generation of offspring.
func (e *engine) vary() error {
	if e.singleObjective() {
		return e.evolve()
	}
	return e.breed()
}

// snapshot is what a generation changes before its evaluations are in.
type snapshot struct {
	search, gradient randv2.PCG
	stage            gradientStage
}

func (e *engine) snapshot() snapshot {
	return snapshot{*e.source.PCG, *e.gradient.source.PCG, e.gradient}
}

func (e *engine) rollBack(m snapshot) {
	*e.source.PCG, *e.gradient.source.PCG, e.gradient = m.search, m.gradient, m.stage
}

// report tells Progress and the stagnation count how the archive stands.
func (e *engine) report(stage string) {
	s := &e.settings
	if s.Progress == nil && s.StagnationGenerations == 0 {
		return
	}
	v := e.growth.Look(e.archive, e.population, e.generations)
	if s.Progress != nil {
		s.Progress(Generation{
			Number: e.generations, Evaluations: e.used, Feasible: e.feasible,
			ArchiveSize: len(e.archive.Members), Hypervolume: v, Stage: stage,
		})
	}
}
