package simulation

import (
	"fmt"
	"math"
	"slices"

	"forkfront/objectives/ride"
)

// Event is something that happens to a bike.
type Event struct {
	Name, Doc string
	Has       []int // its quantities

	run func(m *Simulator, dst *Outcome, p *Plan)
	one func(m *Simulator, dst *Outcome, p *Plan) // the one of its runs that is traced; nil: it has but one
}

// The events, in the order of Events.
const (
	Stop = iota
	FreeBump
	BrakedBump
	Ripple
	RoughRoad
	Drop
	events
)

// Events is the registry.
var Events = [events]Event{
	Stop: {
		Name: "stop", Doc: "braking_g from stop_m_per_s on a level road, for 1.5 s; the brake is applied within 0.1 s",
		Has: []int{PeakDiveMM, RestDiveMM, OvershootPct, SettleS, PitchDeg, RearLoadMinN}, run: (*Simulator).stop,
	},
	FreeBump: {
		Name: "bump", Doc: "a bump under the front wheel, the brake off: mean of three heights (2/3, 1, 4/3) and three speeds (−1, 0, +1 m/s)",
		Has: bumpQuantities, run: func(m *Simulator, dst *Outcome, p *Plan) { m.bumps(dst, p, p.free[:], p.Bump.FreeMPerS, 0) },
		one: func(m *Simulator, dst *Outcome, p *Plan) {
			dst.Missing = m.bump(dst, p.free[nominal], freeFootM, p.Bump.FreeMPerS, 0)
		},
	},
	BrakedBump: {
		Name: "bump_braked", Doc: "the same bumps with the brake on at braking_g, from 4 m before them: mean of three heights and three speeds",
		Has: bumpQuantities, run: func(m *Simulator, dst *Outcome, p *Plan) {
			m.bumps(dst, p, p.braked[:], p.Bump.BrakedMPerS, p.brakingN)
		},
		one: func(m *Simulator, dst *Outcome, p *Plan) {
			dst.Missing = m.bump(dst, p.braked[nominal], brakeFootM, p.Bump.BrakedMPerS, p.brakingN)
		},
	},
	Ripple: {
		Name: "ripple_braked", Doc: "one bump 5 mm high with the brake on at braking_g: here friction decides, not the linkage",
		Has: bumpQuantities, run: (*Simulator).ripple,
	},
	RoughRoad: {
		Name: "rough", Doc: "both wheels on a random road of ISO 8608 (road_class, road_speed_m_per_s) for 4 s after the first; mean of five roads",
		Has: []int{LoadPct, LoadMorePct, LoadErrorPct, AirborneS, HandRMS, HandPeak, TravelPct}, run: (*Simulator).rough,
		one: func(m *Simulator, dst *Outcome, p *Plan) { m.roughRoad(dst, p, p.roads[0]) },
	},
	Drop: {
		Name: "drop", Doc: "the front wheel lands from drop_mm, the rear wheel on the ground",
		Has: []int{TravelPct, StopForceN, ShaftMPerS}, run: (*Simulator).drop,
	},
}

// EventNamed is the number of the event with a name; −1: there is none.
func EventNamed(name string) int {
	return slices.IndexFunc(Events[:], func(e Event) bool { return e.Name == name })
}

// EventNames are the names of all events, in the order of Events.
func EventNames() (names []string) {
	for i := range Events {
		names = append(names, Events[i].Name)
	}
	return names
}

var bumpQuantities = []int{LoadPct, AirborneS, HandRMS, HandPeak, TravelPct}

const (
	stopS                 = 1.5
	freeFootM, brakeFootM = 1.0, 4.0 // from the front axle to the foot of the bump
	bumpS                 = 0.6
	bumpOpens             = 0.6 // of the front radius before the foot
	rippleMM              = 5.0
	roughSeeds            = 5
	roughFirstS, roughS   = 1.0, 4.0
	roughAheadM           = 0.5
	dropS                 = 0.5
	leastDiveM            = 1e-3 // below which overshoot and settling have no meaning
)

var (
	bumpHeights = [3]float64{2. / 3, 1, 4. / 3}
	bumpSpeeds  = [3]float64{-1, 0, 1} // m/s, added
)

// nominal is the bump with the height that is given.
const nominal = 1

var level = NewRoad(nil)

// Plan is what all forks of a case go through. It never changes, so all workers share it.
type Plan struct {
	Setting
	brakingN     float64
	free, braked [3]*Road
	ripple       *Road
	roads        [roughSeeds]*Road
}

