package clearance

import (
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/objectives/trial"
)

// eyed are girders whose shock's upper eye lies anywhere about the upper link.
func eyed(m *mechanism.Mechanism, r *rand.Rand, n int) [][]kinematics.Vec[float64] {
	all := make([][]kinematics.Vec[float64], n)
	for i := range all {
		all[i] = trial.Layout(m, r)
		all[i][m.Point("shock_upper")] = kinematics.Vec[float64]{Along: -230 + 130*r.Float64(), Ahead: 70 + 70*r.Float64()}
	}
	return all
}

// Compared with gaps in space: on the straight way from one fork to another of another arrangement parts collide.
// Forks of one arrangement need not.
func TestArrangementsAreSeparatedByCollisions(t *testing.T) {
	m, r := trial.Girder(), rand.New(rand.NewPCG(8, 8))
	c := sizedConditions()
	c.rules = nil
	sc, d := newScorer(c), randomDesign(m, trial.RoomyLayout(m, r))
	assembly := demoAssembly(c, d)
	a := assembly.Arrangements(eyed(m, r, 500))
	if !slices.Contains(a.Names(), "upper_link upper_front–upper_rear / shaft shock_upper") {
		t.Fatalf("told apart by %q, not by the side of the upper link on which the shock's eye lies", a.Names())
	}
	// the gap of the pairs that tell arrangements apart; positive: none of them touch
	gap := func(layout []kinematics.Vec[float64]) (least float64, ok bool) {
		var s score
		d.layout = layout
		if sc.score(&s, d); s.why != "" {
			return 0, false
		}
		least = 1e9
		for _, g := range sc.search.Gaps() {
			if slices.Contains(a.Names(), g.Pair) {
				least = min(least, g.GapMM)
			}
		}
		return least, true
	}
	var clear [][]kinematics.Vec[float64]
	for _, layout := range eyed(m, r, 150) {
		if g, ok := gap(layout); ok && g > 0 && g < 1e9 {
			clear = append(clear, layout)
		}
	}
	var between, collide, within, free int
	for i := 1; i < len(clear); i++ {
		from, to := clear[i-1], clear[i]
		least := 1e9
		for step := range 41 {
			f := float64(step) / 40
			way := slices.Clone(from)
			for k := range way {
				way[k] = kinematics.Vec[float64]{Along: from[k].Along + f*(to[k].Along-from[k].Along), Ahead: from[k].Ahead + f*(to[k].Ahead-from[k].Ahead)}
			}
			if g, ok := gap(way); ok {
				least = min(least, g)
			}
		}
		if a.Of(from) != a.Of(to) {
			if between++; least < 0 {
				collide++
			}
		} else if within++; least > 0 {
			free++
		}
	}
	t.Logf("%d clear forks, told apart by %q; ways between arrangements: %d of %d collide; within one: %d of %d are free", len(clear), a.Names(), collide, between, free, within)
	if between < 5 || 10*collide < 8*between || 2*free < within {
		t.Error("arrangements should be told apart by collisions on the way between them")
	}
}
