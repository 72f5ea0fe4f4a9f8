package optimize

import (
	"slices"

	"forkfront/optimize/dominance"
	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
	"forkfront/optimize/wire"
)

// selection is what survival looks at beside the members themselves, with memory that is kept from one generation to the next.
type selection struct {
	settings   selectionSettings
	directions spacing.Directions
	intercepts spacing.Intercepts
	sorter     dominance.Sorter
	cutter     *volume.Cutter // nil: by other means
	remotest   remotest
	coverFrame coverFrame
}

// selectionSettings say which members a search keeps.
type selectionSettings struct {
	objectives, constraints int
	size                    int    // of a population, for which there are reference directions
	plain                   bool   // by layers and reference directions only
	keepEnds                bool   // a part of the population is for the best in each objective
	niched                  bool   // and one for the best of each niche
	seed                    uint64 // of the samples
	parts                   volume.Parallel
}

// stand is how a search stands when its survivors are chosen.
type stand struct {
	done    float64 // part of its evaluations that are spent, 0 to 1
	divided bool    // niches are divided
	archive *archive
}

func newSelection(settings selectionSettings) *selection {
	s := &selection{settings: settings, directions: spacing.NewDirections(settings.objectives, settings.size)}
	s.cutter = s.newCutter(settings.seed)
	return s
}

// survive returns the n members that go on: the best of each niche, as long as niches are kept,
// those of each objective, those far from any better one, then the best of all.
func (s *selection) survive(members []*member, n int, at stand) []*member {
	if len(members) <= n {
		return members
	}
	kept, rest := s.reserve(members, n, at)
	kept, rest = s.ends(kept, rest, n, at)
	kept, rest = s.remote(kept, rest, n, at)
	return s.best(rest, kept, n, at.archive)
}

const (
	endsShare = 0.1 // of the population at first, shared out among the objectives
	endsGone  = 0.7 // share of the budget from which none are kept
)

// ends moves the feasible members that are best in each objective from rest to kept, dominated ones too. The end of a
// front may lie beyond a ridge where the way to it begins with dominated members (OSY, behind x5 = 5), and the cut of a
// layer keeps a single member at each end.
func (s *selection) ends(kept, rest []*member, n int, at stand) (more, fewer []*member) {
	late := at.done / endsGone
	each := int(endsShare * float64(n) * (1 - min(late, 1)) / float64(s.settings.objectives))
	if each == 0 || !s.settings.keepEnds {
		return kept, rest
	}
	in := make(map[*member]bool, n)
	feasible := feasibleOf(rest)
	for i := range s.settings.objectives {
		chosen := leastIn(feasible, i, each, in)
		for _, m := range chosen {
			in[m] = true
		}
		kept = append(kept, chosen...)
	}
	return kept, without(rest, in)
}

// leastIn returns up to n members with the least values of an objective but those in a set, the least first. Of equal values that
// one is less which has less of the objective before, and so on; of equal members the first.
func leastIn(members []*member, objective, n int, but map[*member]bool) []*member {
	chosen := make([]*member, 0, n+1)
	for _, m := range members {
		at := len(chosen)
		for at > 0 && lessIn(m, chosen[at-1], objective) {
			at--
		}
		if at == n || but[m] {
			continue
		}
		chosen = slices.Insert(chosen, at, m)
		chosen = chosen[:min(len(chosen), n)]
	}
	return chosen
}

func lessIn(a, b *member, objective int) bool {
	for ; objective >= 0; objective-- {
		if v, w := a.outcome.F[objective], b.outcome.F[objective]; v != w {
			return v < w
		}
	}
	return false
}

// remote moves members from rest to kept that are far from any better one, once something is feasible: before that no basin
// takes over the others, and far members only delay the first feasible one.
func (s *selection) remote(kept, rest []*member, n int, at stand) (more, fewer []*member) {
	late := at.done / remoteGone
	count := int(remoteShare * float64(n) * (1 - min(late, 1)))
	if count == 0 || len(at.archive.members) == 0 || s.settings.constraints == 0 || s.settings.plain || s.settings.objectives == 1 {
		return kept, rest
	}
	layers := layersOf(&s.sorter, slices.Concat(kept, rest))
	chosen := s.remotest.find(layers, setOf(kept), count)
	return slices.Concat(kept, chosen), without(rest, setOf(chosen))
}

// best adds members to those kept already until there are n, best layers first. The layer that does not fit is cut
// by what its members add to the volume or by how they spread over reference directions.
func (s *selection) best(members, already []*member, n int, known *archive) []*member {
	kept := append(make([]*member, 0, n), already...)
	layers := layersOf(&s.sorter, members)
	if s.directed() && layers[0][0].feasible {
		s.intercepts.Update(points(layers[0]))
	}
	for _, layer := range layers {
		room := n - len(kept)
		if room == 0 {
			break
		}
		if len(layer) > room {
			layer = s.cutLayer(layer, kept, room, layers[0], known)
		}
		kept = append(kept, layer...)
	}
	return kept
}

// volumeCutLimit is the layer size up to which contributions are worth their time in three
// objectives; beyond it reference directions cost a fraction and lose 0.001 of the volume.
const volumeCutLimit = 400

// directed reports whether survival is by reference directions.
func (s *selection) directed() bool { return s.settings.objectives > 3 || s.settings.plain }

func (s *selection) cutLayer(layer, kept []*member, n int, first []*member, known *archive) []*member {
	m := s.settings.objectives
	switch {
	case !layer[0].feasible || m == 1:
		return layer[:n]
	case s.directed():
	case m == 2:
		return subset(layer, volume.CutCurve(points(layer), n, len(kept) == 0))
	case len(layer) <= volumeCutLimit:
		return subset(layer, volume.Cut(points(layer), n, len(kept) == 0))
	}
	if !s.directed() {
		s.intercepts.Update(points(first))
	}
	kept = feasibleOf(kept)
	var chosen []*member
	if s.cutter != nil {
		if chosen, layer = s.cover(layer, kept, n, known); len(chosen) == n {
			return chosen
		}
	}
	before := append(kept, chosen...)
	all := append(before, layer...)
	return append(chosen, subset(all, s.directions.Cut(s.intercepts.Normalise(points(all), points(first)), len(before), n-len(chosen)))...)
}

// feasibleOf returns the feasible ones of some members, as a slice of its own.
func feasibleOf(members []*member) []*member {
	var some []*member
	for _, m := range members {
		if m.feasible {
			some = append(some, m)
		}
	}
	return some
}

// pack writes what later selections depend on.
func (s *selection) pack(w *wire.Writer) { s.intercepts.Pack(w) }

func (s *selection) unpack(u *wire.Reader) { s.intercepts.Unpack(u, s.settings.objectives) }
