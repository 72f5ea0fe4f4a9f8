package optimize

import (
	"math"
	"slices"
)

// frame is the normalisation that hypervolumes of one search share; see Generation.
type frame struct {
	Low, Span []float64
	Link      float64     // what volumes in this frame are multiplied by to go on from the frame before
	Best      float64     // largest volume so far
	Since     int         // generation that reached it
	samples   [][]float64 // four objectives and more
	open      []int       // samples not yet dominated
	seen      int         // members with a lower number have struck out theirs
}

const (
	frameReference = 1.1
	frameSamples   = 8192
	sampleLow      = -0.5
)

// set fixes the frame from the archive's first members.
func (f *frame) set(members []*member, seed uint64) {
	low, high := bounds(points(members))
	f.Low, f.Span = low, high
	f.Link = 1
	for i := range high {
		if f.Span[i] = high[i] - low[i]; f.Span[i] == 0 {
			f.Span[i] = 1
		}
	}
	f.draw(seed)
}

// outgrown is how far below the frame, in spans, a best value has to come for a new frame; volumes in
// the old one have little left to gain then.
const outgrown = 0.25

// follow links a new frame to this one where the archive has outgrown it, so that the volume goes
// on from where it was.
func (f *frame) follow(members []*member, seed uint64, volume float64, by *pool) float64 {
	low, _ := bounds(points(members))
	for i := range low {
		if low[i] < f.Low[i]-outgrown*f.Span[i] {
			next := frame{Best: f.Best, Since: f.Since}
			next.set(members, seed)
			if v := next.volume(members, by); v > 0 {
				next.Link = volume / v
				*f = next
			}
			return volume
		}
	}
	return volume
}

// draw makes the samples, always the same for a seed.
func (f *frame) draw(seed uint64) {
	m := len(f.Low)
	if m < 4 {
		return
	}
	rng := newRand(seed, streamVolume)
	f.samples, f.open = make([][]float64, frameSamples), make([]int, frameSamples)
	slab := make([]float64, frameSamples*m)
	for i := range slab {
		slab[i] = sampleLow + rng.Float64()*(frameReference-sampleLow)
	}
	for k := range f.samples {
		f.samples[k], f.open[k] = slab[k*m:(k+1)*m], k
	}
}

// volume returns the hypervolume of the archive in the frame: exact up to three
// objectives, else sampled.
func (f *frame) volume(members []*member, by *pool) float64 {
	if f.Low == nil {
		return 0
	}
	if f.samples != nil {
		return f.sampled(members, by)
	}
	reference := make([]float64, len(f.Low))
	scaled := make([][]float64, len(members))
	for i, m := range members {
		scaled[i] = f.scale(m)
	}
	for i := range reference {
		reference[i] = frameReference
	}
	return f.Link * Hypervolume(scaled, reference) / math.Pow(frameReference, float64(len(reference)))
}

func (f *frame) scale(m *member) []float64 {
	p := make([]float64, len(f.Low))
	for i, v := range m.out.F {
		p[i] = (v - f.Low[i]) / f.Span[i]
	}
	return p
}

// sampled strikes out the samples that members not seen before dominate. What once was
// dominated stays so when the archive is thinned.
func (f *frame) sampled(members []*member, by *pool) float64 {
	latest := f.seen
	var fresh [][]float64
	for _, m := range members {
		if m.number >= f.seen {
			latest = max(latest, m.number+1)
			fresh = append(fresh, f.scale(m))
		}
	}
	struck := make([]bool, len(f.open))
	by.parts(len(f.open), func(from, to int) {
		for i := from; i < to; i++ {
			sample := f.samples[f.open[i]]
			struck[i] = slices.ContainsFunc(fresh, func(p []float64) bool { return dominates(p, sample) })
		}
	})
	kept := f.open[:0]
	for i, k := range f.open {
		if !struck[i] {
			kept = append(kept, k)
		}
	}
	f.open = kept
	f.seen = latest
	box := math.Pow((frameReference-sampleLow)/frameReference, float64(len(f.Low)))
	return f.Link * box * float64(len(f.samples)-len(f.open)) / float64(len(f.samples))
}

func (f *frame) pack(w *packer) {
	w.bool(f.Low != nil)
	if f.Low == nil {
		return
	}
	w.floats(f.Low)
	w.floats(f.Span)
	w.float(f.Link)
	w.float(f.Best)
	w.int(f.Since)
	w.int(f.seen)
	w.int(len(f.open))
	for _, k := range f.open {
		w.int(k)
	}
}

func (f *frame) unpack(u *unpacker, objectives int, seed uint64) {
	if !u.bool() {
		return
	}
	f.Low, f.Span = make([]float64, objectives), make([]float64, objectives)
	u.floats(f.Low, false)
	u.floats(f.Span, false)
	f.Link = u.float()
	f.Best = u.float()
	f.Since = u.int(0, math.MaxInt)
	f.seen = u.int(0, math.MaxInt)
	f.draw(seed)
	f.open = f.open[:0]
	for range u.count(8) {
		f.open = append(f.open, u.int(0, len(f.samples)-1))
	}
}
