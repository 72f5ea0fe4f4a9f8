package optimize

import "math"

// frame is the normalisation that hypervolumes of one search share; see Generation.
type frame struct {
	Low, Span []float64
	Best      float64     // largest volume so far
	Since     int         // generation that reached it
	samples   [][]float64 // four objectives and more: points not yet dominated
	total     int
	seen      map[int]bool // members that the samples know, by number
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
	for i := range high {
		if f.Span[i] = high[i] - low[i]; f.Span[i] == 0 {
			f.Span[i] = 1
		}
	}
	if len(low) < 4 {
		return
	}
	rng := newRand(seed, streamVolume)
	f.total, f.seen = frameSamples, map[int]bool{}
	for range frameSamples {
		p := make([]float64, len(low))
		for i := range p {
			p[i] = sampleLow + rng.Float64()*(frameReference-sampleLow)
		}
		f.samples = append(f.samples, p)
	}
}

// volume returns the hypervolume of the archive in the frame: exact up to three
// objectives, else sampled.
func (f *frame) volume(members []*member) float64 {
	if f.Low == nil {
		return 0
	}
	if f.total > 0 {
		return f.sampled(members)
	}
	reference := make([]float64, len(f.Low))
	scaled := make([][]float64, len(members))
	for i, m := range members {
		scaled[i] = f.scale(m)
	}
	for i := range reference {
		reference[i] = frameReference
	}
	return Hypervolume(scaled, reference) / math.Pow(frameReference, float64(len(reference)))
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
func (f *frame) sampled(members []*member) float64 {
	for _, m := range members {
		if f.seen[m.number] {
			continue
		}
		f.seen[m.number] = true
		p := f.scale(m)
		kept := f.samples[:0]
		for _, s := range f.samples {
			if !dominates(p, s) {
				kept = append(kept, s)
			}
		}
		f.samples = kept
	}
	box := math.Pow((frameReference-sampleLow)/frameReference, float64(len(f.Low)))
	return box * float64(f.total-len(f.samples)) / float64(f.total)
}
