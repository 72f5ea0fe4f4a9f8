package simulation

import (
	"math"
	"testing"
)

// Half the step changes what events tell by less than 0.2 %. Peaks of the hands' acceleration are read at the steps, and times
// are a number of steps. (Two standard errors are a small difference of large numbers.)
func TestHalfTheStep(t *testing.T) {
	rs, s := cargo()
	p := NewPlan(s, &rs)
	forks := []*Fork{&floating(&rs).Fork}
	if *every {
		forks = append(forks, telescopic(&rs), &twinLinks(&rs).Fork)
		for _, f := range randomGirders(t, &rs, 10) {
			forks = append(forks, &f.Fork)
		}
	}
	usual, half := NewSimulator(), NewSimulator()
	half.stepS /= 2
	compared, most := 0, 0.0
	for i, f := range forks {
		var a, b Results
		usual.Run(&a, p, f, AllEvents)
		half.Run(&b, p, f, AllEvents)
		each(&a, func(event, q int, want float64) {
			if q == LoadErrorPct || q == LoadMorePct {
				return
			}
			compared++
			within := 0.002 * math.Abs(want)
			switch q {
			case AirborneS, SettleS:
				within += 2 * usualStepS
			case RearLoadMinN, StopForceN:
				within += 1
			}
			got := b[event].Values[q]
			if math.Abs(got-want) > within {
				t.Errorf("fork %d, %s %s: %.6g, at half the step %.6g", i, Events[event].Name, Quantities[q].Name, want, got)
			}
			if q != AirborneS && q != SettleS && q != RearLoadMinN && q != StopForceN {
				most = max(most, math.Abs(got/want-1))
			}
		})
	}
	t.Logf("%d values; largest change, times and smallest and largest forces aside, %.3f %%", compared, 100*most)
	if compared < 20*len(forks) {
		t.Errorf("only %d values", compared)
	}
}

// A wheel that meets the edge of a bump has another direction of force from one moment to the next. Steps that did not end there
// would be off by 1 J and more, so that a run over a high bump at speed would not count.
func TestEdgesCostNoEnergy(t *testing.T) {
	rs, s := cargo()
	m, most := NewSimulator(), 0.0
	for _, f := range []*Fork{telescopic(&rs), &floating(&rs).Fork} {
		for _, height := range []float64{20, 40, 60} {
			for _, speed := range []float64{8, 12, 20} {
				s.Bump = Bump{HeightMM: height, RampMM: height, TopMM: 120, FreeMPerS: speed, BrakedMPerS: speed}
				p := NewPlan(s, &rs)
				m.set(&s, f)
				m.offJ = 0
				var o Outcome
				if why := m.bump(&o, p.braked[nominal], brakeFootM, speed, p.brakingN); why != "" {
					t.Errorf("%g mm at %g m/s: %s", height, speed, why)
				}
				most = max(most, m.offJ)
			}
		}
	}
	t.Logf("at most %.3f J", most)
	if most > 0.1 {
		t.Errorf("the energy is off by %.3f J", most)
	}
}

// What a simulator did before does not change what it finds.
func TestForksDoNotFeelEachOther(t *testing.T) {
	rs, s := cargo()
	p := NewPlan(s, &rs)
	p.roads = [roughSeeds]*Road{level, level, level, level, level}
	used, a, b := NewSimulator(), &floating(&rs).Fork, &twinLinks(&rs).Fork
	var first, between, again, fresh Results
	used.Run(&first, p, a, AllEvents)
	used.Run(&between, p, b, AllEvents)
	used.Run(&again, p, a, AllEvents)
	NewSimulator().Run(&fresh, p, a, AllEvents)
	if first != again || first != fresh {
		t.Error("results depend on what was simulated before")
	}
	if first == between {
		t.Error("two forks are the same")
	}
}

// Steps allocate nothing: a run of many costs no more memory than one of few.
func TestStepsAllocateNothing(t *testing.T) {
	rs, s := cargo()
	m := NewSimulator()
	m.set(&s, &floating(&rs).Fork)
	at, _ := m.rest(0)
	if got := testing.AllocsPerRun(3, func() {
		m.record.begin(m, &at, window{math.Inf(-1), 0, 0.5})
		s := at
		if why := m.run(&s, &scene{level, level, 0, 0, 0.5}); why != "" {
			t.Fatal(why)
		}
	}); got > 2 {
		t.Errorf("%g allocations in 2000 steps", got)
	}
}

// With all masses, rates, damping and friction doubled, a bike does the same over a ripple, where no stop is reached.
func TestTwiceTheMassAndTheRates(t *testing.T) {
	rs, s := cargo()
	f := telescopic(&rs)
	twice, heavy := s, rs
	heavy.Chassis.MassKG *= 2
	heavy.Chassis.UnsprungFrontKG *= 2
	twice.UnsprungRearKG *= 2
	twice.FrontTyreNPerMM *= 2
	twice.RearTyreNPerMM *= 2
	g := telescopic(&heavy)
	g.CompressionNS, g.ReboundNS = 2*f.CompressionNS, 2*f.ReboundNS
	g.FrictionN, g.BrakedN = 2*f.FrictionN, 2*f.BrakedN
	var a, b Outcome
	m := NewSimulator()
	m.set(&s, f)
	m.ripple(&a, NewPlan(s, &rs))
	m.set(&twice, g)
	m.ripple(&b, NewPlan(twice, &heavy))
	for _, q := range bumpQuantities {
		if math.Abs(a.Values[q]/b.Values[q]-1) > 1e-6 && a.Values[q] != b.Values[q] {
			t.Errorf("%s: %.9g, twice as heavy %.9g", Quantities[q].Name, a.Values[q], b.Values[q])
		}
	}
}

// BenchmarkEvents gives the time of each event of one fork, and of all.
func BenchmarkEvents(b *testing.B) {
	rs, s := cargo()
	p := NewPlan(s, &rs)
	m := NewSimulator()
	f := &floating(&rs).Fork
	m.set(&p.Setting, f)
	for i := range Events {
		b.Run(Events[i].Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				var o Outcome
				Events[i].run(m, &o, p)
			}
		})
	}
	b.Run("all", func(b *testing.B) {
		for b.Loop() {
			var r Results
			m.Run(&r, p, f, AllEvents)
		}
	})
}
