package variation

import "forkfront/optimize/population"

// The operators that make offspring.
const (
	operatorNarrow    = iota // differential, few variables changed
	operatorCrossover        // simulated binary
	operatorWide             // differential, many variables changed
	operatorNeighbour        // differential among neighbours in objective space
	operatorSegment          // between a feasible and an infeasible point
	operatorWhole            // the parent moved by a difference between its neighbours
	operatorPredict          // along a secant into a gap of the front
	operatorCorrect          // few variables of a member at the edge of a gap
	operatorSlope            // along slopes estimated from those around

	Count // how many there are
)

// operatorShares adapts how often each operator is used to how often its offspring survive.
// Survivors by themselves come out nearly equal near the front, so the ratio is squared, and the
// narrow differential, by far the best where variables separate, starts at four times the
// others.
type operatorShares struct {
	made, survived [Count]float64
}

const (
	shareDecay   = 0.9
	shareFloor   = 0.05
	narrowFavour = 4
	gapFloor     = 0.02 // of those that work at gaps, which are many where the front is a curve

	// Whole differences among neighbours find ways along constraints (CTP4). Without constraints they spread a basin's members over the
	// front before a better basin is found, and single searches stay at a local front (WFG6, ZDT4).
	wholeFloor  = 0.01
	wholeFavour = 0.3
)

// leastShare is the chance that an operator has however few of its offspring survive.
func leastShare(operator int, constrained bool) float64 {
	switch {
	case operator == operatorPredict, operator == operatorCorrect:
		return gapFloor
	case operator == operatorWhole && !constrained:
		return wholeFloor
	}
	return shareFloor
}

// weights returns the chance of each operator, summing to 1; those not usable get none.
func (s *operatorShares) weights(usable [Count]bool, constrained bool) [Count]float64 {
	var w [Count]float64
	sum, floors := 0.0, 0.0
	for k := range w {
		if usable[k] {
			r := (s.survived[k] + 1) / (s.made[k] + 10)
			w[k] = r * r
			floors += leastShare(k, constrained)
		}
	}
	w[operatorNarrow] *= narrowFavour
	if !constrained {
		w[operatorWhole] *= wholeFavour
	}
	if usable[operatorPredict] {
		w[operatorNarrow] *= 1.5 // or the operators at gaps draw a population off before it has left its local fronts (ZDT4)
	}
	for _, v := range w {
		sum += v
	}
	for k := range w {
		if usable[k] {
			w[k] = leastShare(k, constrained) + (1-floors)*w[k]/sum
		}
	}
	return w
}

// learn counts one generation; offspring have the highest numbers.
func (s *operatorShares) learn(offspring, survivors []*population.Member) {
	for k := range s.made {
		s.made[k] *= shareDecay
		s.survived[k] *= shareDecay
	}
	if len(offspring) == 0 {
		return
	}
	for _, m := range offspring {
		if m.Operator >= 0 {
			s.made[m.Operator]++
		}
	}
	for _, m := range survivors {
		if m.Operator >= 0 && m.Number >= offspring[0].Number {
			s.survived[m.Operator]++
		}
	}
}
