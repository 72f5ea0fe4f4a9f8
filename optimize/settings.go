package optimize

import (
	"fmt"
	"math"
	"time"
)

// Unlimited as Evaluations leaves the end of a search to MaxWall or StagnationGenerations.
const Unlimited = 1 << 50

// Settings say how much is searched, and how. Only Evaluations must be given.
type Settings struct {
	Seed        uint64
	Evaluations int // budget, gradients included at their cost; the search paces itself by it, or see Unlimited
	Workers     int // goroutines that evaluate; 0: one per processor
	Population  int // 0: chosen from the number of objectives; with one objective from the budget

	// GradientShare is the share of Evaluations for the gradient stage, 0..1. With one objective descents are a part
	// of variation: 0 leaves a quarter for them, by differences instead of the problem's derivatives.
	GradientShare float64
	GradientCost  float64 // evaluations charged per gradient; 0: chosen

	// Measurements is how many candidates of a Staged problem have their late values found while it is searched, beyond
	// those that are reported; 0: chosen.
	Measurements int

	ArchiveLimit int // members kept; 0: 2500
	FrontSize    int // candidates reported; 0: the whole archive

	Start [][]float64 // candidates to begin with, natural units, one entry per variable

	// Plain is for comparisons only: a constant population, reference directions, simulated
	// binary crossover and nothing else; the front is that of the last population.
	Plain bool

	// Progress is called after every generation from the goroutine that called Search.
	Progress func(Generation)

	// Observe is given every evaluated candidate in the order of their numbers, a generation at a time,
	// from the goroutine that called Search. The candidate's slices are the search's own: they may be
	// read until Observe returns. After a resume the numbers continue from the state's. An error ends the
	// search.
	Observe func(*Candidate) error

	MaxWall               time.Duration // 0: no limit. A front cut off by it depends on the machine.
	StagnationGenerations int           // stop after so many without gain in hypervolume, or five times as many without a smaller violation while nothing is feasible; 0: never

	// Until ends the search once it has spent this many evaluations, at any point of its course: the last generation is cut to
	// what is left, and Checkpoint is given the state, from which a search with a later Until goes on. With Evaluations
	// Unlimited it paces itself by Until, and what it finds depends on this end and those before it, not on any that follows: with
	// 600 and then 1200 it looks around again from 600 on. 0: no such end.
	Until int

	// Checkpoint is given the state of the search between two generations, at most once in
	// CheckpointEvery (0: after each), and when ctx ends. The running generation may then take
	// three seconds to end, or is abandoned and repeated after a resume. The slice is the
	// receiver's. An error ends the search.
	Checkpoint      func(state []byte) error
	CheckpointEvery time.Duration

	// Resume is such a state: the search continues from it, to the same front and generations
	// as if it had never stopped. Problem and settings must be those that it was made with,
	// but for Workers, Until, MaxWall (the time already spent counts) and the callbacks.
	Resume []byte
}

// Generation is the argument of Progress.
//
// Hypervolume is that of the archive, with each objective divided by its range over the
// archive of the first generation that held a feasible candidate (from the best value to
// the worst one, or 1 where they agree), about the worst values of that generation moved
// out by a tenth of the range. Where a best value has come a quarter of that range below
// the frame, the archive of that generation makes a new one, linked so that the value goes
// on from where it was, as in a chain of indices: it never jumps, it compares within one
// search and not between two, and a flat end means that little is gained any more.
// Up to three objectives it is exact within a frame. With more it is estimated on 8192 points
// drawn once from the seed, that reach half a range below the best values.
type Generation struct {
	Number, Evaluations, Feasible int
	ArchiveSize                   int
	Hypervolume                   float64
	Stage                         string // "genetic" or "gradient"
}

// Result is what a search found.
type Result struct {
	Front               []Candidate // feasible, none dominates another; sorted by Number
	Nearest             []Candidate // near misses, smallest violation first, where hardly anything is feasible
	Evaluations         int         // spent, gradients included at their cost
	Candidates          int         // evaluated; numbered from 0
	Stop                string      // why the search ended
	Generations         int
	FeasibleEvaluations int
	Known               int         // candidates that Front is chosen from: feasible, none dominates another
	Covered             float64     // share of the volume that these dominate, that Front does, 0 to 1; 0 where there are none
	GradientEvaluations int         // part of Evaluations spent by the gradient stage
	Measured            int         `json:",omitempty"` // candidates of a Staged problem whose late values were found
	Agreements          []Agreement `json:",omitempty"` // by late value
}

// Agreement says how well a late value was predicted for candidates that are reported before it was found of them.
type Agreement struct {
	Count           int
	RankCorrelation float64 // Spearman's; 0 where there are fewer than two
	RMSError        float64
}

func (s *Settings) validate(p Problem) error {
	switch {
	case s.Evaluations < 1:
		return fmt.Errorf("optimize: %d evaluations; at least 1 is needed", s.Evaluations)
	case !(s.GradientShare >= 0 && s.GradientShare <= 1):
		return fmt.Errorf("optimize: gradient share %g; allowed is 0 to 1", s.GradientShare)
	case !(s.GradientCost >= 0) || math.IsInf(s.GradientCost, 0):
		return fmt.Errorf("optimize: gradient cost %g; allowed is 0 (chosen) or a positive number", s.GradientCost)
	case s.Workers < 0, s.Population < 0, s.Measurements < 0, s.ArchiveLimit < 0, s.FrontSize < 0, s.StagnationGenerations < 0, s.Until < 0, s.MaxWall < 0, s.CheckpointEvery < 0:
		return fmt.Errorf("optimize: workers %d, population %d, archive limit %d, front size %d, stagnation %d, until %d, wall time %v, checkpoint every %v; none may be negative",
			s.Workers, s.Population, s.ArchiveLimit, s.FrontSize, s.StagnationGenerations, s.Until, s.MaxWall, s.CheckpointEvery)
	}
	n := len(p.Variables())
	for i, x := range s.Start {
		if len(x) != n {
			return fmt.Errorf("optimize: start %d has %d values; the problem has %d variables", i, len(x), n)
		}
		for j, v := range x {
			if math.IsNaN(v) {
				return fmt.Errorf("optimize: start %d: value %d is NaN", i, j)
			}
		}
	}
	return nil
}
