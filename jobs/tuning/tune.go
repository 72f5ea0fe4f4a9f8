package tuning

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"sync"

	"forkfront/jobs/files"
	"forkfront/objectives"
	"forkfront/objectives/quarter"
	"forkfront/objectives/simulation"
	"forkfront/optimize/simplex"
)

// Tuner tunes one fork. It is used by one goroutine.
type Tuner struct {
	file       *files.ConceptFile
	conditions *objectives.Conditions
	design     *objectives.Design
	aims       []Aim
	in         []int // events of the aims
	telescopic *simulation.Results
	by         *simulation.Simulator
	ctx        context.Context // of one call of Tune

	forks   []*sprung
	dampers []offered
	tried   map[place]float64
}

// place is a setting by its numbers.
type place struct {
	fork, damper int // of Tuner.forks and Tuner.dampers
	at           [directions]float64
}

// Tried is the fork with one setting.
type Tried struct {
	Spring
	quarter.Adjustment
	Damper  string          // the one on sale; empty: none
	Clicks  [directions]int // of compression and rebound, from the softest; −1: stepless
	Ratio   float64         // damping ratio at sag
	Mean    float64         // of the aims over those of the telescopic fork
	Results simulation.Results
}

// Tuned is what tuning found.
type Tuned struct {
	Aims                      []Aim
	LeftOut                   []string // aims of which the telescopic fork has no value above 0, with the reason
	Before, ByQuarter, After  Tried
	Telescopic                *simulation.Results
	TunedTelescopic           simulation.Results
	TelescopicMean            float64 // of the tuned one
	TelescopicRatio           float64 // its damping ratio
	Settings, SettingsOfOther int     // simulated, of the fork and of the telescopic one
}

// How far a descent goes: the size of the first simplex in logarithms of damping coefficients, its evaluations, and the rounds
// in which spring and damper are tried in turn.
const (
	simplexSize  = 0.25
	descentMost  = 30
	turns        = 3
	noValue      = 1e3 // the mean of a setting that lacks a value: larger than any that counts
	enoughGained = 1e-4
)

// New prepares for a fork. The error tells why its events cannot be simulated.
func New(file *files.ConceptFile, c *objectives.Conditions, d *objectives.Design, aims []Aim) (*Tuner, *Tuned, error) {
	if c.Events == nil {
		return nil, nil, errors.New("without a ride section there are no events to tune for; add one, such as ride: {kind: trail}")
	}
	t := &Tuner{file: file, conditions: c, design: d, by: simulation.NewSimulator(), tried: map[place]float64{}, telescopic: c.Events.Telescopic()}
	out := &Tuned{Telescopic: t.telescopic}
	for _, a := range aims {
		why := t.telescopic[a.Event].Known(a.Quantity)
		if why == "" && !(t.telescopic[a.Event].Values[a.Quantity] > 0) {
			why = "it is 0"
		}
		if why != "" {
			out.LeftOut = append(out.LeftOut, fmt.Sprintf("%s of the telescopic fork: %s", a.Name(), why))
			continue
		}
		t.aims = append(t.aims, a)
	}
	if len(t.aims) == 0 {
		return nil, nil, fmt.Errorf("the telescopic fork has no value to compare with (%s)", out.LeftOut[0])
	}
	out.Aims, t.in = t.aims, events(t.aims)
	return t, out, nil
}

// Tune fills in what it finds. The error tells why the fork cannot be tuned, or that the context has ended.
func (t *Tuner) Tune(ctx context.Context, out *Tuned) error {
	t.ctx = ctx
	springs, err := t.springs()
	if err != nil {
		return err // before the telescopic fork, which takes seconds, is tuned
	}
	var other sync.WaitGroup
	other.Go(func() { t.tuneTelescopic(out) })
	err = t.tuneFork(out, springs)
	other.Wait()
	return cmp.Or(ctx.Err(), err)
}

