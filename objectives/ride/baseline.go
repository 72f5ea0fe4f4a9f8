package ride

import (
	"forkfront/kinematics/stance"
	"forkfront/objectives/fork"
)

// Baseline is the telescopic fork that a linkage would replace: the same travel and sag, and a linear spring
// along the steering axis.
type Baseline struct {
	Ride         *Ride[float64]
	SpringNPerMM float64 // along the axis; 0 where the fork has no sag
	BrakeDiveMM  float64 // 0 where it does not come to rest

	trails []float64 // by sample
}

// NewBaseline calculates the telescopic fork of a setting.
func NewBaseline(c *Setting) *Baseline {
	b := &Baseline{trails: make([]float64, c.Samples)}
	states := make([]stance.State[float64], c.Samples)
	for i := range states {
		c.Chassis.Telescopic(&states[i], nil, c.TravelMM*float64(i)/float64(c.Samples-1))
		b.trails[i] = states[i].TrailMM
	}
	s := &Ride[float64]{Setting: c, baseline: b, Shock: &fork.Shock{Count: 1, StrokeMM: c.TravelMM}, States: states, ReachedMM: c.TravelMM}
	b.Ride = s
	study(s, b)
	if s.Missing[NeedSag] == "" {
		b.SpringNPerMM = s.spring.strength
	}
	if s.Missing[NeedDive] == "" {
		b.BrakeDiveMM = s.dive
	}
	return b
}

// Solve finds the state of the baseline at any travel, as kinematics.Motion does for a linkage.
func (b *Baseline) Solve(dst *stance.State[float64], second *stance.Second[float64], travelMM float64) bool {
	b.Ride.Setting.Chassis.Telescopic(dst, second, travelMM)
	return true
}
