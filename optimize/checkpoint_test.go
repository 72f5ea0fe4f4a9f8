package optimize_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"forkfront/optimize"
	"forkfront/optimize/arithmetic"
	"forkfront/optimize/testbed"
)

// resumable are the problems and settings that the tests of stopping run through.
func resumable() map[string]func() (optimize.Problem, optimize.Settings) {
	all := map[string]func() (optimize.Problem, optimize.Settings){
		"mixed": func() (optimize.Problem, optimize.Settings) {
			return mixed{}, optimize.Settings{GradientShare: 0.4, Start: [][]float64{{9, 2.2, 6, 0}}}
		},
	}
	all["nothing allowed"] = func() (optimize.Problem, optimize.Settings) {
		return barred{}, optimize.Settings{Evaluations: optimize.Unlimited, StagnationGenerations: 2}
	}
	all["no budget"] = func() (optimize.Problem, optimize.Settings) {
		return testbed.ZDT1(), optimize.Settings{Evaluations: optimize.Unlimited, StagnationGenerations: 1, GradientShare: 0.4}
	}
	for _, share := range []float64{0, 0.4} {
		all[fmt.Sprintf("one objective, share %g", share)] = func() (optimize.Problem, optimize.Settings) {
			return testbed.Semicircle(), optimize.Settings{GradientShare: share, Evaluations: 5000}
		}
		all[fmt.Sprintf("one objective with levels, share %g", share)] = func() (optimize.Problem, optimize.Settings) {
			return counted{}, optimize.Settings{GradientShare: share, Start: [][]float64{{3, 3, 2, 1, 0}}}
		}
	}
	all["one objective, no budget"] = func() (optimize.Problem, optimize.Settings) {
		return testbed.G06(), optimize.Settings{Evaluations: optimize.Unlimited, StagnationGenerations: 60}
	}
	all["one objective, nothing allowed"] = func() (optimize.Problem, optimize.Settings) {
		return barredOne{}, optimize.Settings{Evaluations: 1200}
	}
	for _, share := range []float64{0, 0.4} {
		all[fmt.Sprintf("late values, share %g", share)] = func() (optimize.Problem, optimize.Settings) {
			return newDear(3, true), optimize.Settings{FrontSize: 30, Measurements: 60, GradientShare: share}
		}
	}
	all["one objective, late"] = func() (optimize.Problem, optimize.Settings) {
		return newDear(1, false), optimize.Settings{Evaluations: 1500, Measurements: 50, FrontSize: 1}
	}
	all["niches"] = func() (optimize.Problem, optimize.Settings) { return halves{}, optimize.Settings{FrontSize: 30} }
	for _, c := range testbed.All() {
		share := 0.0
		if len(all)%2 == 0 || c.Derivative != nil {
			share = 0.4
		}
		all[c.Name+string(rune('0'+c.M))] = func() (optimize.Problem, optimize.Settings) {
			return c.Problem, optimize.Settings{GradientShare: share, FrontSize: 30}
		}
	}
	return all
}

// trace is what a search let see: its states and generations, in their order.
type trace struct {
	states      [][]byte
	generations []optimize.Generation
}

func (c *trace) settings(s optimize.Settings) optimize.Settings {
	s.Checkpoint = func(state []byte) error { c.states = append(c.states, slices.Clone(state)); return nil }
	s.Progress = func(g optimize.Generation) { c.generations = append(c.generations, g) }
	return s
}

func TestResumeFromAnyGenerationGivesTheSameFront(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	tried := 0
	for name, make := range resumable() {
		p, s := make()
		s.Seed, s.Workers, s.ArchiveLimit = 5, 1, 150
		if s.Evaluations == 0 {
			s.Evaluations = 2400
		}
		var whole trace
		want := search(t, p, whole.settings(s))
		if len(whole.states) != want.Generations || len(whole.generations) != want.Generations {
			t.Fatalf("%s: %d states of %d generations", name, len(whole.states), want.Generations)
		}
		for _, k := range []int{0, rng.IntN(want.Generations), rng.IntN(want.Generations), want.Generations - 1} {
			var rest trace
			again := rest.settings(s)
			again.Resume, again.Workers = whole.states[k], 1+tried%2
			got := search(t, p, again)
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%s: another front when resumed after generation %d of %d", name, k+1, want.Generations)
			}
			if len(rest.generations) != want.Generations-k-1 || !slices.Equal(rest.generations, whole.generations[k+1:]) {
				t.Errorf("%s: other generations when resumed after %d of %d", name, k+1, want.Generations)
			}
			tried++
		}
	}
	if tried < 40 {
		t.Fatalf("only %d resumes tried", tried)
	}
}

