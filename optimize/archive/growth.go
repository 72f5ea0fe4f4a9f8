package archive

import (
	"math"

	"forkfront/optimize/population"
	"forkfront/optimize/random"
	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
	"forkfront/optimize/wire"
)

// Growth tells how a search gets on: by the hypervolume of its archive, in a frame that all volumes of the search share (see
// optimize.Generation), and while the archive is empty by how little the population violates.
type Growth struct {
	seed           uint64
	low, span      []float64       // the frame; nil: nothing feasible yet
	link           float64         // factor of volumes in this frame that continues those of the frame before
	best           float64         // largest volume so far
	bestAt         int             // generation that reached it
	leastViolation float64         // smallest violation while nothing is feasible
	samples        *volume.Samples // four objectives and more
	undominated    []uint64        // samples not yet dominated
	struck         []uint64        // scratch
	counted        int             // members with a lower number have struck out theirs
}

const (
	frameReference = 1.1
	frameSamples   = 8192
	frameSampleLow = -0.5
)

// NewGrowth is that of a search that has found nothing yet; volumes that are sampled are so by a stream of its seed.
func NewGrowth(seed uint64) Growth { return Growth{seed: seed, leastViolation: math.Inf(1)} }

// Look takes in what a generation has brought and returns the volume, 0 while the archive is empty, when only the current population
// counts.
func (f *Growth) Look(a *Archive, current []*population.Member, generation int) float64 {
	if f.low == nil && len(a.Members) > 0 {
		f.fit(a.Members)
	}
	latest := f.unseen(a.Members, a.Marks)
	v := f.volume(a.Members, latest)
	v = f.extend(a.Members, latest, v)
	if v > f.best*(1+1e-9) || f.low == nil && f.lessViolated(current) {
		f.best, f.bestAt = v, generation
	}
	return v
}

// Stagnates reports whether nothing has been gained for a number of generations; 0: it does not matter.
func (f *Growth) Stagnates(generation, most int) bool {
	if f.low == nil {
		most *= patience
	}
	return most > 0 && generation-f.bestAt >= most
}

// patience is how many times longer a search may stagnate while it has found nothing feasible: its violation
// pauses where one constraint has to give way for another.
const patience = 5

// lessViolated tells whether the population came nearer to what is allowed than any before it.
func (f *Growth) lessViolated(current []*population.Member) bool {
	least := f.leastViolation
	for _, m := range current {
		least = min(least, m.Violation)
	}
	less := least < f.leastViolation*(1-1e-3)
	if less {
		f.leastViolation = least
	}
	return less
}

// fit fixes the frame from the archive's first members.
func (f *Growth) fit(members []*population.Member) {
	low, high := spacing.Bounds(population.Points(members))
	f.low, f.span = low, high
	f.link = 1
	for i := range high {
		if f.span[i] = high[i] - low[i]; f.span[i] == 0 {
			f.span[i] = 1
		}
	}
	f.drawSamples()
}

// outgrown is how far below the frame, in spans, a best value has to come for a new frame; volumes in
// the old one have little left to gain then.
const outgrown = 0.25

// extend links a new frame to this one where members found since the last look have outgrown it, so that
// the volume continues from its last value. Where that is nothing, as the samples may miss what a few members dominate, it
// begins in the new frame.
func (f *Growth) extend(members, latest []*population.Member, volume float64) float64 {
	for _, m := range latest {
		for i, v := range m.Outcome.F {
			if v >= f.low[i]-outgrown*f.span[i] {
				continue
			}
			next := Growth{seed: f.seed, best: f.best, bestAt: f.bestAt, samples: f.samples}
			next.fit(members)
			v := next.volume(members, next.see(members))
			switch {
			case v == 0:
			case volume == 0:
				volume = v
				*f = next
			default:
				next.link = volume / v
				*f = next
			}
			return volume
		}
	}
	return volume
}

