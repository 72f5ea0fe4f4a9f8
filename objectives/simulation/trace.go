package simulation

import (
	"math"

	"forkfront/objectives/ride"
)

// Channel is something that a trace records over time.
type Channel struct {
	Name, Unit, Doc string
	Step            float64 // differences below it cannot be seen in a picture

	read func(s *state, x *sample, b *bike) float64
}

// The channels, in the order of Channels.
const (
	TraceTravelMM = iota
	TraceShaftMPerS
	TraceDamperN
	TraceFrontLoadN
	TraceRearLoadN
	TracePitchDeg
	TraceHandForward
	TraceHandUp
	TraceFrontAxleMM
	TraceRearAxleMM
	TraceRearTravelMM
	TraceForkAlongN
	TraceForkAheadN
	TraceBrakeNM
	channels
)

// Channels is the registry of what traces record.
var Channels = [channels]Channel{
	TraceTravelMM: {
		Name: "travel_mm", Unit: "mm", Doc: "travel; below 0 and above full travel a stop is compressed", Step: 0.02,
		read: func(s *state, _ *sample, _ *bike) float64 { return s.at[stroke] / perMM },
	},
	TraceShaftMPerS: {
		Name: "shaft_m_per_s", Unit: "m/s", Doc: "speed at which each shock is compressed, negative in rebound", Step: 0.002,
		read: func(_ *state, x *sample, _ *bike) float64 { return x.shaft },
	},
	TraceDamperN: {
		Name: "damper_n", Unit: "N", Doc: "force of the damper of each shock, positive in compression", Step: 1,
		read: func(_ *state, x *sample, b *bike) float64 {
			return b.damper.force(x.shaft) / float64(b.ride.Shock.Count)
		},
	},
	TraceFrontLoadN: {
		Name: "front_load_n", Unit: "N", Doc: "force of the road on the front wheel, square to the road; 0: no contact", Step: 1,
		read: func(_ *state, x *sample, _ *bike) float64 { return x.load[0] },
	},
	TraceRearLoadN: {
		Name: "rear_load_n", Unit: "N", Doc: "force of the road on the rear wheel, square to the road; 0: no contact", Step: 1,
		read: func(_ *state, x *sample, _ *bike) float64 { return x.load[1] },
	},
	TracePitchDeg: {
		Name: "pitch_deg", Unit: "deg", Doc: "turn of the frame, nose up, from how it stands at top-out on round tyres", Step: 0.002,
		read: func(s *state, _ *sample, _ *bike) float64 { return ride.Degrees(s.at[pitch]) },
	},
	TraceHandForward: {
		Name: "hand_forward_m_per_s2", Unit: "m/s2", Doc: "acceleration of the hands forward, not weighted", Step: 0.05,
		read: func(s *state, x *sample, b *bike) float64 { forward, _ := b.handAccel(s, x); return forward },
	},
	TraceHandUp: {
		Name: "hand_up_m_per_s2", Unit: "m/s2", Doc: "acceleration of the hands up, not weighted", Step: 0.05,
		read: func(s *state, x *sample, b *bike) float64 { _, up := b.handAccel(s, x); return up },
	},
	TraceFrontAxleMM: {
		Name: "front_axle_mm", Unit: "mm", Doc: "place of the front axle along the road, from where the event begins", Step: 1,
		read: func(_ *state, x *sample, _ *bike) float64 { return x.axle / perMM },
	},
	TraceRearAxleMM: {
		Name: "rear_axle_mm", Unit: "mm", Doc: "height of the rear axle over the level part of the road", Step: 0.1,
		read: func(s *state, x *sample, _ *bike) float64 { return (s.at[up] + x.arms.qz) / perMM },
	},
	TraceRearTravelMM: {
		Name: "rear_travel_mm", Unit: "mm", Doc: "travel of the rear axle against the frame, up; 0 without a rear suspension", Step: 0.1,
		read: func(s *state, _ *sample, _ *bike) float64 { return s.at[rearStroke] / perMM },
	},
	TraceForkAlongN: {
		Name: "fork_along_n", Unit: "N", Doc: "force on the fork at the axle along the steering axis, positive away from the crown: of the road less what the unsprung mass takes", Step: 0.1,
		read: func(s *state, x *sample, b *bike) float64 { along, _ := b.onFork(s, x); return along },
	},
	TraceForkAheadN: {
		Name: "fork_ahead_n", Unit: "N", Doc: "the same perpendicular to the steering axis, positive ahead", Step: 0.1,
		read: func(s *state, x *sample, b *bike) float64 { _, ahead := b.onFork(s, x); return ahead },
	},
	TraceBrakeNM: {
		Name: "brake_torque_nm", Unit: "N·m", Doc: "torque of the front brake on the caliper's body, positive from along to ahead", Step: 0.01,
		read: func(_ *state, x *sample, _ *bike) float64 { return x.torque },
	},
}