// tripping ends a context at the n-th evaluation counted over all its forks.
type tripping struct {
	optimize.Problem
	left *atomic.Int64
	trip func()
}

func (p tripping) Evaluate(dst *optimize.Outcome, x []float64) {
	if p.left.Add(-1) == 0 {
		p.trip()
	}
	p.Problem.Evaluate(dst, x)
}

// Stopped again and again in the middle of generations, two workers at it, a search comes
// to the same front; the state that is written when the context ends suffices.
func TestStoppedAtRandomReachesTheSameFront(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for _, p := range []optimize.Problem{testbed.ZDT1(), testbed.BNH(), testbed.DTLZ2(5), mixed{}, testbed.Semicircle()} {
		s := optimize.Settings{Seed: 9, Evaluations: 3000, FrontSize: 40, GradientShare: 0.3, Workers: 2}
		left := &atomic.Int64{}
		left.Store(1 << 40)
		want := search(t, tripping{p, left, nil}, s)
		var state []byte
		s.Checkpoint, s.CheckpointEvery = func(b []byte) error { state = slices.Clone(b); return nil }, time.Hour
		for stops := 0; ; stops++ {
			ctx, cancel := context.WithCancel(context.Background())
			left := &atomic.Int64{}
			left.Store(int64(1 + rng.IntN(900)))
			s.Resume = state
			got, err := optimize.Search(ctx, tripping{p, left, cancel}, s)
			cancel()
			if err == nil {
				if !reflect.DeepEqual(got, want) {
					t.Errorf("%T: another front after %d stops", p, stops)
				}
				if stops < 3 {
					t.Errorf("%T: stopped only %d times", p, stops)
				}
				break
			}
			if !errors.Is(err, context.Canceled) || got == nil {
				t.Fatalf("%T: %v", p, err)
			}
		}
	}
}

func oneState(t *testing.T, p optimize.Problem, s optimize.Settings) []byte {
	t.Helper()
	var c trace
	search(t, p, c.settings(s))
	return c.states[len(c.states)/2]
}

func resume(p optimize.Problem, s optimize.Settings, state []byte) error {
	s.Resume = state
	_, err := optimize.Search(context.Background(), p, s)
	return err
}

func TestDamagedStatesAreRefused(t *testing.T) {
	s := optimize.Settings{Seed: 1, Evaluations: 120, Population: 8, ArchiveLimit: 10, GradientShare: 0.3, Workers: 1}
	p := testbed.DTLZ2(4)
	state := oneState(t, p, s)
	if err := resume(p, s, state); err != nil {
		t.Fatal(err)
	}
	for n := 0; n < len(state); n += 1 + n/50 {
		if err := resume(p, s, state[:n]); !errors.Is(err, optimize.ErrStateDamaged) {
			t.Fatalf("cut to %d of %d bytes: %v", n, len(state), err)
		}
		flipped := slices.Clone(state)
		flipped[n] ^= 1 << (n % 8)
		if err := resume(p, s, flipped); !errors.Is(err, optimize.ErrStateDamaged) {
			t.Fatalf("byte %d flipped: %v", n, err)
		}
	}
	if err := resume(p, s, append(slices.Clone(state), 0)); !errors.Is(err, optimize.ErrStateDamaged) {
		t.Errorf("a byte more: %v", err)
	}
}

// seal puts the right checksum under a state that was tampered with.
func seal(state []byte) []byte {
	body := state[:len(state)-sha256.Size]
	sum := sha256.Sum256(body)
	return append(slices.Clone(body), sum[:]...)
}

// A wrong state under a right checksum may not bring the program down either.
func TestForgedStatesDoNotPanic(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for _, p := range []optimize.Problem{testbed.DTLZ2(4), testbed.G06()} {
		forge(t, rng, p)
	}
}

