package spaceframe

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/fatigue"
	"forkfront/objectives/structure/frame"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// History is what acts on a fork during an event of the duty, or why that is not known.
type History struct {
	loads.DutyEvent
	Loads   []AxleLoad
	Missing string
}

// AxleLoad acts on a fork at one moment, in the fork frame: a force at the axle in N, and the brake's torque on the caliper's
// body in N·mm, positive from along to ahead, at a travel in mm.
type AxleLoad struct{ TravelMM, AlongN, AheadN, TorqueNMM float64 }

// channels are the parts of an AxleLoad.
const channels = 3

// fibres are how many fibres around a tube's end are followed, one of them where the largest bending moment of the event acts.
// Of smaller moments in other planes up to 1 − cos(π/16), 2 %, is missed.
const fibres = 16

// addHistory adds an event of the duty: the stress of each fibre at the ends of all tubes over the event, its cycles counted by
// rainflow, and the damage that they do. It is false where a frame is loose.
//
// The stress is a superposition of those of unit loads at top-out, sag and full travel with the shock locked, parabolic in the
// travel between. Beyond the travel that of its end counts.
func (pr *prover) addHistory(h *History) bool {
	p := pr.proof
	r := DutyResult{Load: h.Event, Cycles: h.Repeats}
	curve, missing := fatigue.Of(pr.z.Material.Name, pr.rules.Joint, pr.rules.WeldClass)
	if missing == "" {
		missing = h.Missing
	}
	if missing != "" {
		p.MissingDamage = missing
		p.Duty = append(p.Duty, r)
		return true
	}
	s := stressHistory{z: pr.z, loads: h.Loads, weights: make([][loads.Stances]float64, len(h.Loads)), signal: make([]float64, len(h.Loads))}
	for i := range h.Loads {
		s.weights[i] = between(pr.z, h.Loads[i].TravelMM)
	}
	for at := range loads.Stances {
		f := solved(pr.z, at)
		if f == nil {
			return false
		}
		s.frames[at] = f
		s.units[at] = f.unitLoads()
	}
	var rain fatigue.Rainflow
	for side := range 2 {
		for k := range pr.z.Members {
			if s.frames[loads.TopOut].tubes[side][k] < 0 {
				continue
			}
			worst := 0.0
			for end := range 2 {
				s.follow(side, k, end)
				for fibre := range fibres {
					if most := s.at(fibre); most > r.StressMPa {
						r.StressMPa, r.Part, r.Side = most, pr.z.Path.TubeName(k), sideNames[side]
					}
					worst = max(worst, fatigue.HistoryDamage(curve, pr.rules.Deviations, h.Repeats, rain.Count(s.signal)))
				}
			}
			pr.damage[side][k] += worst
			r.Damage = max(r.Damage, worst)
			p.Damage = max(p.Damage, pr.damage[side][k])
		}
	}
	p.Duty = append(p.Duty, r)
	return true
}

// unitLoads are the displacements under 1 N along, 1 N ahead, and 1 N·mm of brake torque.
func (f *solvedFrame) unitLoads() (all [channels]frame.Displacements[float64]) {
	state := f.z.AtStance[loads.TopOut].State // only a side load depends on it
	for i, a := range [channels]loads.Applied[float64]{{Force: plane.Vec[float64]{Along: 1}}, {Force: plane.Vec[float64]{Ahead: 1}}, {Couple: 1}} {
		all[i] = f.Solve(f.applying(&a, state))
	}
	return all
}

// between are the shares of the stances in what a fork is like at a travel, by the parabola through them.
func between(z *Fork[float64], travel float64) (share [loads.Stances]float64) {
	sag, full := structure.TravelAt(z.Sized, loads.AtSag), structure.TravelAt(z.Sized, loads.FullTravel)
	x := math.Min(math.Max(travel, 0), full)
	if !(sag > 0 && sag < full) {
		share[loads.FullTravel] = x / full
		share[loads.TopOut] = 1 - share[loads.FullTravel]
		return share
	}
	share[loads.TopOut] = (x - sag) * (x - full) / (sag * full)
	share[loads.AtSag] = x * (full - x) / (sag * (full - sag))
	share[loads.FullTravel] = x * (x - sag) / (full * (full - sag))
	return share
}

// stressHistory follows the stress at the ends of tubes over an event.
type stressHistory struct {
	z       *Fork[float64]
	loads   []AxleLoad
	weights [][loads.Stances]float64 // by sample
	frames  [loads.Stances]*solvedFrame
	units   [loads.Stances][channels]frame.Displacements[float64]
	ends    [][4]float64 // by sample, of the end that is followed: axial stress, bending about two axes, and torsion as √3 times its shear stress, MPa
	plane   float64      // angle of the fibre with the largest bending stress
	signal  []float64    // of one fibre, MPa
}

// follow prepares the stress of an end of a member's tube on one side.
func (s *stressHistory) follow(side, member, end int) {
	size := parts.TubeSection(&s.z.Rules.Tubes, s.z.Members[member].DiameterMM)
	var unit [loads.Stances][channels][4]float64
	for at, f := range s.frames {
		for i := range channels {
			on := f.Ends(f.tubes[side][member], s.units[at][i])
			by := on[6*end : 6*end+6]
			axial := by[0] / size.Area
			if end == 0 { // the force on its first end pushes where it is positive
				axial = -axial
			}
			unit[at][i] = [4]float64{axial, by[4] / size.Modulus, by[5] / size.Modulus, math.Sqrt(0.75) * by[3] / size.Modulus}
		}
	}
	s.ends = s.ends[:0]
	most := 0.0
	for k := range s.loads {
		l := &s.loads[k]
		var sum [4]float64
		for at := range loads.Stances {
			for i, load := range [channels]float64{l.AlongN, l.AheadN, l.TorqueNMM} {
				by := s.weights[k][at] * load
				for c := range sum {
					sum[c] += by * unit[at][i][c]
				}
			}
		}
		s.ends = append(s.ends, sum)
		if bending := math.Hypot(sum[1], sum[2]); bending > most {
			most, s.plane = bending, math.Atan2(sum[1], sum[2])
		}
	}
}

// at sets the signal to the stress of a fibre, that of the normal stress and torsion together (von Mises) with the sign of the
// normal stress, and returns its largest size.
func (s *stressHistory) at(fibre int) (most float64) {
	sin, cos := math.Sincos(s.plane + 2*math.Pi*float64(fibre)/fibres)
	for k := range s.ends {
		e := &s.ends[k]
		normal := e[0] + sin*e[1] + cos*e[2]
		s.signal[k] = math.Copysign(math.Hypot(normal, e[3]), normal)
		most = math.Max(most, math.Abs(s.signal[k]))
	}
	return most
}