// NewPlan builds the roads of a case.
func NewPlan(s Setting, of *ride.Setting) *Plan {
	p := &Plan{Setting: s, brakingN: of.BrakingN()}
	b := &s.Bump
	for i, share := range bumpHeights {
		p.free[i] = Trapezoid(freeFootM, share*b.HeightMM*perMM, b.RampMM*perMM, b.TopMM*perMM)
		p.braked[i] = Trapezoid(brakeFootM, share*b.HeightMM*perMM, b.RampMM*perMM, b.TopMM*perMM)
	}
	p.ripple = Trapezoid(brakeFootM, rippleMM*perMM, b.RampMM*perMM, b.TopMM*perMM)
	for i := range p.roads {
		p.roads[i] = Rough(s.RoadClass, roughAheadM, s.RoadMPerS*(roughFirstS+roughS)+1, uint64(i+1))
	}
	return p
}

// AllEvents are their indices.
var AllEvents = []int{Stop, FreeBump, BrakedBump, Ripple, RoughRoad, Drop}

// NotRun is why an event has no values that was not asked for.
const NotRun = "not simulated"

// Run puts a fork through events.
func (m *Simulator) Run(dst *Results, p *Plan, f *Fork, in []int) {
	m.set(&p.Setting, f)
	m.offJ = 0
	dst.Miss(NotRun)
	for _, i := range in {
		dst[i] = Outcome{}
		Events[i].run(m, &dst[i], p)
	}
}

// moving is the bike at rest on level ground, but rolling.
func (m *Simulator) moving(dst *Outcome, speed float64) (s state, ok bool) {
	s, ok = m.rest(0)
	if !ok {
		dst.Missing = "the bike does not stand on both wheels"
	}
	s.speed[forward] = speed
	return s, ok
}

func (m *Simulator) stop(dst *Outcome, p *Plan) {
	s, ok := m.moving(dst, p.StopMPerS)
	if !ok {
		return
	}
	from := s.at[stroke]
	braked, stands := m.rest(p.brakingN)
	m.record.begin(m, &s, window{math.Inf(-1), 0, stopS})
	r := &m.record
	r.target = braked.at[stroke] - from
	if dst.Missing = m.run(&s, &scene{level, level, p.brakingN, brakeRiseS, stopS}); dst.Missing != "" {
		return
	}
	v := &dst.Values
	peak := r.dive
	if stands && r.target < 0 {
		peak = r.rise
	}
	v[PeakDiveMM], v[RestDiveMM] = peak/perMM, r.target/perMM
	v[PitchDeg], v[RearLoadMinN] = ride.Degrees(r.startPitch-r.nose), r.rearLoad
	v[OvershootPct], v[SettleS] = 100*(peak/r.target-1), r.unsettled
	switch {
	case !stands:
		const lifts = "at this deceleration there is no rest with both wheels on the ground"
		dst.Why[RestDiveMM], dst.Why[OvershootPct], dst.Why[SettleS] = lifts, lifts, lifts
	case math.Abs(r.target) < leastDiveM:
		const hardly = "the fork hardly dives"
		dst.Why[OvershootPct], dst.Why[SettleS] = hardly, hardly
	case r.unsettled > stopS-stopS/100:
		dst.Why[SettleS] = fmt.Sprintf("not settled within %g s", stopS)
	}
	for q := range dst.Why {
		if dst.Why[q] != "" {
			v[q] = 0
		}
	}
}

// bumps takes the means over heights and speeds.
func (m *Simulator) bumps(dst *Outcome, p *Plan, roads []*Road, speed, braking float64) {
	foot := freeFootM
	if braking > 0 {
		foot = brakeFootM
	}
	for i, road := range roads {
		for k, more := range bumpSpeeds {
			if dst.Missing = m.bump(dst, road, foot, speed+more, braking); dst.Missing != "" {
				dst.Missing = fmt.Sprintf("height × %.3g, %g m/s: %s", bumpHeights[i], speed+bumpSpeeds[k], dst.Missing)
				return
			}
		}
	}
	dst.divide(float64(len(roads) * len(bumpSpeeds)))
}

// bump adds what one bump tells.
func (m *Simulator) bump(dst *Outcome, road *Road, foot, speed, braking float64) string {
	s, ok := m.moving(dst, speed)
	if !ok {
		return dst.Missing
	}
	m.record.begin(m, &s, window{foot - bumpOpens*m.radius[0], 0, bumpS})
	if why := m.run(&s, &scene{road, level, braking, brakeRiseS, 2*foot/speed + 2*bumpS}); why != "" {
		return why
	}
	m.addTo(dst)
	return ""
}

