package ride

import (
	"math"

	"forkfront/kinematics"
	"forkfront/objectives/fork"
	"forkfront/objectives/scalar"
)

// spring is the force of one shock as a strength times a shape of its compression, plus a constant:
// the strength is the rate of a coil, in N/mm, or the absolute pressure of an air spring, in MPa.
type spring[T kinematics.Scalar] struct {
	shock      *fork.Shock
	strength   T
	preload    T // mm
	start      T // length of the shock at top-out, mm; 0 where compressions are given
	atmosphere T // force of the atmosphere on the rod of an air spring, N; negative, since it compresses
}

func newSpring[T kinematics.Scalar](of *fork.Shock) spring[T] {
	s := spring[T]{shock: of, preload: kinematics.Lift[T](of.PreloadMM)}
	if of.Air != nil {
		s.atmosphere = kinematics.Lift[T](-s.area() * fork.AtmosphereMPa)
	}
	return s
}

func (s *spring[T]) area() float64 { return math.Pi / 4 * s.shock.Air.BoreMM * s.shock.Air.BoreMM }

// shape returns force per strength and its derivative, at a compression in mm.
func (s *spring[T]) shape(compression T) (force, rate T) {
	if s.shock.Air == nil {
		return compression + s.preload, 1
	}
	return s.chamber(compression)
}

// chamber is the shape of an air spring.
func (s *spring[T]) chamber(compression T) (force, rate T) {
	air := s.shock.Air
	length := kinematics.Lift[T](air.ChamberMM)
	ratio := scalar.Pow(length/(length-compression), air.Exponent)
	force = kinematics.Lift[T](s.area()) * ratio
	return force, force * kinematics.Lift[T](air.Exponent) / (length - compression)
}

// force of one shock and its rate.
func (s *spring[T]) force(compression T) (force, rate T) {
	if s.shock.Air == nil {
		return s.strength * (compression + s.preload), s.strength
	}
	f, r := s.chamber(compression)
	return s.strength*f + s.atmosphere, s.strength * r
}

// SpringForce is the force in N of all shocks together at a compression in mm.
func SpringForce(s *Ride[float64], compression float64) float64 {
	force, _ := s.spring.force(compression)
	return s.count * force
}

// SpringEnergy is the work in N·mm that compressing all shocks from top-out takes.
func SpringEnergy(s *Ride[float64], compression float64) float64 {
	air, k := s.Shock.Air, &s.spring
	if air == nil {
		return s.count * k.strength * compression * (compression/2 + k.preload)
	}
	length, more := air.ChamberMM, air.Exponent-1
	work := -math.Log1p(-compression / length)
	if more != 0 {
		work = math.Expm1(more*work) / more
	}
	return s.count * (k.strength*k.area()*length*work + k.atmosphere*compression)
}
