package objectives

import (
	"math/rand/v2"
	"testing"

	"forkfront/kinematics/mechanism"
	"forkfront/objectives/clearance"
	"forkfront/objectives/fork"
	"forkfront/objectives/trial"
)

// clearGirder draws a girder most of whose parts keep clear of each other.
func clearGirder(c *Conditions, m *mechanism.Mechanism, r *rand.Rand) *Design {
	d := &Design{
		Mechanism: m, Layout: trial.RoomyLayout(m, r), Shock: fork.Shock{Count: 1, EyeToEyeMM: 165, StrokeMM: 45},
		Across: fork.DefaultAcross(m), Material: fork.MaterialNamed("7075-T6"),
	}
	p := trial.Package(m)
	p.LockRad = 50 * deg
	d.Across.Settle(m, &c.Chassis, c.TravelMM, d.Layout, &d.Shock, p)
	d.Assembly = clearance.NewAssembly(p, m, d.Across, &c.Chassis, &d.Shock)
	return d
}

// Without a package there is no clearance, and the reason says so.
func TestNoPackageNoClearance(t *testing.T) {
	c := conditions()
	d := randomDesign(girder(t), rand.New(rand.NewPCG(5, 1)))
	d.Assembly = nil
	var s Score
	newScorer(c).Score(&s, d)
	if why := s.Missing[Index("clearance_mm")]; why != "no package is given" {
		t.Errorf("%q", why)
	}
}

// What a scorer scored before changes no bit of a score.
func TestScoresDoNotDependOnEarlierDesigns(t *testing.T) {
	sc, all := forks(t, 200, clearGirder)
	for i, d := range all {
		var fresh, after Score
		newScorer(sc.conditions).Score(&fresh, d)
		sc.Score(&after, all[(i+17)%len(all)])
		sc.Score(&after, d)
		for k := range Measures {
			if fresh.Values[k] != after.Values[k] || fresh.Missing[k] != after.Missing[k] {
				t.Fatalf("%s: %v after another fork, %v alone", Measures[k].Name, after.Values[k], fresh.Values[k])
			}
		}
		if fresh.Closest != after.Closest {
			t.Fatalf("%+v after another fork, %+v alone", after.Closest, fresh.Closest)
		}
	}
}

// A study belongs to the fork that was scored: used after its scorer has scored another, it panics.
func TestStudyOfAnotherFork(t *testing.T) {
	sc, all := forks(t, 2, clearGirder)
	var s Score
	study := sc.Score(&s, all[0])
	study.Complete(&s)
	sc.Score(&s, all[1])
	defer func() {
		if recover() == nil {
			t.Error("a study answers for another fork")
		}
	}()
	study.Gaps()
}