// Again makes a new frame after objectives of members have changed, linked so that the volume goes on from where it was.
func (f *Growth) Again(members []*population.Member) {
	if f.low == nil || len(members) == 0 {
		return
	}
	next := Growth{seed: f.seed, best: f.best, bestAt: f.bestAt, leastViolation: f.leastViolation, samples: f.samples}
	before := f.volume(members, nil)
	next.fit(members)
	if v := next.volume(members, next.see(members)); v > 0 && before > 0 {
		next.link = before / v
	}
	*f = next
}

// unseen returns the members that came after the last look, by their marks.
func (f *Growth) unseen(members []*population.Member, marks []population.Mark) []*population.Member {
	var latest []*population.Member
	seen := f.counted
	for i := range marks {
		if n := marks[i].Number; n >= f.counted {
			latest = append(latest, members[i])
			seen = max(seen, n+1)
		}
	}
	f.counted = seen
	return latest
}

// see takes all members for seen after it, and returns them.
func (f *Growth) see(members []*population.Member) []*population.Member {
	for _, m := range members {
		f.counted = max(f.counted, m.Number+1)
	}
	return members
}

// drawSamples makes the samples, always the same for a seed.
func (f *Growth) drawSamples() {
	m := len(f.low)
	if m < 4 {
		return
	}
	if f.samples == nil { // those of the frame before are the same
		f.samples = volume.NewSamples(frameSamples, m, frameSampleLow, frameReference, random.New(f.seed, random.Volume))
	}
	f.undominated = f.samples.None()
	for w := range f.undominated {
		f.undominated[w] = math.MaxUint64
	}
}

// volume returns the hypervolume of the archive in the frame: exact up to three
// objectives, else sampled. latest are the members not yet counted.
func (f *Growth) volume(members, latest []*population.Member) float64 {
	if f.low == nil {
		return 0
	}
	if f.samples != nil {
		return f.sampled(latest)
	}
	reference := make([]float64, len(f.low))
	scaled := make([][]float64, len(members))
	for i, m := range members {
		scaled[i] = f.normalise(m)
	}
	for i := range reference {
		reference[i] = frameReference
	}
	return f.link * volume.Hypervolume(scaled, reference) / math.Pow(frameReference, float64(len(reference)))
}

func (f *Growth) normalise(m *population.Member) []float64 {
	p := make([]float64, len(f.low))
	for i, v := range m.Outcome.F {
		p[i] = (v - f.low[i]) / f.span[i]
	}
	return p
}

// sampled strikes out the samples that members not seen before dominate. What once was
// dominated stays so when the archive is thinned.
func (f *Growth) sampled(latest []*population.Member) float64 {
	if f.struck == nil {
		f.struck = f.samples.None()
	}
	var room [8]float64
	place := append(room[:0], f.low...)
	for _, m := range latest {
		for i, v := range m.Outcome.F {
			place[i] = (v - f.low[i]) / f.span[i]
		}
		f.samples.Strike(f.undominated, f.struck, place)
	}
	box := math.Pow((frameReference-frameSampleLow)/frameReference, float64(len(f.low)))
	return f.link * box * float64(frameSamples-volume.CountBits(f.undominated)) / frameSamples
}

// Pack writes the frame and what was reached in it.
func (f *Growth) Pack(w *wire.Writer) {
	w.Float(f.leastViolation)
	w.Int(f.bestAt)
	w.Bool(f.low != nil)
	if f.low == nil {
		return
	}
	w.Floats(f.low)
	w.Floats(f.span)
	w.Float(f.link)
	w.Float(f.best)
	w.Int(f.counted)
	for _, set := range f.undominated {
		w.Word(set)
	}
}

// Unpack reads what Pack wrote for a number of objectives.
func (f *Growth) Unpack(u *wire.Reader, objectives int) {
	least := []float64{0}
	u.Floats(least, true)
	f.leastViolation, f.bestAt = least[0], u.Int(0, math.MaxInt)
	if !u.Bool() {
		return
	}
	f.low, f.span = make([]float64, objectives), make([]float64, objectives)
	u.Floats(f.low, false)
	u.Floats(f.span, false)
	f.link, f.best = u.Finite(), u.Finite()
	f.counted = u.Int(0, math.MaxInt)
	f.drawSamples()
	for w := range f.undominated {
		f.undominated[w] = u.Word()
	}
}
