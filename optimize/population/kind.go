package population

import "forkfront/optimize/problem"

// Kind tells members apart that hardly turn into each other, as problem.Niched tells.
type Kind struct {
	niche uint64
	part  uint64 // of the niche, with the same values of categorical variables
}

// Key is the kind as a number, by niches or by their parts.
func (k Kind) Key(divided bool) uint64 {
	if divided {
		return k.part
	}
	return k.niche
}

// SetKind sets the kind of a member by what a problem tells of it.
func (m *Member) SetKind(of problem.Niched, s *problem.Space) {
	m.Kind.niche = of.Niche(m.X)
	m.Kind.part = m.Kind.niche
	for i := range s.Variables {
		if v := &s.Variables[i]; v.Categorical && v.Levels > 0 {
			m.Kind.part = m.Kind.part*partFactor + uint64(m.X[i])
		}
	}
}

const partFactor = 0x9e3779b97f4a7c15 // an odd number, 2^64 over the golden ratio, which spreads niches (Knuth, TAOCP 3, 6.4; from memory)

// MostParts is the largest number of parts, one for each combination of the values of categorical variables, that a niche is divided into.
const MostParts = 12

const partsFrom = 200_000 // evaluations from which niches are divided

// Divides reports whether niches are divided by the values of categorical variables, as the size of a shock. A value that is lost early
// hardly comes back, since all else has to change with it; but in a short search, many niches have too few evaluations each. The horizon is
// how many evaluations the search paces itself by.
func Divides(s *problem.Space, horizon float64) bool {
	if horizon < float64(partsFrom) {
		return false
	}
	combinations := 1
	for i := range s.Variables {
		if v := &s.Variables[i]; v.Categorical && v.Levels > 0 {
			combinations *= min(v.Levels, MostParts+1)
			if combinations > MostParts {
				return false
			}
		}
	}
	return combinations > 1
}

// Mark is what each generation looks at of every member. Members lie all over memory, marks do not.
type Mark struct {
	Number int
	Kind   Kind
}

// Mark is that of a member.
func (m *Member) Mark() Mark { return Mark{m.Number, m.Kind} }
