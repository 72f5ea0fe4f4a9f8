package ride

// rest finds the first travel from sag, in the direction in which the unbalance pushes, where the fork comes to
// rest under braking; the end of the travel if there is none.
func rest(s *Ride[float64], by solver) {
	s.stopSample = -1
	start := s.unbalance(&s.Sag)
	from, before := &s.Sag, start
	i, step := s.pastSag, 1
	if start < 0 {
		i, step = s.pastSag-1, -1
	}
	for ; i >= 0 && i < len(s.States); i += step {
		st := &s.States[i]
		if st.TravelMM == s.Sag.TravelMM {
			continue
		}
		now := s.unbalance(st)
		if now*start <= 0 {
			refine(s, by, bracket{from.TravelMM, st.TravelMM, before, now}, min(i, i-step))
			return
		}
		from, before = st, now
	}
	s.stopSample = max(0, min(i, len(s.States)-1))
	s.dive = s.States[s.stopSample].TravelMM - s.Sag.TravelMM
	s.restState.Copy(&s.States[s.stopSample])
}

// bracket is two travels, with the unbalance at them, between which it changes its sign.
type bracket struct{ a, b, fa, fb float64 }

// contains reports whether x lies between a and b, in either order.
func (k *bracket) contains(x float64) bool { return (x-k.a)*(x-k.b) <= 0 }

// narrow puts an end of the bracket at x.
func (k *bracket) narrow(x, f float64) {
	if f*k.fa <= 0 {
		k.b, k.fb = x, f
		return
	}
	k.a, k.fa = x, f
}

const (
	restExact  = 1e-10 // mm of travel: accuracy of the rest
	restRounds = 60    // enough bisections of any travel for that
)

// refine finds the rest within a bracket that begins at a sample: first from the polynomial through the samples
// around it, then by the secant method, with bisection where that leaves the bracket.
func refine(s *Ride[float64], by solver, k bracket, sample int) {
	at, slope := guess(s, &k, sample)
	before, fBefore := at, 0.0
	for round := range restRounds {
		if !by.Solve(&s.restState, nil, at) {
			s.fail(NeedDive, "the rest under braking near %.4g mm could not be solved", at)
			return
		}
		f := s.unbalance(&s.restState)
		if round > 0 {
			slope = (f - fBefore) / (at - before)
		}
		k.narrow(at, f)
		next := at - f/slope
		if !k.contains(next) {
			next = (k.a + k.b) / 2
		}
		if off := next - at; f == 0 || off < restExact && -off < restExact {
			break
		}
		before, fBefore, at = at, f, next
	}
	s.dive = at - s.Sag.TravelMM
}

// guess estimates where the unbalance vanishes in a bracket, and its slope there.
func guess(s *Ride[float64], k *bracket, sample int) (at, slope float64) {
	var c cubic
	n := min(len(c.x), len(s.States))
	first := max(0, min(sample-1, len(s.States)-n))
	for i := range n {
		st := &s.States[first+i]
		c.add(st.TravelMM, s.unbalance(st))
	}
	slope = (k.fb - k.fa) / (k.b - k.a)
	chord := k.a - k.fa/slope
	at = chord
	for range 4 { // each doubles the digits
		f, d := c.at(at)
		at -= f / d
		if !k.contains(at) {
			return chord, slope
		}
		slope = d
	}
	return at, slope
}

// cubic is the polynomial through up to four points, by divided differences (Newton).
type cubic struct {
	n    int
	x, c [4]float64
}

func (p *cubic) add(x, f float64) {
	for i := range p.n {
		f = (f - p.c[i]) / (x - p.x[i])
	}
	p.x[p.n], p.c[p.n] = x, f
	p.n++
}

// at is the polynomial's value and slope.
func (p *cubic) at(x float64) (value, slope float64) {
	for i := p.n - 1; i >= 0; i-- {
		slope = slope*(x-p.x[i]) + value
		value = value*(x-p.x[i]) + p.c[i]
	}
	return value, slope
}