func (t *Tuner) tuneFork(out *Tuned, springs []*sprung) error {
	asItIs := t.with(t.design.Shock.PreloadMM, t.conditions.SagPct)
	needs, ok := asItIs.study.Needs(&asItIs.score)
	if !ok {
		return errors.New("the fork has no damping coefficient at sag")
	}
	set := needs
	if t.conditions.Damper != nil {
		set = *t.conditions.Damper
	}
	out.Before = t.look(asItIs, &offered{}, set)
	if math.IsInf(out.Before.Mean, 1) {
		return fmt.Errorf("as it is, the fork lacks a value: %s", t.lacks(&out.Before.Results))
	}
	t.forks, t.dampers = springs, t.offers(&needs)
	byQuarter, best := t.ofQuarter(), math.Inf(1)
	out.ByQuarter = t.tell(byQuarter)
	// A mean may have several low places: one descent begins where the quarter model leads, one at a softest or firmest setting.
	var at place
	for _, start := range [][]func(fork int, o *offered) [directions]float64{
		{func(fork int, _ *offered) [directions]float64 { return t.needs(fork) }},
		{func(_ int, o *offered) [directions]float64 { return o.low }, func(_ int, o *offered) [directions]float64 { return o.high }},
	} {
		if p, v := t.improve(t.bestOf(start)); v < best {
			at, best = p, v
		}
	}
	if math.IsInf(best, 1) || best >= noValue {
		return errors.New("no setting on sale has all values")
	}
	out.After = t.tell(at)
	out.Settings = len(t.tried)
	return nil
}

// bestOf is the best of some settings of all pairs of spring and damper.
func (t *Tuner) bestOf(settings []func(fork int, o *offered) [directions]float64) (at place, best float64) {
	best = math.Inf(1)
	for i := range t.forks {
		for k := range t.dampers {
			for _, of := range settings {
				p := place{i, k, t.dampers[k].setting(of(i, &t.dampers[k]))}
				if v := t.value(p); v < best {
					at, best = p, v
				}
			}
		}
	}
	return at, best
}

// improve tries in turn compression and rebound, and the other springs and dampers with that setting, as long as that gains.
func (t *Tuner) improve(at place, best float64) (place, float64) {
	for range turns {
		before := best
		at, best = t.descend(at, best)
		for i := range t.forks {
			for k := range t.dampers {
				p := place{i, k, t.dampers[k].setting(at.at)}
				v := t.value(p)
				if k == at.damper { // with another spring the same damper may do better a few clicks away
					p, v = t.click(p, v)
				}
				if v < best-enoughGained {
					at, best = p, v
				}
			}
		}
		if before-best < enoughGained {
			break
		}
	}
	return at, best
}

// offers are the dampers to choose from.
func (t *Tuner) offers(needs *quarter.Adjustment) (all []offered) {
	for i := range t.conditions.Quarter.Dampers {
		all = append(all, onSale(&t.conditions.Quarter.Dampers[i]))
	}
	if all == nil {
		all = []offered{anyDamper(needs)}
	}
	return all
}

// needs are the coefficients that the quarter model asks of the damper of a fork.
func (t *Tuner) needs(fork int) [directions]float64 {
	f := t.forks[fork]
	set, _ := f.study.Needs(&f.score)
	return [directions]float64{set.CompressionNS, set.ReboundNS}
}

// ofQuarter is what the quarter model proposes: of the springs that give the sag the one with the least preload, and the damper
// that fits best.
func (t *Tuner) ofQuarter() place {
	p, off := place{}, math.Inf(1)
	for i, f := range t.forks {
		by := math.Abs(f.SagPct - t.conditions.SagPct)
		if by < off || by == off && f.PreloadMM < t.forks[p.fork].PreloadMM {
			p.fork, off = i, by
		}
	}
	needs := t.needs(p.fork)
	if sold := t.conditions.Quarter.Dampers; sold != nil {
		best := quarter.Fitting(sold, needs[0], needs[1])
		for i := range sold {
			if best == &sold[i] {
				p.damper = i
			}
		}
	}
	p.at = t.dampers[p.damper].setting(needs)
	return p
}

