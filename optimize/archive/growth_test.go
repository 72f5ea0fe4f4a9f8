package archive

import (
	"math"
	"testing"

	"forkfront/optimize/population"
	"forkfront/optimize/problem"
)

// The samples may miss what the first members dominate, if each is best in two of six objectives, and of
// others that outgrow the frame too. In a frame of theirs the volume has to grow all the same.
func TestVolumeGrowsFromNothing(t *testing.T) {
	at := func(number int, f ...float64) *population.Member {
		return &population.Member{Number: number, Outcome: problem.Outcome{F: f}}
	}
	members := []*population.Member{at(0, 0, 0, 1, 1, 1, 1), at(1, 1, 1, 0, 0, 1, 1), at(2, 1, 1, 1, 1, 0, 0)}
	f := NewGrowth(1)
	f.fit(members)
	latest := f.unseen(members, marks(members))
	v := f.extend(members, latest, f.volume(members, latest))
	if v > 0 {
		t.Fatalf("the samples see %g, so this tests nothing", v)
	}
	members = []*population.Member{at(3, -1, 0.9, 0.9, 0.9, 0.9, 0.9), at(4, -1.2, 1, 0.8, 0.9, 0.9, 0.9)}
	latest = f.unseen(members, marks(members))
	old := f.volume(members, latest)
	if v = f.extend(members, latest, old); old > 0 || !(v > 0) {
		t.Fatalf("volume %g in the old frame, then %g", old, v)
	}
	members = append(members, at(5, -2, 0.9, 0.9, 0.9, 0.9, 0.85))
	latest = f.unseen(members, marks(members))
	v = f.volume(members, latest)
	if next := f.extend(members, latest, v); next != v || math.Abs(f.volume(members, nil)-v) > 1e-12*v {
		t.Errorf("a new frame takes the volume from %g to %g and %g", v, next, f.volume(members, nil))
	}
	members = append(members, at(6, -1.1, 0.85, 0.85, 0.85, 0.85, 0.85))
	latest = f.unseen(members, marks(members))
	if next := f.extend(members, latest, f.volume(members, latest)); !(next > v) {
		t.Errorf("the volume goes from %g to %g", v, next)
	}
}

func marks(members []*population.Member) (all []population.Mark) {
	for _, m := range members {
		all = append(all, m.Mark())
	}
	return all
}
