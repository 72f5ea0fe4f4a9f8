package dominance

// Relation is how one point compares with another by domination, all columns minimised.
type Relation int

// The relations.
const (
	Neither Relation = iota // each is better in some column
	Better                  // nowhere worse, and better in some column: it dominates the other
	Worse                   // the other dominates it
	Equal
)

// Compare returns how a compares with b. As soon as they differ in a column only one of them can dominate the other.
func Compare(a, b []float64) Relation {
	b = b[:len(a)]
	for i, v := range a {
		switch {
		case v < b[i]:
			if nowhereWorse(a[i+1:], b[i+1:]) {
				return Better
			}
			return Neither
		case v > b[i]:
			if nowhereWorse(b[i+1:], a[i+1:]) {
				return Worse
			}
			return Neither
		}
	}
	return Equal
}

func nowhereWorse(a, b []float64) bool {
	b = b[:len(a)]
	for i, v := range a {
		if v > b[i] {
			return false
		}
	}
	return true
}

// Dominates reports whether a is nowhere worse than b and somewhere better.
func Dominates(a, b []float64) bool {
	better := false
	for i, v := range a {
		if v > b[i] {
			return false
		}
		better = better || v < b[i]
	}
	return better
}

// Nondominated returns the points that no other dominates, one of each equal set.
func Nondominated(points [][]float64) [][]float64 {
	var front [][]float64
next:
	for _, p := range points {
		kept := 0
		for i, q := range front {
			switch Compare(p, q) {
			case Worse, Equal:
				continue next
			case Neither:
				front[kept] = front[i]
				kept++
			}
		}
		front = append(front[:kept], p)
	}
	return front
}
