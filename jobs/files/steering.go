package files

import (
	"math"

	"forkfront/jobs/files/document"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
)

// Tolerance of an axis through ball joints about that of the bike at top-out, in degrees and mm.
const (
	axisAngleDeg = 0.01
	axisOffsetMM = 0.01
)

// checkSteering compares the axis through the ball joints, if a concept has them, with the head angle and the offset
// of its bike.
func (c *ConceptFile) checkSteering(s *document.Source, m *mechanism.Mechanism) {
	lower, upper, ok := m.Balls()
	if !ok || !s.Has("points_mm."+m.Points[lower]) || !s.Has("points_mm."+m.Points[upper]) {
		return
	}
	layout := make([]kinematics.Vec[float64], len(m.Points))
	for name, p := range c.Points() {
		if i := m.Point(name); i >= 0 {
			layout[i] = kinematics.Vec[float64](p)
		}
	}
	chassis := c.Chassis()
	angle, offset := m.SteeringDeviation(&chassis, layout)
	angle *= 180 / math.Pi
	if !(math.Abs(angle) <= axisAngleDeg && math.Abs(offset) <= axisOffsetMM) {
		s.At("points_mm."+m.Points[lower], "the axis through %s and %s is at %.4g°, with the axle %.4g mm ahead of it; it must agree with the bike's head angle of %g° and offset of %g mm within %g° and %g mm: put both balls at 0 ahead",
			m.Points[lower], m.Points[upper], c.Bike.HeadAngleDeg+angle, c.Bike.ForkOffsetMM+offset, c.Bike.HeadAngleDeg, c.Bike.ForkOffsetMM, axisAngleDeg, axisOffsetMM)
	}
}

// checkSteering requires that both ball joints stay on the bike's steering axis.
func (jm *JobMechanism) checkSteering(s *document.Source, bounds string, m *mechanism.Mechanism) {
	lower, upper, ok := m.Balls()
	if !ok {
		return
	}
	for _, point := range []int{lower, upper} {
		name := m.Points[point]
		at := bounds + "." + name + ".ahead"
		if r := jm.BoundsMM[name].Ahead; s.Has(at) && (!r.Fixed() || math.Abs(r.Low) > axisOffsetMM/2) {
			s.At(at, "the steering axis runs through %s and must be the bike's at top-out; must be 0", name)
		}
	}
}
