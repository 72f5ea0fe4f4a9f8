package optimize

import (
	"math/rand"

	"github.com/MaxHalford/eaopt"

	"forkfront/optimize/population"
	"forkfront/optimize/random"
)

// genome is a member as eaopt sees it. Members never change, so a clone is the same one;
// all variation is the model's.
type genome struct{ m *population.Member }

func (g genome) Evaluate() (float64, error)         { return 0, nil }
func (g genome) Mutate(*rand.Rand)                  {}
func (g genome) Crossover(eaopt.Genome, *rand.Rand) {}
func (g genome) Clone() eaopt.Genome                { return g }

// model is one step of the search as an eaopt model: a generation of offspring, or a burst
// of the gradient stage when it is that one's turn. Individuals go back sorted, with their
// rank as fitness, so that the shell has nothing left to evaluate or to sort.
type model struct{ engine *engine }

func (m model) Validate() error { return nil }

func (m model) Apply(pop *eaopt.Population) error {
	if err := m.engine.step(); err != nil {
		return err
	}
	members := m.engine.population
	if len(pop.Individuals) > len(members) {
		pop.Individuals = pop.Individuals[:len(members)]
	}
	for i := range pop.Individuals {
		pop.Individuals[i].Genome = genome{members[i]}
		pop.Individuals[i].Fitness = float64(i)
		pop.Individuals[i].Evaluated = true
	}
	return nil
}

// minimise runs the shell until stop says so or a step fails.
func (e *engine) minimise(stop func() bool) error {
	ga, err := eaopt.GAConfig{
		NPops: 1, PopSize: uint(e.populationSize()), HofSize: 1,
		NGenerations: uint(e.settings.Evaluations), // a step spends at least one
		Model:        model{e},
		EarlyStop:    func(*eaopt.GA) bool { return stop() },
		RNG:          rand.New(random.NewSource(e.settings.Seed, random.Shell)),
	}.NewGA()
	if err != nil {
		return err
	}
	return ga.Minimize(func(*rand.Rand) eaopt.Genome { return genome{} })
}