func (m *Simulator) ripple(dst *Outcome, p *Plan) {
	dst.Missing = m.bump(dst, p.ripple, brakeFootM, p.Bump.BrakedMPerS, p.brakingN)
}

func (m *Simulator) rough(dst *Outcome, p *Plan) {
	for i, road := range p.roads {
		if m.roughRoad(dst, p, road); dst.Missing != "" {
			return
		}
		dst.seeds[i] = m.record.loadPct()
	}
	dst.divide(roughSeeds)
	dst.Why[LoadMorePct], dst.Why[LoadErrorPct] = NotCompared, NotCompared
}

// roughRoad adds what one rough road tells.
func (m *Simulator) roughRoad(dst *Outcome, p *Plan, road *Road) {
	s, ok := m.moving(dst, p.RoadMPerS)
	if !ok {
		return
	}
	m.record.begin(m, &s, window{math.Inf(-1), roughFirstS, roughS})
	if dst.Missing = m.run(&s, &scene{road, road, 0, 0, roughFirstS + roughS}); dst.Missing == "" {
		m.addTo(dst)
	}
}

// NotCompared is why the telescopic fork has no values in comparison with itself.
const NotCompared = "it is the telescopic fork itself"

// Compare adds what takes the outcomes of the telescopic fork as well.
func (r *Results) Compare(telescopic *Results) {
	to, by := &r[RoughRoad], &telescopic[RoughRoad]
	if to.Missing != "" {
		return
	}
	if by.Missing != "" {
		to.Why[LoadMorePct], to.Why[LoadErrorPct] = "telescopic fork: "+by.Missing, "telescopic fork: "+by.Missing
		return
	}
	mean, square := 0.0, 0.0
	for i := range to.seeds {
		mean += (to.seeds[i] - by.seeds[i]) / roughSeeds
	}
	for i := range to.seeds {
		off := to.seeds[i] - by.seeds[i] - mean
		square += off * off
	}
	to.Values[LoadMorePct], to.Values[LoadErrorPct] = mean, 2*math.Sqrt(square/(roughSeeds-1)/roughSeeds)
	to.Why[LoadMorePct], to.Why[LoadErrorPct] = "", ""
}

// sameLoad is by how much of itself a variation of load may exceed another without being worse.
const sameLoad = 0.01

// LoadWorse tells whether in an event the load on the front wheel varies more than that of another fork: by more than 1 %, on
// rough roads by more than two standard errors.
func (r *Results) LoadWorse(than *Results, event int) bool {
	to, by := &r[event], &than[event]
	if !slices.Contains(Events[event].Has, LoadPct) || to.Missing != "" || by.Missing != "" {
		return false
	}
	if event == RoughRoad {
		return to.Values[LoadMorePct] > to.Values[LoadErrorPct]
	}
	return to.Values[LoadPct] > by.Values[LoadPct]*(1+sameLoad)
}

func (m *Simulator) drop(dst *Outcome, p *Plan) {
	s, ok := m.moving(dst, 0)
	if !ok {
		return
	}
	var x sample
	m.reach(&x, &s)
	rear := s.at[up] + x.arms.qz
	s.at[stroke] = 0
	m.reach(&x, &s)
	m.stand(&s, &x, m.radius[0], rear)
	a := &x.arms
	spin := -math.Sqrt(2*ride.Gravity*p.DropMM*perMM) / (a.rx - a.qx)
	s.speed[pitch], s.speed[forward], s.speed[up] = spin, spin*a.qz, -spin*a.qx
	m.record.begin(m, &s, window{math.Inf(-1), 0, dropS})
	if dst.Missing = m.run(&s, &scene{level, level, 0, 0, dropS}); dst.Missing != "" {
		return
	}
	dst.Values[TravelPct] = 100 * m.record.travel / m.travel
	dst.Values[StopForceN], dst.Values[ShaftMPerS] = m.record.stop, m.record.shaft
}

// addTo adds the results of a run to an outcome. It is a method of Simulator rather than of Outcome because importing a type compiles
// everything that its methods refer to.
func (m *Simulator) addTo(o *Outcome) {
	r, v := &m.record, &o.Values
	v[LoadPct] += r.loadPct()
	v[AirborneS] += float64(r.airborne) * r.stepS
	v[HandRMS] += r.handRMS()
	v[HandPeak] += r.handPeak
	v[TravelPct] += 100 * r.travel / m.travel
}

func (o *Outcome) divide(by float64) {
	for i := range o.Values {
		o.Values[i] /= by
	}
}
