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

// Without a budget the pace follows what is spent, so what a search comes to by a whole generation does not depend on where it
// is to end.
func TestAStageDoesNotKnowTheNext(t *testing.T) {
	s := optimize.Settings{Seed: 2, Evaluations: optimize.Unlimited, FrontSize: 30}
	var long, short trace
	s.Until = 2000
	search(t, testbed.ZDT1(), long.settings(s))
	s.Until = 1000
	search(t, testbed.ZDT1(), short.settings(s))
	whole := slices.IndexFunc(long.generations, func(g optimize.Generation) bool { return g.Evaluations > 1000 })
	if whole < 3 || !slices.Equal(long.generations[:whole], short.generations[:whole]) {
		t.Errorf("%d generations up to 1000 evaluations, and others when it ends there", whole)
	}
}
