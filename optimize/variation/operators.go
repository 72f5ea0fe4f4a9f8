// Package variation makes new candidates from known ones: its operators, which members they take, and what it learns about them from
// those that succeed.
package variation

import (
	randv2 "math/rand/v2"

	"forkfront/optimize/population"
	"forkfront/optimize/problem"
	"forkfront/optimize/wire"
)

// Operators makes the offspring of one search.
type Operators struct {
	settings Settings
	breeder
	shares operatorShares
	mates  mates // of the generation at hand
}

// Settings say which operators a search has.
type Settings struct {
	Space                   *problem.Space
	Objectives, Constraints int  // how many there are
	Plain                   bool // simulated binary crossover and nothing else
	Whole                   bool // members are moved by whole differences among neighbours, too
	Niched                  bool // members mate with those of their kind
}

// New makes the operators of a search, which draw from rng.
func New(s Settings, rng *randv2.Rand) *Operators {
	return &Operators{settings: s, breeder: newBreeder(s.Space, s.Objectives, rng)}
}

// Stock is what a generation of offspring is made from.
type Stock struct {
	Parents, Archive []*population.Member // parents: one at least
	Marks            []population.Mark    // of the archive
	Infeasible       []*population.Member // found lately
	Used, Horizon    float64              // evaluations spent, and by how many the search paces itself
	Divided          bool                 // niches are divided
}

// Offspring fills the variables of a generation of children, and says which operator made each and which parent it competes with.
func (o *Operators) Offspring(children []*population.Member, s *Stock) {
	done := s.Used / s.Horizon
	often := o.mutationChance(done)
	o.resets = o.resetChance(done)
	o.mates.prepare(s, o.settings.Niched)
	usable := o.usable(s)
	weights := o.shares.weights(usable, o.settings.Constraints > 0)
	order := o.rng.Perm(len(s.Parents))
	for i, child := range children {
		target := s.Parents[order[i%len(order)]]
		operator := o.drawOperator(weights)
		if usable[operatorSlope] && !target.Feasible && len(s.Archive) > 0 && o.rng.Float64() < slopeBack {
			operator = operatorSlope
		}
		o.make(child, operator, o.mates.choose(o.rng, target, operator), target, often)
	}
}

// Learn counts which operators' offspring, in the order of their numbers, are among the survivors.
func (o *Operators) Learn(offspring, survivors []*population.Member) {
	o.shares.learn(offspring, survivors)
}

// Drop takes members out of a list at random until no more than limit are left. It changes the list.
func (o *Operators) Drop(list []*population.Member, limit int) []*population.Member {
	for len(list) > limit {
		last, i := len(list)-1, o.rng.IntN(len(list))
		list[i] = list[last]
		list = list[:last]
	}
	return list
}

// Pack writes what has been learnt; the generator is not part of it.
func (o *Operators) Pack(w *wire.Writer) {
	w.Floats(o.shares.made[:])
	w.Floats(o.shares.survived[:])
}

// Unpack reads what Pack wrote.
func (o *Operators) Unpack(u *wire.Reader) {
	u.Floats(o.shares.made[:], false)
	u.Floats(o.shares.survived[:], false)
}

// mutationChance is the chance that a differential child is mutated too, against sticking to a local front, and towards the
// end, when there is no time left to leave one, ever fewer. Without constraints and with two objectives fewer are: the
// more there are the later a search converges that has to bring one variable after the other to its place (WFG1), while yet
// fewer leave single searches at local fronts (ZDT4; with three objectives WFG6).
func (o *Operators) mutationChance(done float64) float64 {
	often, from := 0.5, 0.85
	if o.settings.Constraints == 0 && o.settings.Objectives == 2 {
		often, from = 0.4, 0.6
	}
	late := max(0, done-from) / (1 - from)
	return often * (1 - 0.8*min(late, 1))
}

// resetChance is the chance that a mutation forgets a variable's value. Polynomial mutation hardly ever gets past a ridge of
// infeasible or poor values, so that a part of the front behind one stayed missing where the first population had no
// member there (OSY, MW2). Late in a search, when no part is missing any more, such children are wasted, and so they
// are where the problem tells its niches, which keep members beyond every ridge.
func (o *Operators) resetChance(done float64) float64 {
	const gone = 0.7
	early, until := 0.35, 0.4
	if o.settings.Constraints == 0 {
		early, until = 0.2, 0.3
	}
	if o.settings.Niched {
		return 0
	}
	late := (done - until) / (gone - until)
	return early * (1 - min(max(late, 0), 1))
}

// usable tells which operators have what they need.
func (o *Operators) usable(s *Stock) (can [Count]bool) {
	can[operatorCrossover] = true
	if o.settings.Plain {
		return can
	}
	can[operatorNarrow], can[operatorWide], can[operatorWhole] = true, true, o.settings.Whole
	can[operatorNeighbour] = len(s.Archive) >= 5
	can[operatorPredict] = o.settings.Objectives == 2 && can[operatorNeighbour] && s.Used >= curveStart*s.Horizon
	can[operatorCorrect] = can[operatorPredict]
	can[operatorSegment] = len(s.Archive) > 0 && len(s.Infeasible) > 0
	can[operatorSlope] = o.settings.Constraints > 0
	return can
}

// drawOperator draws one by its weight; weights sum to 1.
func (b *breeder) drawOperator(weights [Count]float64) int {
	r := b.rng.Float64()
	for k, w := range weights {
		if r -= w; r < 0 {
			return k
		}
	}
	return operatorNarrow
}