// TraceStepS is the time between two samples of a trace, in s: at 500 Hz, six for each period of what the model
// resolves.
const TraceStepS = 2e-3

// Trace is one run of an event over time.
type Trace struct {
	Missing string              // why there is none; empty where there is
	Values  [channels][]float64 // by channel, every TraceStepS from 0 on
	Counts  []bool              // whether the load variation, the hands and the travel of the event are read at the time
}

// Traces has the traces of all events, in the order of Events.
type Traces [events]Trace

// Rows is the number of samples.
func (t *Trace) Rows() int { return len(t.Counts) }

// see takes a sample.
func (t *Trace) see(s *state, x *sample, m *Simulator) {
	for i := range Channels {
		t.Values[i] = append(t.Values[i], Channels[i].read(s, x, &m.bike))
	}
	t.Counts = append(t.Counts, m.record.opened)
}

// Trace puts a fork through one run of each of some events: over the bump of height 1 at the speed given, on the first of the
// rough roads. What dst held is overwritten.
func (m *Simulator) Trace(dst *Traces, p *Plan, f *Fork, in []int) {
	m.set(&p.Setting, f)
	m.offJ = 0
	defer func() { m.trace = nil }()
	for i := range Events {
		t := &dst[i]
		t.Missing = NotRun
		for k := range t.Values {
			t.Values[k] = t.Values[k][:0]
		}
		t.Counts = t.Counts[:0]
	}
	for _, i := range in {
		t := &dst[i]
		m.trace = t
		run := Events[i].one
		if run == nil {
			run = Events[i].run
		}
		var o Outcome
		run(m, &o, p)
		t.Missing = o.Missing
	}
}

// Miss leaves all events without traces.
func (t *Traces) Miss(why string) {
	for i := range t {
		t[i] = Trace{Missing: why}
	}
}

// Road is what an event takes the front wheel over, as points along it and up in m, level at 0 before and after them: none
// where it is level.
func (p *Plan) Road(event int) (x, z []float64) {
	switch event {
	case FreeBump:
		return p.free[nominal].inner()
	case BrakedBump:
		return p.braked[nominal].inner()
	case Ripple:
		return p.ripple.inner()
	case RoughRoad:
		return p.roads[0].inner()
	}
	return nil, nil
}

// inner are the points of a road between its level ends.
func (r *Road) inner() (x, z []float64) { return r.x[1 : len(r.x)-1], r.z[1 : len(r.z)-1] }

// handAccel is the acceleration of the hands, forward and up, in m/s².
func (b *bike) handAccel(s *state, x *sample) (forwards, upwards float64) {
	hx, hz := x.turned(b.hands.Along-b.centre.Along, b.hands.Ahead-b.centre.Ahead)
	spin, turn := s.speed[pitch], x.accel[pitch]
	return x.accel[forward] - turn*hz - spin*spin*hx, x.accel[up] + turn*hx - spin*spin*hz
}

// onFork is the force on the fork at the axle in N, along the steering axis and ahead: that of the road and of gravity on the
// unsprung mass, less what accelerates that.
func (b *bike) onFork(s *state, x *sample) (along, ahead float64) {
	a := &x.arms
	spin, rate := x.accel[pitch], x.accel[stroke]
	fx := x.onAxle[0] - b.front*(x.accel[forward]-spin*a.rz+rate*a.wx)
	fz := x.onAxle[1] - b.front*(x.accel[up]+spin*a.rx+rate*a.wz)
	return fx*x.cos + fz*x.sin, fz*x.cos - fx*x.sin
}

// traceEvery is how many steps lie between two samples.
func (m *Simulator) traceEvery() int { return int(math.Round(TraceStepS / m.stepS)) }
