package problem

// PerWorker is a Problem that gives each worker its own memory. It is asked once per worker.
type PerWorker interface {
	Fork() Problem
}

// Differentiable is a Problem that also knows its derivatives.
//
// df has a row per objective and dg a row per constraint, both with a column per variable,
// in natural units; columns of discrete variables are 0. False: no derivative here.
type Differentiable interface {
	Problem
	Gradient(df, dg [][]float64, x []float64) bool
}

// Niched is a Problem whose candidates are of kinds that hardly turn into each other in small steps, as the
// arrangements of a linkage are between which its parts would have to pass through each other. The search keeps
// some of every kind until each has had its chance, and mates candidates of one kind. In a long search, candidates of a
// kind that differ in categorical variables are told apart too. Niche is called from the goroutine that called Search.
type Niched interface {
	Problem
	Niche(x []float64) uint64
}

// Staged is a Problem some of whose objectives or constraints follow from values that take far longer to find than all
// else. The search finds these late values of few candidates only, learns to predict them from hints, and works with
// predictions; what it returns has its own late values. Its Evaluate finds everything.
type Staged interface {
	Problem
	// Late is how many late values there are, and how many hints Screen leaves.
	Late() (values, hints int)
	// Screen evaluates all but what follows from late values, which it leaves as if it were met, and writes hints: finite numbers, from which the late values
	// are predicted. It is false where a design cannot have late values.
	Screen(dst *Outcome, hints, x []float64) bool
	// Measure finds the late values, finite numbers; it is false where a design has none.
	Measure(values, x []float64) bool
	// Settle completes what Screen began by what follows from late values, found or predicted; nil: the design has none,
	// which is to be infeasible.
	Settle(dst *Outcome, values []float64)
}
