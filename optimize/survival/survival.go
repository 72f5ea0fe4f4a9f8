// Package survival chooses which members of a population and their offspring go on to the next generation.
package survival

import (
	"slices"

	"forkfront/optimize/archive"
	"forkfront/optimize/dominance"
	"forkfront/optimize/population"
	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
	"forkfront/optimize/wire"
)

// Selection chooses the survivors of a search; its memory is kept from one generation to the next.
type Selection struct {
	settings   Settings
	directions spacing.Directions
	intercepts spacing.Intercepts
	sorter     dominance.Sorter
	cutter     *volume.Cutter // nil: by other means
	remotest   remotest
	coverFrame coverFrame
}

// Settings say which members a search keeps.
type Settings struct {
	Objectives, Constraints int             // how many there are
	Size                    int             // of a population, for which there are reference directions
	Plain                   bool            // by layers and reference directions only
	KeepEnds                bool            // a part of the population is for the best in each objective
	Niched                  bool            // and one for the best of each niche
	Seed                    uint64          // of the samples
	Parts                   volume.Parallel // shares out work
}

// Moment is where in its course a search chooses survivors.
type Moment struct {
	Done    float64          // part of its evaluations that are spent, 0 to 1
	Divided bool             // niches are divided
	Archive *archive.Archive // what has been found so far
}

// New is the selection of a search at its beginning.
func New(settings Settings) *Selection {
	s := &Selection{settings: settings, directions: spacing.NewDirections(settings.Objectives, settings.Size)}
	s.cutter = s.newCutter(settings.Seed)
	return s
}

// Survive returns the n members that go on: the best of each niche, as long as niches are kept,
// those of each objective, those far from any better one, then the best of all. Where there are no more than n, it is these in their
// order.
func (s *Selection) Survive(members []*population.Member, n int, at Moment) []*population.Member {
	if len(members) <= n {
		return members
	}
	kept, rest := s.reserve(members, n, at)
	kept, rest = s.ends(kept, rest, n, at)
	kept, rest = s.remote(kept, rest, n, at)
	return s.best(rest, kept, n, at.Archive)
}

const (
	endsShare = 0.1 // of the population at first, shared out among the objectives
	endsGone  = 0.7 // share of the budget from which none are kept
)

// ends moves the feasible members that are best in each objective from rest to kept, dominated ones too. The end of a
// front may lie beyond a ridge where the way to it begins with dominated members (OSY, behind x5 = 5), and the cut of a
// layer keeps a single member at each end.
func (s *Selection) ends(kept, rest []*population.Member, n int, at Moment) (more, fewer []*population.Member) {
	late := at.Done / endsGone
	each := int(endsShare * float64(n) * (1 - min(late, 1)) / float64(s.settings.Objectives))
	if each == 0 || !s.settings.KeepEnds {
		return kept, rest
	}
	in := make(map[*population.Member]bool, n)
	feasible := feasibleOf(rest)
	for i := range s.settings.Objectives {
		chosen := leastIn(feasible, i, each, in)
		for _, m := range chosen {
			in[m] = true
		}
		kept = append(kept, chosen...)
	}
	return kept, population.Without(rest, in)
}

// leastIn returns up to n members with the least values of an objective but those in a set, the least first. Of equal values that
// one is less which has less of the objective before, and so on; of equal members the first.
func leastIn(members []*population.Member, objective, n int, but map[*population.Member]bool) []*population.Member {
	chosen := make([]*population.Member, 0, n+1)
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

func lessIn(a, b *population.Member, objective int) bool {
	for ; objective >= 0; objective-- {
		if v, w := a.Outcome.F[objective], b.Outcome.F[objective]; v != w {
			return v < w
		}
	}
	return false
}

// remote moves members from rest to kept that are far from any better one, once something is feasible: before that no basin
// takes over the others, and far members only delay the first feasible one.
func (s *Selection) remote(kept, rest []*population.Member, n int, at Moment) (more, fewer []*population.Member) {
	late := at.Done / remoteGone
	count := int(remoteShare * float64(n) * (1 - min(late, 1)))
	if count == 0 || len(at.Archive.Members) == 0 || s.settings.Constraints == 0 || s.settings.Plain || s.settings.Objectives == 1 {
		return kept, rest
	}
	layers := population.Layers(&s.sorter, slices.Concat(kept, rest))
	chosen := s.remotest.find(layers, population.SetOf(kept), count)
	return slices.Concat(kept, chosen), population.Without(rest, population.SetOf(chosen))
}

// best adds members to those kept already until there are n, best layers first. The layer that does not fit is cut
// by what its members add to the volume or by how they spread over reference directions.
func (s *Selection) best(members, already []*population.Member, n int, known *archive.Archive) []*population.Member {
	kept := append(make([]*population.Member, 0, n), already...)
	layers := population.Layers(&s.sorter, members)
	if s.directed() && layers[0][0].Feasible {
		s.intercepts.Update(population.Points(layers[0]))
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
func (s *Selection) directed() bool { return s.settings.Objectives > 3 || s.settings.Plain }

func (s *Selection) cutLayer(layer, kept []*population.Member, n int, first []*population.Member, known *archive.Archive) []*population.Member {
	m := s.settings.Objectives
	switch {
	case !layer[0].Feasible || m == 1:
		return layer[:n]
	case s.directed():
	case m == 2:
		return population.Subset(layer, volume.CutCurve(population.Points(layer), n, len(kept) == 0))
	case len(layer) <= volumeCutLimit:
		return population.Subset(layer, volume.Cut(population.Points(layer), n, len(kept) == 0))
	}
	if !s.directed() {
		s.intercepts.Update(population.Points(first))
	}
	kept = feasibleOf(kept)
	var chosen []*population.Member
	if s.cutter != nil {
		if chosen, layer = s.cover(layer, kept, n, known); len(chosen) == n {
			return chosen
		}
	}
	before := append(kept, chosen...)
	all := append(before, layer...)
	return append(chosen, population.Subset(all, s.directions.Cut(s.intercepts.Normalise(population.Points(all), population.Points(first)), len(before), n-len(chosen)))...)
}

// feasibleOf returns the feasible ones of some members, as a slice of its own.
func feasibleOf(members []*population.Member) []*population.Member {
	var some []*population.Member
	for _, m := range members {
		if m.Feasible {
			some = append(some, m)
		}
	}
	return some
}

// Pack writes what later selections depend on.
func (s *Selection) Pack(w *wire.Writer) { s.intercepts.Pack(w) }

// Unpack reads what Pack wrote.
func (s *Selection) Unpack(u *wire.Reader) { s.intercepts.Unpack(u, s.settings.Objectives) }
