package ride

import "math"

// extremes are the samples at which a curve is smallest and largest, and its values there.
type extremes struct {
	low, high   int
	least, most float64
}

func noExtremes() extremes { return extremes{least: math.Inf(1), most: math.Inf(-1)} }

// include updates the extremes by the value at a sample.
func (e *extremes) include(i int, x float64) {
	if x < e.least {
		e.low, e.least = i, x
	}
	if x > e.most {
		e.high, e.most = i, x
	}
}

// curveExtremes are the extremes of the curves that measures read, all found in one pass over the samples.
type curveExtremes struct {
	ahead, trail, wheelbase, shockRate, sine extremes
	versus                                   extremes  // absolute difference of trail from the telescopic baseline
	antiDive                                 extremes  // from sag to full travel; empty where sag is at full travel
	antiDives                                []float64 // by sample, from sag on
}

// findExtremes fills in the extremes. Sag must have been found.
func findExtremes(s *Ride[float64]) {
	x, telescopic := &s.extremes, s.baseline.trails
	x.ahead, x.trail, x.wheelbase, x.shockRate, x.sine = noExtremes(), noExtremes(), noExtremes(), noExtremes(), noExtremes()
	x.versus, x.antiDive = noExtremes(), noExtremes()
	for i := range s.States {
		st := &s.States[i]
		x.ahead.include(i, st.Ahead)
		x.trail.include(i, st.TrailMM)
		x.wheelbase.include(i, st.WheelbaseMM)
		x.shockRate.include(i, st.ShockRate)
		x.sine.include(i, st.SineMin)
		x.versus.include(i, math.Abs(st.TrailMM-telescopic[i]))
	}
	if len(x.antiDives) != len(s.States) {
		x.antiDives = make([]float64, len(s.States))
	}
	scale := antiDiveScale(&s.Setting.Chassis)
	for i := s.pastSag; i < len(s.States); i++ {
		now := scale * s.States[i].ContactVX / s.States[i].VZ // AntiDive, with its scale taken out of the loop
		x.antiDives[i] = now
		x.antiDive.include(i, now)
	}
}
