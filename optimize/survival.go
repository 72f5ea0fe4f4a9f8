package optimize

import (
	"forkfront/optimize/volume"
)

// survive returns the n members that go on: the best of each niche, as long as niches are kept, then the best of all.
func (e *engine) survive(members []*member, n int) []*member {
	if len(members) <= n {
		return members
	}
	kept, rest := e.reserve(members, n)
	return e.best(rest, kept, n)
}

// best adds members to those kept already until there are n, best layers first. The layer that does not fit is cut
// by what its members add to the volume or by how they spread over reference directions.
func (e *engine) best(members, already []*member, n int) []*member {
	kept := append(make([]*member, 0, n), already...)
	layers := layersOf(&e.sorter, members)
	if e.directed() && layers[0][0].feasible {
		e.intercepts.See(points(layers[0]))
	}
	for _, layer := range layers {
		room := n - len(kept)
		if room == 0 {
			break
		}
		if len(layer) > room {
			layer = e.cut(layer, kept, room, layers[0])
		}
		kept = append(kept, layer...)
	}
	return kept
}

// volumeCutMost is the layer size up to which contributions are worth their time in three
// objectives; beyond it reference directions cost a fraction and lose 0.001 of the volume.
const volumeCutMost = 400

// directed reports whether survival is by reference directions.
func (e *engine) directed() bool { return len(e.objectives) > 3 || e.settings.Plain }

func (e *engine) cut(layer, kept []*member, n int, first []*member) []*member {
	m := len(e.objectives)
	switch {
	case !layer[0].feasible || m == 1:
		return layer[:n]
	case e.directed():
	case m == 2:
		return pick(layer, volume.CutCurve(points(layer), n, len(kept) == 0))
	case len(layer) <= volumeCutMost:
		return pick(layer, volume.Cut(points(layer), n, len(kept) == 0))
	}
	if !e.directed() {
		e.intercepts.See(points(first))
	}
	kept = feasibleOf(kept)
	var chosen []*member
	if e.cutter != nil {
		if chosen, layer = e.cover(layer, kept, n); len(chosen) == n {
			return chosen
		}
	}
	before := append(kept, chosen...)
	all := append(before, layer...)
	return append(chosen, pick(all, e.directions.Cut(e.intercepts.Scaled(points(all), points(first)), len(before), n-len(chosen)))...)
}