func forge(t *testing.T, rng *rand.Rand, p optimize.Problem) {
	s := optimize.Settings{Seed: 1, Evaluations: 60, Population: 6, ArchiveLimit: 8, GradientShare: 0.3, Workers: 1}
	state := oneState(t, p, s)
	refused := 0
	for range 1200 {
		forged := slices.Clone(state)
		at := 55 + rng.IntN(len(forged)-sha256.Size-55)
		switch rng.IntN(3) {
		case 0:
			forged[at] ^= byte(1 + rng.IntN(255))
		case 1:
			forged = slices.Delete(forged, at, min(at+8, len(forged)-sha256.Size))
		default:
			for i := range forged[at:min(at+8, len(forged)-sha256.Size)] {
				forged[at+i] = 0xff
			}
		}
		switch err := resume(p, s, seal(forged)); {
		case errors.Is(err, optimize.ErrStateDamaged), errors.Is(err, optimize.ErrStateForeign), errors.As(err, new(*arithmetic.Mismatch)):
			refused++
		case err != nil:
			t.Fatal(err)
		}
	}
	if refused < 120 {
		t.Errorf("%d of 1200 refused", refused)
	}
}

func TestStatesOfOtherSearchesAreRefused(t *testing.T) {
	s := optimize.Settings{Seed: 1, Evaluations: 300}
	p := testbed.ZDT1()
	state := oneState(t, p, s)
	other := testbed.ZDT1()
	other.Vars[3].High = 2
	fewer := testbed.ZDT1()
	fewer.Vars = fewer.Vars[:29]
	for name, c := range map[string]struct {
		p optimize.Problem
		s optimize.Settings
	}{
		"seed": {p, optimize.Settings{Seed: 2, Evaluations: 300}}, "budget": {p, optimize.Settings{Seed: 1, Evaluations: 301}},
		"start": {p, optimize.Settings{Seed: 1, Evaluations: 300, Start: [][]float64{make([]float64, 30)}}},
		"bound": {other, s}, "variables": {fewer, s}, "constraints": {testbed.BNH(), s},
	} {
		if err := resume(c.p, c.s, state); !errors.Is(err, optimize.ErrStateForeign) {
			t.Errorf("%s: %v", name, err)
		}
	}
	kind := bytes.Replace(state, []byte(arithmetic.Kind()), []byte(strings.Repeat("x", len(arithmetic.Kind()))), 1)
	if err := resume(p, s, seal(kind)); !errors.As(err, new(*arithmetic.Mismatch)) {
		t.Errorf("other arithmetic: %v", err)
	}
	version := slices.Clone(state)
	version[len("forkfront search")]++
	if err := resume(p, s, seal(version)); !errors.Is(err, optimize.ErrStateVersion) {
		t.Errorf("version: %v", err)
	}
}

func TestCheckpointErrorEndsTheSearch(t *testing.T) {
	full := errors.New("no space left")
	s := optimize.Settings{Seed: 1, Evaluations: 3000, Checkpoint: func([]byte) error { return full }}
	r, err := optimize.Search(context.Background(), testbed.ZDT1(), s)
	if !errors.Is(err, full) || r == nil || r.Generations != 1 {
		t.Errorf("result %v, error %v", r, err)
	}
}

// A worker that hangs does not hold up a stop for longer than the grace of three seconds
// allows; the interrupted generation is repeated.
func TestStopDoesNotWaitForASlowGeneration(t *testing.T) {
	if testing.Short() {
		t.Skip("takes three seconds")
	}
	ctx, cancel := context.WithCancel(context.Background())
	left := &atomic.Int64{}
	left.Store(200)
	p := tripping{testbed.ZDT1(), left, func() { cancel(); time.Sleep(3500 * time.Millisecond) }}
	s := optimize.Settings{Seed: 1, Evaluations: 3000, Workers: 1}
	var state []byte
	s.Checkpoint = func(b []byte) error { state = slices.Clone(b); return nil }
	began := time.Now()
	r, err := optimize.Search(ctx, p, s)
	if d := time.Since(began); !errors.Is(err, context.Canceled) || d > 5*time.Second || r.Generations != 1 {
		t.Fatalf("stopped after %v and %d generations: %v", d, r.Generations, err)
	}
	s.Resume, s.Checkpoint = state, nil
	left.Store(1 << 40)
	got := search(t, p, s)
	s.Resume = nil
	if want := search(t, p, s); !reflect.DeepEqual(got, want) {
		t.Error("another front after a generation was given up")
	}
}
