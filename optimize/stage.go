package optimize

import (
	"math"
	randv2 "math/rand/v2"

	"forkfront/optimize/random"
	"forkfront/optimize/wire"
)

// gradientStage decides when gradients are used, and where they start.
//
// It begins after two fifths of the budget (see descent.go for one objective; earlier when its share
// is larger), since too few starts miss parts of a front, and then keeps pace with the budget
// so that its share is spent at the end and never exceeded. While an evaluation spent here gains the archive less than
// one spent on variation, it pauses, twice as long each time, and leaves its evaluations to the genetic stage.
type gradientStage struct {
	used             int
	extremes         int // objectives whose best end has been sought
	pause            int // generations to sit out
	backoff          int
	stage, variation yield // what each gained per evaluation lately
	source           random.Source
	rng              *randv2.Rand // draws from source
}

func newGradientStage(seed uint64) gradientStage {
	from := random.NewSource(seed, random.Gradient)
	return gradientStage{source: from, rng: randv2.New(from)}
}

const (
	runsPerBurst    = 8
	runsPerProbe    = 2 // while the stage is paused
	evalsPerRun     = 24
	evalsPerExtreme = 60
)

// compare pauses the stage when variation gains more per evaluation.
func (g *gradientStage) compare() {
	if g.stage.rate() >= g.variation.rate() {
		g.backOff(1, 1)
		return
	}
	g.backOff(0, 1)
}

// backOff pauses the stage when less than a quarter of its runs gained.
func (g *gradientStage) backOff(paid, runs int) {
	if 4*paid >= runs {
		g.backoff = 0
		return
	}
	g.backoff = min(2*g.backoff+1, 63)
	g.pause = g.backoff
}

// burstSize is how many runs a burst makes. While the stage is paused a few tell whether that is to change.
func (g *gradientStage) burstSize() int {
	if g.backoff > 0 {
		return runsPerProbe
	}
	return runsPerBurst
}

// sample draws most of n at random, without order.
func (g *gradientStage) sample(n, most int) []int {
	order := g.rng.Perm(n)
	return order[:min(n, most)]
}

func (g *gradientStage) pack(w *wire.Writer) {
	for _, v := range []int{g.used, g.extremes, g.pause, g.backoff} {
		w.Int(v)
	}
	g.stage.pack(w)
	g.variation.pack(w)
	g.source.Pack(w)
}

func (g *gradientStage) unpack(u *wire.Reader) {
	for _, v := range []*int{&g.used, &g.extremes, &g.pause, &g.backoff} {
		*v = u.Int(0, math.MaxInt)
	}
	g.stage.unpack(u)
	g.variation.unpack(u)
	g.source.Unpack(u)
}

// yield is what evaluations of one kind have lately gained the archive: see archive.Archive.Novelty.
type yield struct{ Gain, Spent float64 }

const (
	variationKept = 0.8 // of what came before, at every generation
	stageKept     = 0.5 // and at every burst
	yieldEvery    = 8   // children of which one is measured
)

func (y *yield) add(gain float64, spent int, kept float64) {
	y.Gain, y.Spent = kept*y.Gain+gain, kept*y.Spent+float64(spent)
}

// rate is the gain per evaluation, 0 while there were none.
func (y *yield) rate() float64 {
	if y.Spent == 0 {
		return 0
	}
	return y.Gain / y.Spent
}

func (y *yield) pack(w *wire.Writer) { w.Floats([]float64{y.Gain, y.Spent}) }

func (y *yield) unpack(u *wire.Reader) {
	if y.Gain, y.Spent = u.Finite(), u.Finite(); y.Gain < 0 || y.Spent < 0 {
		u.Reject()
	}
}
