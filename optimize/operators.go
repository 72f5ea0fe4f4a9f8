package optimize

import (
	randv2 "math/rand/v2"

	"forkfront/optimize/wire"
)

// operatorSet is all that makes the offspring of one search, with what it has learnt about its operators.
type operatorSet struct {
	settings operatorSettings
	breeder
	shares operatorShares
	mates  mates // of the generation at hand
}

// operatorSettings say which operators there are.
type operatorSettings struct {
	space                   *space
	objectives, constraints int
	plain                   bool // simulated binary crossover and nothing else
	whole                   bool // members are moved by whole differences among neighbours
	niched                  bool // mates are of one kind
}

// newOperatorSet makes the operators of a search, which draw from rng.
func newOperatorSet(s operatorSettings, rng *randv2.Rand) *operatorSet {
	return &operatorSet{settings: s, breeder: newBreeder(s.space, s.objectives, rng)}
}

// stock is what a generation of offspring is made from.
type stock struct {
	parents, archive []*member
	marks            []mark    // of the archive
	infeasible       []*member // found lately
	used, horizon    float64   // evaluations spent, and by how many the search paces itself
	divided          bool      // niches are divided
}

// offspring fills the children of a generation.
func (o *operatorSet) offspring(children []*member, s *stock) {
	done := s.used / s.horizon
	often := mutationChance(done)
	o.resets = o.resetChance(done)
	o.mates.prepare(s, o.settings.niched)
	usable := o.usable(s)
	weights := o.shares.weights(usable, o.settings.constraints > 0)
	order := o.rng.Perm(len(s.parents))
	for i, child := range children {
		target := s.parents[order[i%len(order)]]
		operator := o.drawOperator(weights)
		if usable[operatorSlope] && !target.feasible && len(s.archive) > 0 && o.rng.Float64() < slopeBack {
			operator = operatorSlope
		}
		o.make(child, operator, o.mates.choose(o.rng, target, operator), target, often)
	}
}

// learn counts which operators' offspring survive.
func (o *operatorSet) learn(offspring, survivors []*member) { o.shares.learn(offspring, survivors) }

// drop takes members out of a list at random until a number of them is left.
func (o *operatorSet) drop(list []*member, limit int) []*member {
	for len(list) > limit {
		last, i := len(list)-1, o.rng.IntN(len(list))
		list[i] = list[last]
		list = list[:last]
	}
	return list
}

// pack writes what has been learnt.
func (o *operatorSet) pack(w *wire.Writer) {
	w.Floats(o.shares.Made[:])
	w.Floats(o.shares.Survived[:])
}

func (o *operatorSet) unpack(u *wire.Reader) {
	u.Floats(o.shares.Made[:], false)
	u.Floats(o.shares.Survived[:], false)
}

// mutationChance is the chance that a differential child is mutated too: half of them, against
// sticking to a local front, and towards the end, when there is no time left to leave one, ever fewer.
func mutationChance(done float64) float64 {
	const often, from = 0.5, 0.85
	late := max(0, done-from) / (1 - from)
	return often * (1 - 0.8*min(late, 1))
}

// resetChance is the chance that a mutation forgets a variable's value. Polynomial mutation hardly ever gets past a ridge of
// infeasible or poor values, so that a part of the front behind one stayed missing where the first population had no
// member there (OSY, MW2). Late in a search, when no part is missing any more, such children are wasted, and so they
// are where the problem tells its niches, which keep members beyond every ridge.
func (o *operatorSet) resetChance(done float64) float64 {
	const gone = 0.7
	early, until := 0.35, 0.4
	if o.settings.constraints == 0 {
		early, until = 0.2, 0.3
	}
	if o.settings.niched {
		return 0
	}
	late := (done - until) / (gone - until)
	return early * (1 - min(max(late, 0), 1))
}

// usable tells which operators have what they need.
func (o *operatorSet) usable(s *stock) (can [operators]bool) {
	can[operatorCrossover] = true
	if o.settings.plain {
		return can
	}
	can[operatorNarrow], can[operatorWide], can[operatorWhole] = true, true, o.settings.whole
	can[operatorNeighbour] = len(s.archive) >= 5
	can[operatorPredict] = o.settings.objectives == 2 && can[operatorNeighbour] && s.used >= curveStart*s.horizon
	can[operatorCorrect] = can[operatorPredict]
	can[operatorSegment] = len(s.archive) > 0 && len(s.infeasible) > 0
	can[operatorSlope] = o.settings.constraints > 0
	return can
}

func (b *breeder) drawOperator(weights [operators]float64) int {
	r := b.rng.Float64()
	for k, w := range weights {
		if r -= w; r < 0 {
			return k
		}
	}
	return operatorNarrow
}
