package optimize

// Kinds are divided in a long search only, and where there are not too many.
const (
	partsMost = 12      // combinations of the values of categorical variables
	partsFrom = 200_000 // evaluations
)

// kind tells members apart that hardly turn into each other, as Niched tells.
type kind struct {
	niche uint64
	part  uint64 // of the niche, with the same values of categorical variables
}

// key is the kind as a number, by niches or by their parts.
func (k kind) key(divided bool) uint64 {
	if divided {
		return k.part
	}
	return k.niche
}

// setKind sets the kind of a member by what a problem tells of it.
func (m *member) setKind(of Niched, s *space) {
	m.kind.niche = of.Niche(m.x)
	m.kind.part = m.kind.niche
	for i := range s.variables {
		if v := &s.variables[i]; v.Categorical && v.Levels > 0 {
			m.kind.part = m.kind.part*partFactor + uint64(m.x[i])
		}
	}
}

const partFactor = 0x9e3779b97f4a7c15 // an odd number, 2^64 over the golden ratio, which spreads niches (Knuth, TAOCP 3, 6.4; from memory)

// divides reports whether niches are divided by the values of categorical variables, as the size of a shock. A value that is lost early
// hardly comes back, since all else has to change with it; but in a short search, many niches have too few evaluations each.
func divides(s *space, horizon float64) bool {
	if horizon < float64(partsFrom) {
		return false
	}
	combinations := 1
	for i := range s.variables {
		if v := &s.variables[i]; v.Categorical && v.Levels > 0 {
			combinations *= min(v.Levels, partsMost+1)
			if combinations > partsMost {
				return false
			}
		}
	}
	return combinations > 1
}

// mark is what each generation looks at of every member. Members lie all over memory, marks do not.
type mark struct {
	number int
	kind   kind
}

func (m *member) mark() mark { return mark{m.number, m.kind} }
