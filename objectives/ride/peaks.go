package ride

import "math"

// ends are the samples at which a curve is smallest and largest.
type ends struct {
	low, high   int
	least, most float64
}

func noEnds() ends { return ends{least: math.Inf(1), most: math.Inf(-1)} }

// see takes in the value at a sample.
func (e *ends) see(i int, x float64) {
	if x < e.least {
		e.low, e.least = i, x
	}
	if x > e.most {
		e.high, e.most = i, x
	}
}

// peaks are the ends of the curves that measures look at, all found in one pass over the samples.
type peaks struct {
	ahead, trail, wheelbase, shockRate, sine ends
	versus                                   ends      // trail against the telescopic baseline's, without sign
	antiDive                                 ends      // from sag on; nothing is seen where sag is the full travel
	antiDives                                []float64 // by sample, from sag on
}

// survey finds the peaks; sag is known.
func survey(s *Ride[float64]) {
	x, telescopic := &s.peaks, s.baseline.trails
	x.ahead, x.trail, x.wheelbase, x.shockRate, x.sine = noEnds(), noEnds(), noEnds(), noEnds(), noEnds()
	x.versus, x.antiDive = noEnds(), noEnds()
	for i := range s.States {
		st := &s.States[i]
		x.ahead.see(i, st.Ahead)
		x.trail.see(i, st.TrailMM)
		x.wheelbase.see(i, st.WheelbaseMM)
		x.shockRate.see(i, st.ShockRate)
		x.sine.see(i, st.SineMin)
		x.versus.see(i, math.Abs(st.TrailMM-telescopic[i]))
	}
	if len(x.antiDives) != len(s.States) {
		x.antiDives = make([]float64, len(s.States))
	}
	scale := antiDiveScale(&s.Setting.Chassis)
	for i := s.pastSag; i < len(s.States); i++ {
		now := scale * s.States[i].ContactVX / s.States[i].VZ // AntiDive, which would find its scale each time
		x.antiDives[i] = now
		x.antiDive.see(i, now)
	}
}
