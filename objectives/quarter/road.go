package quarter

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/scalar"
)

// Road is a road of ISO 8608 with waviness 2, ridden at a steady speed.
type Road struct {
	Class      byte // 'A', smooth, to 'H'
	SpeedMPerS float64
}

// Classes of roads by ISO 8608, smoothest first.
const Classes = "ABCDEFGH"

// ReferenceWave is the spatial frequency in 1/m at which ISO 8608 states the roughness of a road.
const ReferenceWave = 0.1

// Roughness is the displacement power spectral density at 0.1/m in m³: the geometric mean of the class, 16·10⁻⁶ for A
// and four times as much for each class that follows.
func (r *Road) Roughness() float64 { return 16e-6 * float64(uint64(1)<<(2*(r.Class-'A'))) }

// intensity is the two-sided power spectral density of the vertical velocity of the road under the wheel, in m²/s: white,
// 2 π² n₀² G v.
func (r *Road) intensity() float64 {
	return 2 * math.Pi * math.Pi * ReferenceWave * ReferenceWave * r.Roughness() * r.SpeedMPerS
}

// spread is a variance of the model on a road as a function of the damping c: half of the road's intensity times
// (perDamping / c + withDamping · c).
type spread[T kinematics.Scalar] struct{ perDamping, withDamping T }

// variance at a damping, in the square of the quantity's unit.
func (s spread[T]) variance(damping T, on *Road) T {
	return kinematics.Lift[T](on.intensity()/2) * (s.perDamping*plane.Inverse(damping) + s.withDamping*damping)
}

// best is the damping with the smallest variance, in N·s/m.
func (s spread[T]) best() T { return kinematics.Sqrt(s.perDamping * plane.Inverse(s.withDamping)) }

// acceleration is the spread of that of the sprung mass, in m/s².
func (m *Model[T]) acceleration() spread[T] {
	total, perSprung := kinematics.Lift[T](m.SprungKG+m.UnsprungKG), kinematics.Lift[T](1/(m.SprungKG*m.SprungKG))
	return spread[T]{total * m.WheelNPerM * m.WheelNPerM * perSprung, kinematics.Lift[T](m.TyreNPerM) * perSprung}
}

// load is the spread of the force between tyre and road, in N.
func (m *Model[T]) load() spread[T] {
	total, sprung, unsprung := m.SprungKG+m.UnsprungKG, m.SprungKG, m.UnsprungKG
	k, tyre := m.WheelNPerM, m.TyreNPerM
	square := kinematics.Lift[T](total*total*total/(sprung*sprung)) * k * k
	linear := kinematics.Lift[T](2*tyre*unsprung*total/sprung) * k
	return spread[T]{
		square - linear + kinematics.Lift[T](tyre*tyre*unsprung),
		kinematics.Lift[T](total * total * tyre / (sprung * sprung)),
	}
}

// AccelerationRMS is the root mean square of the vertical acceleration of the sprung mass on a road, in m/s².
func AccelerationRMS[T kinematics.Scalar](m *Model[T], on *Road) T {
	return scalar.Root(m.acceleration().variance(m.DampingNSPerM, on))
}

// LoadRMS is the root mean square of the variation of the wheel load on a road, in N.
func LoadRMS[T kinematics.Scalar](m *Model[T], on *Road) T {
	return scalar.Root(m.load().variance(m.DampingNSPerM, on))
}

// StrokeRMS is the root mean square of the vertical motion of the wheel against the sprung mass on a road, in m.
func StrokeRMS[T kinematics.Scalar](m *Model[T], on *Road) T {
	return scalar.Root(spread[T]{perDamping: kinematics.Lift[T](m.SprungKG + m.UnsprungKG)}.variance(m.DampingNSPerM, on))
}

// BestForComfort is the damping with the least acceleration of the sprung mass on any road, in N·s/m.
func BestForComfort[T kinematics.Scalar](m *Model[T]) T { return m.acceleration().best() }

// BestForGrip is the damping with the least variation of the wheel load on any road, in N·s/m.
func BestForGrip[T kinematics.Scalar](m *Model[T]) T { return m.load().best() }
