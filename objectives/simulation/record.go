package simulation

import (
	"math"
)

// window is the part of a run that counts: it opens when the front axle reaches a place, in m, and a time, in s, and stays open
// for a while, in s.
type window struct{ fromX, fromS, lasts float64 }

// record is what is seen of a run. Hands, loads and travel count while the window is open, all else from the start.
type record struct {
	window
	stepS      float64
	staticN    float64
	restStroke float64 // m, at the start
	target     float64 // by how much the travel at rest changes, m

	opened            bool
	openS             float64
	samples, airborne int
	load, square      float64 // sums of the front load less the static one
	handX, handZ      weighting
	handSquare        float64
	handPeak          float64

	travel, dive, rise float64 // largest travel in the window; largest and smallest since the start, less that at the start
	startPitch, nose   float64
	rearLoad           float64
	stop, shaft        float64
	unsettled          float64 // s: the last time that the travel was away from its target
}

// settledShare is how near to its target, over the whole change, the travel counts as settled.
const settledShare = 0.05

// begin prepares for a run from a state at rest.
func (r *record) begin(m *Simulator, from *state, w window) {
	filter := newWeighting(m.stepS)
	*r = record{
		window: w, stepS: m.stepS, staticN: m.ride.Setting.FrontLoadN(), restStroke: from.at[stroke], startPitch: from.at[pitch],
		handX: filter, handZ: filter, travel: math.Inf(-1), rearLoad: math.Inf(1), nose: from.at[pitch],
	}
}

// see takes a sample. It is true when the window has closed.
func (r *record) see(time float64, s *state, x *sample, b *bike) bool {
	ax, az := b.handAccel(s, x)
	wx, wz := r.handX.next(ax), r.handZ.next(az)

	moved := s.at[stroke] - r.restStroke
	r.dive, r.rise = max(r.dive, moved), min(r.rise, moved)
	r.nose = min(r.nose, s.at[pitch])
	r.rearLoad = min(r.rearLoad, x.load[1])
	r.stop, r.shaft = max(r.stop, x.stop), max(r.shaft, x.shaft)
	if math.Abs(moved-r.target) > settledShare*math.Abs(r.target) {
		r.unsettled = time + r.stepS
	}
	if !r.opened {
		if x.axle < r.fromX || time < r.fromS {
			return false
		}
		r.opened, r.openS = true, time
	}
	if time-r.openS > r.lasts-r.stepS/2 {
		return true
	}
	r.samples++
	off := x.load[0] - r.staticN
	r.load += off
	r.square += off * off
	if x.load[0] == 0 {
		r.airborne++
	}
	r.handSquare += wx*wx + wz*wz
	r.handPeak = max(r.handPeak, math.Hypot(ax, az))
	r.travel = max(r.travel, s.at[stroke])
	return false
}

// end says why what was seen does not count, or nothing.
func (r *record) end() string {
	if r.samples == 0 {
		return "the bump is not reached"
	}
	return ""
}

// loadPct is the standard deviation of the front load, in % of the static load.
func (r *record) loadPct() float64 {
	n := float64(r.samples)
	mean := r.load / n
	return 100 * math.Sqrt(max(r.square/n-mean*mean, 0)) / r.staticN
}

func (r *record) handRMS() float64 { return math.Sqrt(r.handSquare / float64(r.samples)) }