// value is the mean of the aims at a setting.
func (t *Tuner) value(p place) float64 {
	if v, done := t.tried[p]; done {
		return v
	}
	if t.ctx.Err() != nil {
		return noValue
	}
	var r simulation.Results
	set := t.dampers[p.damper].adjustment(p.at)
	f := t.forks[p.fork]
	f.study.Try(t.by, &r, &f.score, &set, t.in)
	v := math.Min(mean(t.aims, &r, t.telescopic), noValue)
	t.tried[p] = v
	return v
}

// descend goes down in compression and rebound as if the damper had no clicks; then, from the nearest click and from where it began,
// to neighbouring clicks as far as one is better.
func (t *Tuner) descend(from place, value float64) (at place, best float64) {
	o := &t.dampers[from.damper]
	between := func(x []float64) [directions]float64 {
		return o.within([directions]float64{math.Exp(x[0]), math.Exp(x[1])})
	}
	low, _ := simplex.Descend(func(x []float64) float64 {
		return t.value(place{from.fork, from.damper, between(x)})
	}, []float64{math.Log(from.at[0]), math.Log(from.at[1])}, simplexSize, descentMost)
	at, best = t.click(from, value)
	near := place{from.fork, from.damper, o.setting(between(low))}
	if p, v := t.click(near, t.value(near)); v < best {
		at, best = p, v
	}
	return at, best
}

// click goes from click to click as far as a neighbour is better.
func (t *Tuner) click(at place, best float64) (place, float64) {
	for gained := true; gained; {
		gained = false
		for _, next := range t.dampers[at.damper].beside(at.at) {
			p := place{at.fork, at.damper, next}
			if v := t.value(p); v < best-enoughGained {
				at, best, gained = p, v, true
				break
			}
		}
	}
	return at, best
}

// tell simulates all events at a setting.
func (t *Tuner) tell(p place) Tried {
	o := &t.dampers[p.damper]
	out := t.look(t.forks[p.fork], o, o.adjustment(p.at))
	for i, c := range p.at {
		if o.clicks[i] > 0 {
			out.Clicks[i] = o.click(i, c)
		}
	}
	return out
}

func (t *Tuner) look(f *sprung, o *offered, set quarter.Adjustment) Tried {
	out := Tried{Spring: f.Spring, Adjustment: set, Damper: o.name, Clicks: [directions]int{-1, -1}}
	f.study.Try(t.by, &out.Results, &f.score, &set, simulation.AllEvents)
	out.Results.Compare(t.telescopic)
	out.Mean = mean(t.aims, &out.Results, t.telescopic)
	out.Ratio, _ = f.conditions.DampingRatio(&f.score, &set)
	return out
}

// lacks names the first aim without a value, and why.
func (t *Tuner) lacks(r *simulation.Results) string {
	for _, a := range t.aims {
		if why := r[a.Event].Known(a.Quantity); why != "" {
			return a.Name() + ": " + why
		}
	}
	return ""
}

// tuneTelescopic gives the telescopic fork the same chance: its spring stays, its damper may be anything near what it needs. It
// runs beside the fork's search and shares nothing with it that changes.
func (t *Tuner) tuneTelescopic(out *Tuned) {
	c, by := t.conditions, simulation.NewSimulator()
	needs := c.TelescopicNeeds()
	o := anyDamper(&needs)
	best, at := math.Inf(1), needs
	visit := func(x []float64) float64 {
		if t.ctx.Err() != nil {
			return noValue
		}
		set := o.adjustment(o.setting([directions]float64{math.Exp(x[0]), math.Exp(x[1])}))
		var r simulation.Results
		c.TryTelescopic(by, &r, &set, t.in)
		out.SettingsOfOther++
		v := math.Min(mean(t.aims, &r, t.telescopic), noValue)
		if v < best {
			best, at = v, set
		}
		return v
	}
	simplex.Descend(visit, []float64{math.Log(needs.CompressionNS), math.Log(needs.ReboundNS)}, simplexSize, descentMost)
	c.TryTelescopic(by, &out.TunedTelescopic, &at, simulation.AllEvents)
	out.TelescopicMean = mean(t.aims, &out.TunedTelescopic, t.telescopic)
	out.TelescopicRatio = c.Quarter.DampingRatio * (at.CompressionNS + at.ReboundNS) / (needs.CompressionNS + needs.ReboundNS)
}
