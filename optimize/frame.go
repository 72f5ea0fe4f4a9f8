package optimize

import (
	"math"

	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
	"forkfront/optimize/wire"
)

// volumeFrame is the normalisation that hypervolumes of one search share; see Generation.
type volumeFrame struct {
	Low, Span      []float64
	Link           float64         // factor of volumes in this frame that continues those of the frame before
	Best           float64         // largest volume so far
	BestAt         int             // generation that reached it
	LeastViolation float64         // smallest violation while nothing is feasible
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

// fit fixes the frame from the archive's first members.
func (f *volumeFrame) fit(members []*member, seed uint64) {
	low, high := spacing.Bounds(points(members))
	f.Low, f.Span = low, high
	f.Link = 1
	for i := range high {
		if f.Span[i] = high[i] - low[i]; f.Span[i] == 0 {
			f.Span[i] = 1
		}
	}
	f.drawSamples(seed)
}

// outgrown is how far below the frame, in spans, a best value has to come for a new frame; volumes in
// the old one have little left to gain then.
const outgrown = 0.25

// extend links a new frame to this one where members found since the last look have outgrown it, so that
// the volume continues from its last value. Where that is nothing, as the samples may miss what a few members dominate, it
// begins in the new frame.
func (f *volumeFrame) extend(members, latest []*member, seed uint64, volume float64) float64 {
	for _, m := range latest {
		for i, v := range m.outcome.F {
			if v >= f.Low[i]-outgrown*f.Span[i] {
				continue
			}
			next := volumeFrame{Best: f.Best, BestAt: f.BestAt, samples: f.samples}
			next.fit(members, seed)
			v := next.volume(members, next.see(members))
			switch {
			case v == 0:
			case volume == 0:
				volume = v
				*f = next
			default:
				next.Link = volume / v
				*f = next
			}
			return volume
		}
	}
	return volume
}

// again makes a new frame after objectives of members have changed, linked so that the volume goes on from where it was.
func (f *volumeFrame) again(members []*member, seed uint64) {
	if f.Low == nil || len(members) == 0 {
		return
	}
	next := volumeFrame{Best: f.Best, BestAt: f.BestAt, LeastViolation: f.LeastViolation, samples: f.samples}
	before := f.volume(members, nil)
	next.fit(members, seed)
	if v := next.volume(members, next.see(members)); v > 0 && before > 0 {
		next.Link = before / v
	}
	*f = next
}

// unseen returns the members that came after the last look, by their marks.
func (f *volumeFrame) unseen(members []*member, marks []mark) []*member {
	var latest []*member
	seen := f.counted
	for i := range marks {
		if n := marks[i].number; n >= f.counted {
			latest = append(latest, members[i])
			seen = max(seen, n+1)
		}
	}
	f.counted = seen
	return latest
}

// see takes all members for seen after it, and returns them.
func (f *volumeFrame) see(members []*member) []*member {
	for _, m := range members {
		f.counted = max(f.counted, m.number+1)
	}
	return members
}

// drawSamples makes the samples, always the same for a seed.
func (f *volumeFrame) drawSamples(seed uint64) {
	m := len(f.Low)
	if m < 4 {
		return
	}
	if f.samples == nil { // those of the frame before are the same
		f.samples = volume.NewSamples(frameSamples, m, frameSampleLow, frameReference, newRand(seed, streamVolume))
	}
	f.undominated = f.samples.None()
	for w := range f.undominated {
		f.undominated[w] = math.MaxUint64
	}
}

// volume returns the hypervolume of the archive in the frame: exact up to three
// objectives, else sampled. latest are the members not yet counted.
func (f *volumeFrame) volume(members, latest []*member) float64 {
	if f.Low == nil {
		return 0
	}
	if f.samples != nil {
		return f.sampled(latest)
	}
	reference := make([]float64, len(f.Low))
	scaled := make([][]float64, len(members))
	for i, m := range members {
		scaled[i] = f.normalise(m)
	}
	for i := range reference {
		reference[i] = frameReference
	}
	return f.Link * volume.Hypervolume(scaled, reference) / math.Pow(frameReference, float64(len(reference)))
}

func (f *volumeFrame) normalise(m *member) []float64 {
	p := make([]float64, len(f.Low))
	for i, v := range m.outcome.F {
		p[i] = (v - f.Low[i]) / f.Span[i]
	}
	return p
}

// sampled strikes out the samples that members not seen before dominate. What once was
// dominated stays so when the archive is thinned.
func (f *volumeFrame) sampled(latest []*member) float64 {
	if f.struck == nil {
		f.struck = f.samples.None()
	}
	var room [8]float64
	place := append(room[:0], f.Low...)
	for _, m := range latest {
		for i, v := range m.outcome.F {
			place[i] = (v - f.Low[i]) / f.Span[i]
		}
		f.samples.Strike(f.undominated, f.struck, place)
	}
	box := math.Pow((frameReference-frameSampleLow)/frameReference, float64(len(f.Low)))
	return f.Link * box * float64(frameSamples-volume.CountBits(f.undominated)) / frameSamples
}

func (f *volumeFrame) pack(w *wire.Writer) {
	w.Float(f.LeastViolation)
	w.Int(f.BestAt)
	w.Bool(f.Low != nil)
	if f.Low == nil {
		return
	}
	w.Floats(f.Low)
	w.Floats(f.Span)
	w.Float(f.Link)
	w.Float(f.Best)
	w.Int(f.counted)
	for _, set := range f.undominated {
		w.Word(set)
	}
}

func (f *volumeFrame) unpack(u *wire.Reader, objectives int, seed uint64) {
	least := []float64{0}
	u.Floats(least, true)
	f.LeastViolation, f.BestAt = least[0], u.Int(0, math.MaxInt)
	if !u.Bool() {
		return
	}
	f.Low, f.Span = make([]float64, objectives), make([]float64, objectives)
	u.Floats(f.Low, false)
	u.Floats(f.Span, false)
	f.Link, f.Best = u.Finite(), u.Finite()
	f.counted = u.Int(0, math.MaxInt)
	f.drawSamples(seed)
	for w := range f.undominated {
		f.undominated[w] = u.Word()
	}
}
