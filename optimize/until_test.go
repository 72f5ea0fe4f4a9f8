package optimize_test

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"forkfront/optimize"
	"forkfront/optimize/testbed"
)

// A search that goes on in stages spends exactly what each stage allows, whatever the workers and wherever within a stage it was
// stopped and resumed, and keeps what it had: no front of a later stage covers less.
func TestASearchGoesOnInStages(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for name, p := range map[string]optimize.Problem{
		"two objectives": testbed.ZDT1(), "one": testbed.G06(), "constraints": testbed.OSY(), "mixed": mixed{}, "nothing allowed": barred{}, "niches": halves{},
	} {
		s := optimize.Settings{Seed: 5, Evaluations: optimize.Unlimited, FrontSize: 30, GradientShare: 0.3, Workers: 1}
		other := s
		other.Workers = 2
		var stage, stoppedStage []byte
		for _, until := range []int{300, 601, 1201, 1300} {
			var whole, stopped trace
			s.Until, s.Resume = until, stage
			want := search(t, p, whole.settings(s))
			if want.Evaluations != until {
				t.Fatalf("%s: %d evaluations, not %d", name, want.Evaluations, until)
			}
			stage = whole.states[len(whole.states)-1]
			other.Until, other.Resume = until, whole.states[rng.IntN(len(whole.states))]
			if rng.IntN(2) == 0 && stoppedStage != nil {
				other.Resume = stoppedStage
			}
			got := search(t, p, stopped.settings(other))
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%s: another front at %d evaluations after a stop", name, until)
			}
			stoppedStage = stopped.states[len(stopped.states)-1]
		}
	}
}

// A search without a budget paces its first stage by the end of it: what it finds is what a search with that budget finds.
func TestAStageIsPacedByItsEnd(t *testing.T) {
	for name, p := range map[string]optimize.Problem{
		"two objectives": testbed.ZDT1(), "constraints": testbed.OSY(), "mixed": mixed{}, "nothing allowed": barred{}, "niches": halves{},
	} {
		s := optimize.Settings{Seed: 2, Evaluations: 1500, FrontSize: 30, GradientShare: 0.3}
		var budget, stage trace
		want := search(t, p, budget.settings(s))
		s.Evaluations, s.Until = optimize.Unlimited, 1500
		if got := search(t, p, stage.settings(s)); !reflect.DeepEqual(got.Front, want.Front) || !slices.Equal(stage.generations, budget.generations) {
			t.Errorf("%s: a stage finds other candidates than a search with its budget", name)
		}
	}
}
