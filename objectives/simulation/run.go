package simulation

import (
	"fmt"
	"math"

	"forkfront/kinematics/plane"
)

// Simulator simulates forks, one after another. It is one worker's memory: a step allocates nothing.
type Simulator struct {
	bike
	stepS     float64
	wheels    [2]wheelOn
	equations plane.LU[float64]
	move      [coordinates]float64
	record    record
	trace     *Trace  // nil: none is taken
	offJ      float64 // largest energy that a run of the fork lost or gained in error
}

const (
	usualStepS = 0.25e-3
	energyJ    = 1.0 // error of the energy beyond which a run does not count
	energyRuns = 16  // steps after which it is looked at
	brakeRiseS = 0.1
	standsMPS  = 0.1 // below this speed the braked bike counts as standing
)

// NewSimulator returns a simulator for one worker.
func NewSimulator() *Simulator { return &Simulator{stepS: usualStepS} }

// scene is what a run goes through: two roads, the braking force in N (0: the brake stays off), the time in s in which it
// rises, linearly, and how long all lasts at most, in s.
type scene struct {
	front, rear    *Road
	braking, rises float64
	lasts          float64
}

// run moves a bike through a scene by the classical Runge-Kutta method of the fourth order and records what is seen. It says
// why the result does not count, or nothing.
func (m *Simulator) run(s *state, in *scene) string {
	m.wheels = [2]wheelOn{{in.front, m.radius[0], 0}, {in.rear, m.radius[1], 0}}
	steps := int(math.Round(in.lasts / m.stepS))
	var x sample
	var before float64
	for i := 0; ; i++ {
		time := float64(i) * m.stepS
		m.forces(&x, s, &m.wheels, in.braked(time))
		last := i == steps
		if i%energyRuns == 0 || last {
			now := m.energy(&x, s) + s.lost
			if i == 0 {
				before = now
			}
			if off := math.Abs(now - before); !(off <= energyJ) {
				return fmt.Sprintf("the energy is off by %.3g J after %.3f s, more than %g J", off, time, energyJ)
			} else if off > m.offJ {
				m.offJ = off
			}
		}
		closed := m.record.see(time, s, &x, &m.bike)
		if m.trace != nil && i%m.traceEvery() == 0 {
			m.trace.see(s, &x, m)
		}
		if closed || last {
			return m.record.end()
		}
		if in.braking > 0 && s.speed[forward] < standsMPS {
			return fmt.Sprintf("the bike stands after %.2f s", time)
		}
		m.step(s, &x, in, time)
	}
}

// braked is the braking force at a time.
func (in *scene) braked(time float64) float64 {
	if in.braking == 0 {
		return 0
	}
	return in.braking * min(time/in.rises, 1)
}

// How a step is divided where the road's direction changes at once.
const (
	turnedSin  = 0.04 // sine of a change within a step that no wheel rolling on one point or line of the road comes to
	turnRounds = 6    // halvings of the step in search of the change
)

// step moves a state by one step, from what acts at its beginning. Where a wheel gets from one face of the road to another, such as
// from the level to the edge of a bump, the force changes at once, which the method does not see within a step: it takes the steps
// before and after that apart.
func (m *Simulator) step(s *state, first *sample, in *scene, time float64) {
	whole := *s
	if !m.move4(&whole, first, in, time, m.stepS) {
		*s = whole
		return
	}
	before, low, high := *s, 0.0, m.stepS
	for range turnRounds {
		at := *s
		if middle := (low + high) / 2; m.move4(&at, first, in, time, middle) {
			high = middle
		} else {
			before, low = at, middle
		}
	}
	*s = before
	var x sample
	for _, part := range [2][2]float64{{low, high}, {high, m.stepS}} {
		m.forces(&x, s, &m.wheels, in.braked(time+part[0]))
		m.move4(s, &x, in, time+part[0], part[1]-part[0])
	}
}

// move4 moves a state by a time h, by four samples, from what acts at its beginning. It is true where the face of the road at a
// wheel on it has turned at once.
func (m *Simulator) move4(s *state, first *sample, in *scene, time, h float64) (turned bool) {
	var x sample
	sum := change{s.speed, first.accel, first.power}
	next := change{s.speed, first.accel, first.power}
	half := in.braked(time + h/2)
	for _, part := range [3]struct{ share, weight, braking float64 }{{0.5, 2, half}, {0.5, 2, half}, {1, 1, in.braked(time + h)}} {
		at := *s
		at.add(&next, h*part.share)
		m.forces(&x, &at, &m.wheels, part.braking)
		next = change{at.speed, x.accel, x.power}
		for i := range coordinates {
			sum.speed[i] += part.weight * next.speed[i]
			sum.accel[i] += part.weight * next.accel[i]
		}
		sum.power += part.weight * next.power
	}
	s.add(&sum, h/6)
	for i := range x.face {
		a, b := first.face[i], x.face[i]
		turned = turned || (first.load[i] > 0 || x.load[i] > 0) && math.Abs(a.x*b.z-a.z*b.x) > turnedSin
	}
	return turned
}

// change is how fast a state changes.
type change struct {
	speed, accel [coordinates]float64
	power        float64
}

func (s *state) add(c *change, times float64) {
	for i := range coordinates {
		s.at[i] += times * c.speed[i]
		s.speed[i] += times * c.accel[i]
	}
	s.lost += times * c.power
}
